import type { settings as english } from "../english/settings.ts";

/** Spanish: the settings dialog. */
export const settings: typeof english = {
  units: {
    open: (unit, reference) => `${unit} a ${reference}`,
    title: "Idioma, unidades y aspecto",
    intro:
      "Solo para este dispositivo. Lo que hay que ajustar queda en la unidad impresa en el manorreductor.",
    language: "Idioma",
    languageOfDevice: "como el dispositivo",
    flow: "Caudal",
    pressure: "Presión",
    temperature: "Temperatura",
    reference: "Los volúmenes se cuentan a",
    theme: "Aspecto",
    themes: { system: "como el dispositivo", light: "claro", dark: "oscuro" },
    references: {
      us: "70 °F, 14,696 psia",
      trade: "15 °C, 1 bar abs",
      iso: "15 °C, 1 atm",
      normal: "0 °C, 1 atm",
      metric20: "20 °C, 1 atm",
    },
    referenceNames: {
      us: "gases de EE. UU., uso comercial",
      trade: "comercio europeo de botellas",
      iso: "ISO 13443",
      normal: "litros normales",
      metric20: "métrico, 20 °C",
    },
    referenceNote: "1 atm son 101,325 kPa. El mismo gas puede contar hasta un 8 % distinto.",
    close: "Hecho",
  },
};
