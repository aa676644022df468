import type { shell as english } from "../english/shell.ts";
import { pluralsOf } from "../plural.ts";

const plural = pluralsOf("de");

/** German: what every page shares: navigation, times and ages, state of the data. */
export const shell: typeof english = {
  productName: "Leeward",
  nav: {
    label: "Seiten",
    floor: "Halle",
    bench: "Prüfstand",
    alarms: "Alarme",
    "look-back": "Rückblick",
    setup: "Einrichten",
    rack: "Flaschen",
    ledger: "Gasbuch",
    alarmsStanding: (n) => `Alarme (${n})`,
    skip: "Zum Inhalt springen",
    wall: "Wandansicht",
    leaveWall: "Wandansicht verlassen",
  },
  time: {
    today: "heute",
    underOneMinute: "unter 1 min",
    minutes: (n) => `${n} min`,
    minutesBounds: (a, b) => `${a} bis ${b} min`,
    minutesRange: (a, b) => `${a} – ${b} min`,
    hours: (n) => `${n} h`,
    hoursRange: (a, b) => `${a} – ${b} h`,
    hoursMinutes: (h, m) => `${h} h ${String(m).padStart(2, "0")}`,
    seconds: (n) => `${n} s`,
    days: (n) => plural(n, { one: `${n} Tag`, other: `${n} Tage` }),
    ago: (text) => `vor ${text}`,
    now: "jetzt",
  },
  state: {
    noCurrency: "Währung nicht eingestellt",
    live: "aktuell",
    connecting: "Verbindung wird aufgebaut …",
    notLive: "nicht aktuell",
    lostTitle: "Das Gateway antwortet nicht.",
    lostSince: (time) => `Seit ${time} ist hier nichts mehr aktuell; alle Werte unten sind alt.`,
    lostNever: "Es kam noch kein Wert an.",
    oldPage: (moment, age) =>
      `Zuletzt bekannt ${moment}, ${age}. Was sich seitdem geändert hat, steht hier nicht.`,
    asOf: (age) => `Stand ${age}`,
    old: (age) => `alt: ${age}`,
    noData: "noch keine Daten",
    virtual: "virtuell",
    virtualShop: "Virtuelle Plätze",
    virtualTitle: "Simulierte Plätze: Hier wird kein wirkliches Gas gemessen.",
    demoSpeed: (n) => `Vorführuhr läuft ${n}×`,
    starting: (what, percent) => `Das Gateway startet: ${what} (${percent} %).`,
    startingWith: {
      "opening the store": "der Speicher wird geöffnet",
      "reading what came since the last snapshot":
        "gelesen wird, was seit dem letzten Zwischenstand kam",
      "making up the virtual stations' past":
        "die Vergangenheit der virtuellen Plätze wird nachgestellt",
    },
    loading: "Das Gateway wird nach seinen Plätzen gefragt …",
    loadingPage: "Die Seite wird geholt …",
    loadAgain: "Neu laden",
    pageMissing:
      "Diese Seite konnte nicht geholt werden. Noch einmal laden, wenn das Gateway wieder da ist.",
  },
  span: { from: "Von", to: "Bis" },
  urgency: { now: "Jetzt", soon: "Bald", today: "Heute" },
};
