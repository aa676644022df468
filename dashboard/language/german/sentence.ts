import type { sentence as english } from "../english/sentence.ts";
import { pluralsOf } from "../plural.ts";

const plural = pluralsOf("de");

/** German: the one sentence of a station, on its tile and its page. */
export const sentence: typeof english = {
  sentence: {
    noDataYet: "Noch keine Daten.",
    noNode: "Diesem Platz ist kein Knoten zugeordnet.",
    noNodeAdvice: "Einen unter Einrichten zuweisen: Bis dahin wird hier nichts gemessen.",
    clockAhead: (ahead) => `Uhr des Knotens falsch: ${ahead} voraus.`,
    clockAheadAdvice:
      "Bis die Uhr stimmt, werden seine Messwerte abgewiesen: Den Knoten die Zeit der Werkstatt erreichen lassen, dann neu starten.",
    halfSetUp: "Die Einrichtung ist nicht fertig.",
    parts: {
      regulator: "der Druckminderer",
      flowDevice: "das Durchflussgerät",
      procedure: "was geschweißt wird",
    },
    notDescribed: (parts) =>
      `Noch nicht beschrieben: ${parts}. So lässt sich kein Durchfluss beurteilen.`,
    toSetup: "Einrichtung abschließen",
    oldTitle: (age) => `Keine frischen Daten; die letzten ${age}.`,
    lastKnown: (age) => `Zuletzt bekannt ${age}.`,
    oldAdvice: "Was hier steht, gilt vielleicht nicht mehr.",
    nodeOffline: "Der Knoten ist nicht erreichbar: Strom und Netzwerk prüfen.",
    flowUnknown: "Das Gas strömt; wie viel, ist nicht bekannt.",
    noWindow:
      "Das Gas strömt. Was diese Naht braucht, ist nicht eingestellt; ob es passt, lässt sich nicht sagen.",
    notJudged: "Das Gas strömt; ob es passt, lässt sich nicht sagen.",
    liquid: "Es ist noch flüssiges CO₂ da: Der Druck sagt nicht, wie viel.",
    verdict: {
      right: "Der Gasdurchfluss stimmt.",
      low: "Weniger Gas, als diese Naht braucht.",
      high: "Mehr Gas, als diese Naht braucht.",
      "near-low": "Der Gasdurchfluss liegt nahe am Mindestwert dieser Naht.",
      "near-high": "Der Gasdurchfluss liegt nahe am Höchstwert dieser Naht.",
    },
    off: "Das Gas ist aus.",
    next: {
      right: "Das Gas ist aus. Beim nächsten Start fließt, was diese Naht braucht.",
      low: "Das Gas ist aus. Beim nächsten Start käme zu wenig.",
      high: "Das Gas ist aus. Beim nächsten Start käme zu viel.",
      "near-low": "Das Gas ist aus. Der nächste Start liegt nahe am Mindestwert dieser Naht.",
      "near-high": "Das Gas ist aus. Der nächste Start liegt nahe am Höchstwert dieser Naht.",
    },
    setBefore: (reading, unit) =>
      `Vor dem Lichtbogen den Gastest drücken und ${reading} ${unit} einstellen.`,
    valveClosed: "Flaschenventil geschlossen.",
    valveClosedNote: "Der Inhalt gilt nach der letzten Messung bei offenem Ventil.",
    neverOpen: "Noch kein Gasdruck.",
    neverOpenNote:
      "Das Flaschenventil wurde hier noch nie offen gesehen: Es ist zu, oder die Sensoren sind nicht angebaut.",
    unknown: "Noch nichts Sicheres.",
    unknownNote: "Gerade gestartet, oder die Messwerte widersprechen sich.",
    silent: "Der Knoten schweigt.",
    more: (n) => plural(n, { one: `${n} weiterer`, other: `${n} weitere` }),
    since: (time) => `seit ${time}`,
    moreTitle: "Außerdem",
  },
};
