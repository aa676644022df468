import type { floor as english } from "../english/floor.ts";

/** German: the Floor and the wall view. */
export const floor: typeof english = {
  floor: {
    title: "Halle",
    empty: "Noch kein Platz.",
    emptyNote: "Ein Knoten, der sich meldet, erscheint hier; ein Tipp ordnet ihn zu.",
    unclaimedTitle: "Knoten ohne Platz",
    unclaimedNote: "Nur die rohen Drücke: Ohne Platz lässt sich nicht mehr sagen.",
    claim: "Knoten zuordnen",
    lastSample: (age) => `letzte Messung ${age}`,
    stood: (place: string, until: string) => `Stand bis ${until} an ${place}.`,
    speaksAgain: "Er meldet sich wieder.",
    asideTitle: "Beiseitegelegt",
    asideNote:
      "Ersetzt oder weggenommen und seither stumm. Meldet sich einer wieder, wird er als frei angeboten.",
    aside: (node: string, place: string, until: string, age: string) =>
      `${node} stand bis ${until} an ${place}; letzter Messwert ${age}.`,
    open: (name) => `${name} öffnen`,
    channels: {
      "cylinder-pressure": "Flasche",
      "line-pressure": "Leitung",
      "cylinder-temperature": "Flaschenwand",
      "regulator-temperature": "Druckminderer",
      "ambient-temperature": "Luft",
      arc: "Lichtbogen",
      "cylinder-mass": "Waage",
      "supply-voltage": "Versorgung",
    },
    yes: "ja",
    no: "nein",
    page: (n, of) => `${n} von ${of}`,
  },
};
