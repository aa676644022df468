import type { explain as english } from "../english/explain.ts";

/** German: words that explain a figure. */
export const explain: typeof english = {
  title: "Wie das zustande kommt",
  close: "Schließen",
  openStation: "Platz öffnen",
  from: "Aus",
  source: "Nach",
  notKnown: (why) => `Nicht bekannt: ${why}.`,
  asOf: (age) => `Neuester Messwert ${age}.`,
  interval: "Die Grenzen enthalten die Wahrheit in 19 von 20 Fällen.",
  sensor: (range, accuracy) =>
    `Sensor 0 bis ${range}, auf ±${accuracy} % seines Messbereichs genau.`,
  gauge: "Überdruck: Null ist die Luft ringsum.",
  fields: {
    flow: "Wahrer Durchfluss",
    next: "Durchfluss beim nächsten Gas-an",
    demand: "Was diese Naht braucht",
    indicated: "Was das Gerät zeigen sollte",
    "dial-to": "Was einzustellen ist",
    content: "Gas in der Flasche",
    usable: "Nutzbares Gas",
    left: "Restzeit mit Gas",
    clock: "Leer nach der Gewohnheit dieses Platzes",
    leak: "Ständiger Verlust",
    "cylinder-pressure": "Flaschendruck",
    "line-pressure": "Leitungsdruck",
    temperature: "Temperaturen",
  },
  readings: {
    "cylinder-pressure": "Flaschendruck",
    "line-pressure": "Leitungsdruck",
    "cylinder-temperature": "Flaschenwand",
    "regulator-temperature": "Druckminderer",
    arc: "Lichtbogen",
  },
  methods: {
    "flow-line":
      "Der Leitungsdruck treibt das Gas durch die Engstelle. Wie weit sie ist, wurde daraus gelernt, wie schnell sich die Flasche leert.",
    "flow-cylinder":
      "Wie schnell das Gas in der Flasche weniger wird, aus Druck und Temperatur. Das ist langsam, aber richtig.",
    "flow-both":
      "Leitungsdruck durch die Engstelle, schnell; gehalten gegen das Leeren der Flasche, langsam und richtig.",
    "flow-meter": "Ein Durchflussmesser sagt es.",
    "flow-none": "Es strömt kein Gas: Leitungs- und Flaschendruck stehen still.",
    unknown: "Es ist nicht bekannt.",
    next: "Der kommende Leitungsdruck, durch die Engstelle, wie sie beim letzten Gas-an war.",
    "demand-table":
      "Aus Verfahren, Gasdüse, Werkstoff, Strom und Zugluft, nach Tabellen der Schweißpraxis.",
    "demand-own": "Mit der Schweißanweisung dieses Platzes angegeben.",
    "demand-none": "Keine Schweißanweisung gesetzt, darum kein Fenster.",
    "indicated-tube":
      "Ein Schwebekörper spürt, wie dicht das Gas im Rohr ist: Die Anzeige folgt aus wahrem Durchfluss, Gas und Druck im Rohr gegen die, für die die Skala gemacht ist.",
    "indicated-gauge":
      "Die Skala zeigt einen Druck als Durchfluss ihres eigenen Gases durch ihre eigene Bohrung: Die Anzeige folgt aus dem Leitungsdruck.",
    "indicated-meter": "Der Messer zeigt den wahren Durchfluss des Gases, auf das er gestellt ist.",
    "dial-to":
      "Die Anzeige, bei der der wahre Durchfluss das Ziel trifft; das Nachgeben des Druckminderers dabei ist eingerechnet.",
    content:
      "Druck, Gastemperatur und Flaschenvolumen geben die Gasmenge, nach der Zustandsgleichung des wirklichen Gases.",
    "content-held":
      "Gehalten vom letzten Messwert mit offenem Flaschenventil; bei geschlossenem sagt der Druck nichts.",
    "content-liquid":
      "Solange ein Teil flüssig ist, sagt der Druck nichts über die Menge. Was entnommen wurde, wird vom Gefüllten abgezogen.",
    usable:
      "Was über dem Restdruck liegt und über dem Druck, bei dem der Druckminderer nicht mehr den nötigen Durchfluss gibt.",
    "left-now": "Nutzbares Gas geteilt durch den jetzigen Durchfluss.",
    "left-target":
      "Nutzbares Gas geteilt durch den Durchfluss, den diese Naht braucht; er ist höher als der jetzige.",
    clock: "Restzeit mit Gas gegen die Gaszeiten dieses Platzes nach Stunde und Wochentag.",
    leak: "Die Gasmenge, die verschwindet, während keines zum Brenner strömt, befreit von dem, was Wärme und Kälte mit dem Druck machen.",
    measured: "Gemessen von einem Sensor am Knoten dieses Platzes.",
    "measured-none": "Kein Sensor sagt es jetzt: keiner angebaut, gestört, oder es kam nichts an.",
  },
};
