import type { told as english } from "../english/told.ts";

/** German: what people have told, and what a reading can mean. */
export const told: typeof english = {
  told: {
    title: "Bisher gemeldet",
    purgeFor: (time) => `Formieren läuft seit ${time}; vor dem Schweißen den Sauerstoff messen.`,
    purgeMinutes: (time, of) =>
      `Formieren: ${time} von ${of}; vor dem Schweißen den Sauerstoff messen.`,
    purgeVolumes: (passed) =>
      `${passed} Füllungen durchgeströmt; vor dem Schweißen den Sauerstoff messen.`,
    purgeVolumesOf: (passed, of) =>
      `${passed} von ${of} Füllungen durchgeströmt; weiter formieren.`,
    purgeProgress: "Stand des Formierens",
    job: (job) => `Auftrag ${job}`,
    jobNoNumber: "Ein Auftrag ohne Nummer",
    gasless: "Kein Gas nötig",
    welder: (name) => `Schweißer ${name}`,
    since: (time) => `seit ${time}`,
    unassigned:
      "Kein Auftrag gemeldet: Das Gas bleibt ohne Zuordnung, bis jemand es einem Auftrag gibt.",
    code: "Code scannen oder eintippen",
    codeNote:
      "P vor einer Anweisung, J vor einem Auftrag, W vor einem Schweißer: P:WPS-12 J:4711 W:Anna. Ein Handscanner, der tippt, genügt.",
    codeScan: "Scannen",
    codeNoCamera: "Codes lassen sich eintippen. Die Kamera braucht diese Seite über https:",
    codeCameraHow: "so geht es",
    codeUse: "Übernehmen",
    codeUnknown: (code) =>
      `Eine Anweisung ${code} ist hier noch nicht bekannt. Unten wählen; danach ist sie unter diesem Code bekannt.`,
    codeBad: "Nichts in diesem Code ist bekannt. Er beginnt mit P:, J: oder W:.",
    welderName: "Schweißer (darf leer bleiben)",
    undo: "Wechsel zurücknehmen",
    undoNote: (until) =>
      `Ein Wechsel ist gemeldet. War es ein Versehen, lässt er sich bis ${until} zurücknehmen.`,
    undone: "Zurückgenommen: Die Flasche davor zählt wieder.",
    inOrder: "Das Wahrscheinlichste zuerst:",
    thenFlow: (flow) => `Dann ist der wahre Durchfluss ${flow}.`,
    lost: (flow) => `Etwa ${flow} gehen vor dem Gerät verloren.`,
    likeGas: (gas) => `Dazu würde ${gas} passen.`,
    likeTube: (pressure) => `Dazu würde ein Messrohr für ${pressure} passen.`,
    likeTubeGas: (gas) => `Dazu würde eine Skala für ${gas} passen.`,
    causes: {
      "read-at": {
        name: "An einer anderen Stelle des Schwebekörpers abgelesen.",
        look: "Eine halbe Kugel ist leicht ein halber Liter.",
      },
      tube: {
        name: "Ein Messrohr oder eine Skala für ein anderes Gas oder einen anderen Druck.",
        look: "Den Aufdruck mit der Beschreibung vergleichen.",
      },
      gas: {
        name: "Ein anderes Gas als beschrieben.",
        look: "Anhalten und das Etikett der Flasche lesen; es zählt, nicht die Farbe.",
      },
      tilt: {
        name: "Ein Messrohr, das nicht senkrecht steht.",
        look: "Lotrecht hängen und noch einmal ablesen.",
      },
      stuck: {
        name: "Ein Schwebekörper, der klemmt.",
        look: "Gastest drücken und sehen, ob er sich bewegt; an das Rohr klopfen.",
      },
      leak: {
        name: "Ein Leck vor dem Gerät.",
        look: "Lecksuchmittel an jede Verbindung bis zum Gerät, nie eine Flamme.",
      },
      gauge: {
        name: "Ein Manometer, das nicht mehr stimmt.",
        look: "Ohne Druck muss der Zeiger am Anschlag stehen.",
      },
      "meter-gas": {
        name: "Ein Messer, der auf ein anderes Gas gestellt ist.",
        look: "Seine Einstellung mit dem Etikett der Flasche vergleichen.",
      },
      pressures: {
        name: "Leewards eigener Wert stimmt nicht.",
        look: "Ein verstellter Sensor oder eine falsch beschriebene Flasche: Ein Test auf dem Prüfstand klärt es.",
      },
    },
  },
};
