import type { claim as english } from "../english/claim.ts";

/** German: claiming a node. */
export const claim: typeof english = {
  claim: {
    title: (node) => `Knoten ${node} zuordnen`,
    toExisting: "Er gehört zu einem Platz, den es schon gibt",
    toNew: "Es ist ein neuer Platz",
    station: "Platz",
    replaces: (node) => `hat jetzt ${node}`,
    noNode: "hat keinen Knoten",
    name: "Wie der Platz genannt wird",
    namePlaceholder: "Slip 3",
    gas: "Gas auf dem Etikett",
    cylinder: "Flasche",
    waterVolume: "Rauminhalt, L (auf der Schulter eingeschlagen)",
    filledBar: "Fülldruck bei 15 °C, bar",
    filledKg: "Füllung, kg",
    residual: "In der Flasche lassen, bar",
    device: "Durchflussgerät",
    devices: {
      "variable-area": "Messrohr mit Schwebekörper",
      "orifice-gauge": "Manometer mit Durchflussskala und Staudüse",
      metered: "Messgerät für den wahren Durchfluss",
    },
    unit: "Aufgedruckte Einheit",
    scaleMax: "Oberes Ende der Skala",
    scaleBar: "Druck, der auf dem Messrohr steht, bar",
    dialPoint: "Ein Punkt der Skala: bei diesem Druck (bar)",
    dialReading: "zeigt sie diesen Durchfluss",
    delivery: "Leitungsdruck bei strömendem Gas, bar",
    line: "Ein Sensor in der Leitung ist eingebaut",
    cylinderRange: "Messbereich des Flaschensensors, bar",
    lineRange: "Messbereich des Leitungssensors, bar",
    process: "Was geschweißt wird",
    processes: { GTAW: "WIG", GMAW: "MIG/MAG", "FCAW-G": "Fülldraht mit Gas" },
    cup: "Gasdüsennummer",
    nozzle: "Gasdüse, Innendurchmesser, mm",
    label: "Das Etikett der Flasche entscheidet: Farben sind von Ort zu Ort verschieden.",
    save: "Zuordnen",
    cancel: "Abbrechen",
    later:
      "Alles lässt sich später verfeinern; was fehlt, macht die Werte weiter, aber nicht falsch.",
    conflict:
      "Jemand anderes hat diesen Platz inzwischen geändert. Bitte noch einmal öffnen und ansehen.",
    badName: "Der Name braucht Buchstaben oder Ziffern.",
  },
};
