import type { settings as english } from "../english/settings.ts";

/** German: the settings dialog. */
export const settings: typeof english = {
  units: {
    open: (unit, reference) => `${unit} bei ${reference}`,
    title: "Sprache, Einheiten und Aussehen",
    intro:
      "Nur für dieses Gerät. Was einzustellen ist, bleibt in der Einheit, die auf dem Druckminderer steht.",
    language: "Sprache",
    languageOfDevice: "wie das Gerät",
    flow: "Durchfluss",
    pressure: "Druck",
    temperature: "Temperatur",
    reference: "Gasmengen gelten bei",
    theme: "Aussehen",
    themes: { system: "wie das Gerät", light: "hell", dark: "dunkel" },
    references: {
      us: "70 °F, 14,696 psia",
      trade: "15 °C, 1 bar abs",
      iso: "15 °C, 1 atm",
      normal: "0 °C, 1 atm",
      metric20: "20 °C, 1 atm",
    },
    referenceNames: {
      us: "Gashandel USA",
      trade: "Flaschenhandel Europa",
      iso: "ISO 13443",
      normal: "Normliter",
      metric20: "metrisch, 20 °C",
    },
    referenceNote: "1 atm sind 101,325 kPa. Dasselbe Gas zählt bis zu 8 % verschieden.",
    close: "Fertig",
  },
};
