import type { leakTest as english } from "../english/leak-test.ts";

/** German: the ten-minute leak test on the Station page. */
export const leakTest: typeof english = {
  title: "Dichtheitsprüfung",
  intro:
    "Gas wird eingeschlossen und zehn Minuten beobachtet. Was verloren geht, zeigen die Drücke, bereinigt um das, was Wärme und Kälte mit ihnen machen.",
  safety:
    "Lecks mit Lecksuchmittel suchen, nie mit einer Flamme. Ausgetretenes Gas verdrängt die Luft: kleine Räume und Gruben lüften. Die örtlichen Vorschriften gehen vor.",
  steps: {
    torch:
      "Den Brenner schließen; bis zum Ende der Prüfung schweißt niemand und drückt niemand den Gastest.",
    torches: "Alle Brenner an dieser Versorgung schließen: Ihr Gas zählte sonst als Leck.",
    valve: "Das Flaschenventil schließen. Das Gas in Druckminderer und Schlauch lassen.",
    shut: "Auch den Druckminderer schließen: die Stellschraube herausdrehen, bis sie frei läuft, oder das Ventil am Ausgang schließen.",
    open: "Den Druckminderer lassen, wie er ist.",
    start: "Auf Start drücken und elf Minuten nichts berühren.",
  },
  regulator: {
    label: "Der Druckminderer ist",
    shut: "auch geschlossen",
    shutNote: "nennt die undichte Seite",
    open: "offen gelassen",
    openNote: "zeigt ein Leck, kaum die Seite",
  },
  now: "Jetzt eingeschlossen",
  cylinderSide: "Flaschenseite",
  lineSide: "Leitung",
  lowPressure:
    "Vor dem Druckminderer steht kaum Druck: Diese Seite lässt sich nicht prüfen. Das Flaschenventil langsam öffnen, dabei seitlich stehen, und wieder schließen.",
  lowLine: "In der Leitung steht kaum Druck: Ein Leck darin würde sich nicht zeigen.",
  gasOn: "Jetzt strömt Gas. Zuerst den Brenner schließen.",
  stale: "Es gibt keine frischen Messwerte: Die Prüfung lässt sich nicht beobachten.",
  start: "Prüfung starten",
  giveUp: "Prüfung abbrechen",
  settling: (left) => `Das Gas beruhigt sich. Noch ${left}; nichts berühren.`,
  running: (left) => `Die Prüfung läuft. Noch ${left}; nichts berühren.`,
  leaveIn:
    "Das Gas in Druckminderer und Schlauch lassen, bis sie vorbei ist, auch wenn eine Erinnerung unten bittet, es abzulassen. Wird etwas dringend, geht das vor: Es beendet die Prüfung.",
  progress: "Stand der Dichtheitsprüfung",
  of: (moment) => `Dichtheitsprüfung, ${moment}`,
  found: {
    cylinder: "Ein Leck zwischen Flaschenventil und Sitz des Druckminderers.",
    line: "Ein Leck in der Leitung, zwischen Druckminderer und Brenner.",
    both: "Ein Leck auf beiden Seiten des Druckminderers.",
    unknown: "Ein Leck. Auf welcher Seite, lässt sich nicht sagen.",
  },
  none: {
    both: "Kein Leck gefunden, auf keiner Seite des Druckminderers.",
    cylinder:
      "Kein Leck gefunden zwischen Flaschenventil und Sitz des Druckminderers. Die Leitung wurde nicht geprüft.",
    line: "Kein Leck in der Leitung gefunden. Die Flaschenseite wurde nicht geprüft.",
  },
  sides: {
    cylinder: "Flaschenventil bis Sitz des Druckminderers",
    line: "Druckminderer bis Brenner",
  },
  notJudged: "nicht beurteilt",
  loses: (rate, low, high) => `${rate} cm³/min (95 %: ${low} bis ${high})`,
  aDay: (litres) => `etwa ${litres} L am Tag`,
  smallest: (rate) => `Ein Leck von mehr als ${rate} cm³/min wäre gefunden worden.`,
  reference: "cm³ bei 20 °C und 101,325 kPa.",
  why: {
    "gas-on":
      "Während der Prüfung strömte Gas. Waren alle Brenner geschlossen, ist dieser Fluss das Leck: lüften und danach suchen.",
    "valve-opened": "Das Flaschenventil wurde vor dem Ende geöffnet.",
    "cylinder-changed": "Die Flasche wurde gewechselt.",
    "too-few-readings": "Es kamen zu wenige Messwerte.",
    "no-pressure": "Es war kein Druck da, der hätte beobachtet werden können.",
    ended: "Sie wurde abgebrochen.",
  },
  void: "Die Prüfung sagt über Lecks nichts aus, weder Gutes noch Schlechtes.",
  again: "Noch einmal prüfen",
  cautions: {
    "no-line-sensor":
      "Die Leitung wurde nicht beurteilt: Kein Leitungssensor liest sie vor der Drossel.",
    "regulator-open":
      "Der Druckminderer war offen und speist die Leitung: Die Flaschenseite fällt, gleich welche Seite undicht ist. Ist auch der Druckminderer geschlossen, nennt die Prüfung die Seite.",
    "line-draws-high-side":
      "Der Druckminderer war offen: Eine undichte Leitung zieht an der Flaschenseite, die dicht sein kann. Ist auch der Druckminderer geschlossen, spricht jede Seite für sich.",
    "volume-not-described":
      "Das Volumen vor dem Sitz des Druckminderers ist in der Einrichtung nicht beschrieben: Der Verlust dort kann um die Hälfte größer oder kleiner sein.",
    "no-temperature":
      "Keine Temperatur gemessen. Was Abkühlung vom Druck nimmt, sieht wie ein Leck aus, und Erwärmung verdeckt eines; das Intervall sagt es.",
    "high-side-empty":
      "Die Seite der Flasche hat ihren Druck von selbst ganz verloren. Bei geschlossenem Flaschenventil und Brenner ist das ein Leck.",
    "high-side-without-pressure":
      "Vor dem Druckminderer stand kaum Druck: Diese Seite wurde nicht geprüft.",
    "line-without-pressure": "In der Leitung stand kaum Druck: Sie wurde nicht geprüft.",
    "valve-taken-as-closed":
      "Das gilt nur, wenn das Flaschenventil wirklich geschlossen war: Eine offene Flasche hält ihre Seite unter Druck und verdeckt ein Leck.",
  },
  next: {
    found:
      "Die Verbindungen dieser Seite mit Lecksuchmittel benetzen; Blasen zeigen die Stelle. Nur drucklos nachziehen.",
    none: "Das Flaschenventil langsam öffnen, dabei seitlich stehen. Wurde die Schraube gedreht, neu einstellen.",
  },
};
