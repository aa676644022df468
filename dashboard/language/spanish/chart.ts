import type { chart as english } from "../english/chart.ts";
import { pluralsOf } from "../plural.ts";

const plural = pluralsOf("es");

/** Spanish: history charts. */
export const chart: typeof english = {
  chart: {
    title: "Historial",
    span: "Periodo",
    spans: {
      "1h": "1 hora",
      "8h": "8 horas",
      "1d": "1 día",
      "1w": "1 semana",
      "1y": "1 año",
    },
    flow: "Caudal",
    cylinder: "Presión de la botella",
    line: "Presión de línea",
    lineNames: { flow: "real", indicated: "aparato", cylinder: "botella", line: "línea" },
    loading: "Recuperando …",
    failed: "No se ha podido recuperar el historial.",
    empty: "No se registró nada en este periodo.",
    gaps: (n) =>
      n === 0
        ? ""
        : plural(n, { one: `${n} hueco en los datos.`, other: `${n} huecos en los datos.` }),
    highest: "Donde el gas se cerró dentro de un paso, se dibuja el caudal más alto de ese paso.",
    describe: (from, to) =>
      `Gráfico de caudal y presiones, de ${from} a ${to}. Las flechas lo mueven, más y menos cambian el periodo, Fin lleva a ahora.`,
    earlier: "Antes",
    later: "Después",
    closer: "Acercar",
    wider: "Alejar",
    now: "Ahora",
    move: "Mover el gráfico",
    between: (from, to) => `${from} a ${to}`,
    needed: "necesario",
    needNote: "La banda es lo que necesita la soldadura actual.",
    envelope: "El borde sombreado va del valor más bajo al más alto de cada paso.",
    also: (titles) => `; ${titles}`,
    at: (time) => `hora: ${time}`,
    none: "sin datos",
    off: "parado",
  },
};
