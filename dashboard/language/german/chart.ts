import type { chart as english } from "../english/chart.ts";
import { pluralsOf } from "../plural.ts";

const plural = pluralsOf("de");

/** German: history charts. */
export const chart: typeof english = {
  chart: {
    title: "Verlauf",
    span: "Zeitraum",
    spans: {
      "1h": "1 Stunde",
      "8h": "8 Stunden",
      "1d": "1 Tag",
      "1w": "1 Woche",
      "1y": "1 Jahr",
    },
    flow: "Durchfluss",
    cylinder: "Flaschendruck",
    line: "Leitungsdruck",
    lineNames: { flow: "wahr", indicated: "Gerät", cylinder: "Flasche", line: "Leitung" },
    loading: "Wird geholt …",
    failed: "Der Verlauf konnte nicht geholt werden.",
    empty: "In diesem Zeitraum wurde nichts aufgezeichnet.",
    gaps: (n) =>
      n === 0
        ? ""
        : plural(n, { one: `${n} Lücke in den Daten.`, other: `${n} Lücken in den Daten.` }),
    highest:
      "Wo das Gas innerhalb eines Schritts geschlossen wurde, ist dessen höchster Durchfluss gezeichnet.",
    describe: (from, to) =>
      `Kurve von Durchfluss und Drücken, ${from} bis ${to}. Pfeiltasten verschieben sie, Plus und Minus ändern den Zeitraum, Ende führt zu jetzt.`,
    earlier: "Früher",
    later: "Später",
    closer: "Näher",
    wider: "Weiter",
    now: "Jetzt",
    move: "Kurve verschieben",
    between: (from, to) => `${from} bis ${to}`,
    needed: "nötig",
    needNote: "Das Band ist, was die jetzige Naht braucht.",
    envelope: "Der schattierte Rand reicht vom niedrigsten zum höchsten Wert jedes Schritts.",
    also: (titles) => `; ${titles}`,
    at: (time) => `um ${time}`,
    none: "keine Daten",
    off: "aus",
  },
};
