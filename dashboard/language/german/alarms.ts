import type { alarms as english } from "../english/alarms.ts";

/** German: conditions in a few words, and "I have seen it". */
export const alarms: typeof english = {
  seen: {
    button: "Ich habe es gesehen",
    title: "Ich habe es gesehen",
    note: "Es bleibt auf der Seite, solange es gilt; es wird nur nicht mehr an andere weitergegeben.",
    name: "Ihr Name",
    by: (name, time) => `gesehen von ${name}, ${time}`,
  },
  conditions: {
    "under-shielding": "Zu wenig Gas.",
    "over-flow": "Mehr Gas, als die Naht braucht.",
    "arc-without-gas": "Lichtbogen ohne Gas.",
    "runs-out-soon": "Die Flasche reicht nicht.",
    "cylinder-low": "Flasche geht zur Neige.",
    "cylinder-empty": "Flasche leer.",
    "reserve-in-use": "Die Reserve ist in Gebrauch.",
    "trapped-line-pressure": "Druck in der Leitung eingeschlossen.",
    "line-pressure-high": "Leitungsdruck zu hoch.",
    "regulator-creep": "Der Druckminderer schließt nicht dicht.",
    "regulator-icing": "Der Druckminderer vereist.",
    "back-pressure-changed": "Der Gegendruck hat sich geändert.",
    leak: "Gas tritt aus.",
    "gas-left-on": "Das Gas strömt, und niemand schweißt.",
    "reading-shift": "Die Einstellung wurde verdreht, oder das Gerät verhält sich anders.",
    "wrong-gas": "Das ist vielleicht das falsche Gas.",
    "sensor-fault": "Ein Sensor ist gestört.",
    "calibration-overdue": "Die Kalibrierung ist überfällig.",
    "node-silent": "Der Knoten schweigt.",
    "node-clock-wrong": "Die Uhr des Knotens geht falsch.",
    "node-config-refused": "Der Knoten hat seine Einstellungen abgelehnt.",
    "node-supply-low": "Die Versorgungsspannung des Knotens ist niedrig.",
    "nobody-reachable": "Niemand ist erreichbar.",
  },
};
