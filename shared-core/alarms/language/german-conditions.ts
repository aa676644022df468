import type { ConditionWords } from "./say.ts";

/** Why each alarm exists, in German. */
export const germanConditions: Readonly<Record<string, ConditionWords>> = {
  "under-shielding": {
    title: "Zu wenig Schutzgas",
    cause:
      "Durchfluss zu niedrig eingestellt oder an der falschen Stelle abgelesen, Leitungsdruck unter dem der Skala, eine Flasche kurz vor leer, ein Druckminderer, der nachlässt oder vereist.",
    consequence:
      "Luft erreicht das Schweißbad: Poren, Oxidation, eine verdorbene Wolframelektrode, Nacharbeit.",
    operatorAction:
      "Bei nächster Gelegenheit anhalten und das Durchflussgerät auf den angegebenen Wert stellen; die Flasche wechseln, wenn der Druckminderer den Durchfluss nicht mehr hält.",
    timeToRespond: "Vor der nächsten Naht; innerhalb von 1 min.",
    limit:
      "Wahrer Durchfluss mit 95 % Sicherheit unter dem Mindestwert der Schweißaufgabe, bei strömendem Gas.",
  },
  "over-flow": {
    title: "Zu viel Schutzgas",
    cause:
      "Durchfluss zu hoch eingestellt, oder an einer fast leeren Flasche hochgedreht und nicht zurückgestellt, Leitungsdruck über dem der Skala.",
    consequence: "Gas wird verschwendet; ein verwirbelter Strahl zieht Luft in die Naht.",
    operatorAction: "Das Durchflussgerät auf den angegebenen Wert zurückdrehen.",
    timeToRespond: "Innerhalb der Schicht.",
    limit:
      "Wahrer Durchfluss mit 95 % Sicherheit über dem Höchstwert der Schweißaufgabe, bei strömendem Gas.",
  },
  "arc-without-gas": {
    title: "Schweißen ohne Gas",
    cause:
      "Flaschenventil geschlossen, Flasche leer, ein Gasventil, das nicht öffnet, ein abgerutschter Schlauch; oder ein Auftrag ohne Gas, der nicht gemeldet wurde.",
    consequence:
      "Die Naht entsteht an der Luft: Sie muss ausgeschliffen werden; Wolframelektrode und Gasdüse leiden.",
    operatorAction:
      "Den Lichtbogen abbrechen, das Gas öffnen. Braucht der Auftrag kein Gas (Stabelektrode, Fugenhobeln, selbstschützender Draht), dies melden.",
    timeToRespond: "Sofort.",
    limit:
      "Lichtbogen, während kein Gas strömt oder mit 95 % Sicherheit weniger als ein Viertel des Mindestwerts. Nur wo Lichtbogensignal und Leitungssensor eingebaut sind.",
  },
  "runs-out-soon": {
    title: "Gas geht bald zu Ende",
    cause: "Die Flasche geht beim jetzigen oder beim Zieldurchfluss zu Ende.",
    consequence: "Das Gas endet mitten in einer Naht.",
    operatorAction:
      "Jetzt eine volle Flasche holen; keine Naht beginnen, die länger als die angegebene Zeit dauert.",
    timeToRespond:
      "So lange, wie ein Flaschenwechsel hier dauert: die Wechselzeit des Platzes, sonst 10 min.",
    limit:
      "Mehr als 5 % Wahrscheinlichkeit, dass das Gas innerhalb der Wechselzeit und der laufenden Naht endet, und das erwartete Ende ist näher als 40 min oder vier Wechselzeiten, was länger ist; oder ein gemeldeter Auftrag braucht mehr, als da ist.",
  },
  "cylinder-low": {
    title: "Flasche geht zur Neige",
    cause: "Ein Viertel des Inhalts ist übrig oder weniger als ein Tagesverbrauch.",
    consequence: "Ohne volle Flasche im Lager steht die Arbeit, wenn diese leer ist.",
    operatorAction: "Eine volle bereitstellen oder bestellen.",
    timeToRespond: "Innerhalb des Tages.",
    limit:
      "Inhalt mit 80 % Sicherheit unter 25 % oder unter einem Tagesverbrauch (höchstens eine halbe Flasche).",
  },
  "cylinder-empty": {
    title: "Flasche leer",
    cause: "Der Flaschendruck liegt unter dem Restdruck, der darin bleiben soll.",
    consequence:
      "Der Druckminderer hält den Durchfluss nicht mehr; unter Umgebungsdruck gelangen Luft und Feuchte hinein.",
    operatorAction: "Anhalten, das Flaschenventil schließen, die Flasche wechseln.",
    timeToRespond: "Jetzt, vor der nächsten Naht.",
    limit:
      "Flaschendruck mit 80 % Sicherheit unter dem Restdruck, und der Inhalt stimmt überein. Ein geschlossenes, entlastetes Ventil ist nicht leer.",
  },
  "reserve-in-use": {
    title: "Reserve in Gebrauch",
    cause:
      "Die Hauptseite ist leer oder geschlossen, und die Umschaltung ist auf die Reserve gegangen.",
    consequence: "Endet auch die Reserve, stehen alle Plätze dieser Versorgung.",
    operatorAction:
      "Die leere Seite wechseln, dann die Umschaltung zurückstellen, falls das von Hand geschieht.",
    timeToRespond: "Innerhalb der Schicht.",
    limit: "Die Reserveseite der Versorgung speist.",
  },
  "trapped-line-pressure": {
    title: "Druck in der Leitung geblieben",
    cause:
      "Das Flaschenventil wurde geschlossen, die Leitung aber nicht entlastet, oder Sonne oder eine warme Halle heizt eine abgesperrte Leitung.",
    consequence:
      "Schlauch, Manometer und Druckminderer bleiben belastet; Wärme erhöht den Druck weiter, und eine unter Druck geöffnete Kupplung kann verletzen.",
    operatorAction:
      "Das Flaschenventil schließen, die Leitung auf 0 entlasten, die Stellschraube herausdrehen.",
    timeToRespond: "Vor dem Gehen; innerhalb von 30 min, wo Wärme ihn bis zur Grenze bringt.",
    limit:
      "Flaschenventil geschlossen und mehr als 0,3 bar in der Leitung; oder die Vorhersage für die heißeste Stunde des Tages, allein durch Wärme, erreicht 90 % der Grenze der Leitung; oder ihr Anstieg ist in 30 min dort.",
  },
  "line-pressure-high": {
    title: "Leitungsdruck nahe der Grenze",
    cause:
      "Ein undichter Sitz, ein zu hoch eingestellter Druckminderer, Wärme auf einer abgesperrten Leitung oder CO2-Schnee, der zu Gas wird.",
    consequence:
      "Ein Schlauch, ein Manometer oder ein Druckminderer kann bersten; eine Abblaseeinrichtung kann öffnen.",
    operatorAction: "Abstand halten, das Flaschenventil schließen, die Leitung entlasten.",
    timeToRespond: "Innerhalb von 10 min, sofort, wo die Grenze erreicht ist.",
    limit:
      "Leitungsdruck bei 95 % des Höchsten, das Druckminderer, Schlauch und Brenner sehen dürfen; oder auf dem Weg dorthin innerhalb von 20 min mit 95 % Sicherheit, dass er steigt, gleich wodurch (ab 120 s nach dem Schließen des Gases).",
  },
  "regulator-creep": {
    title: "Druckminderer lässt Gas durch",
    cause:
      "Ein schmutziger oder abgenutzter Sitz, der bei geschlossenem Brenner Gas durchlässt, oder CO2-Schnee in einem kalten Druckminderer, der zu Gas wird.",
    consequence:
      "Die Leitung steigt bis zu ihrer Grenze oder bis zum Flaschendruck: Schlauch oder Manometer kann bersten.",
    operatorAction:
      "Das Flaschenventil schließen, die Leitung entlasten; steigt sie bei geschlossenem Ventil wieder, den Druckminderer außer Betrieb nehmen.",
    timeToRespond:
      "Innerhalb der Stunde; innerhalb von 10 min, wo der Anstieg die Grenze erreicht.",
    limit:
      "Die ruhende Leitung steigt mit 95 % Sicherheit um 0,005 bar/min schneller, als Wärme erklärt, ab 120 s nach dem Schließen des Gases. Am Tag darf Sonne auf dem Schlauch 60 K in der Stunde erklären. Solange ein kaltes Gehäuse taut, nur über beiden Grenzen der Wärme.",
  },
  "regulator-icing": {
    title: "Druckminderer droht zu vereisen",
    cause:
      "Mehr Durchfluss, als das Gehäuse erwärmen kann: CO2 und Mischgase kühlen es beim Entspannen unter den Gefrierpunkt, feuchte Luft gefriert daran, CO2 kann innen zu Schnee werden.",
    consequence:
      "Der Durchfluss schwankt oder setzt mitten in einer Naht aus; Schnee, der innen bleibt, hebt später den Leitungsdruck.",
    operatorAction:
      "Pause machen oder den Durchfluss senken; für solche Durchflüsse einen Gasvorwärmer oder eine zweite Flasche vorsehen.",
    timeToRespond: "Einige Minuten.",
    limit:
      "Mehr als 30 % Wahrscheinlichkeit, dass die Lieferung beim jetzigen Durchfluss um 5 % fällt; oder, wo nur die Gehäusetemperatur bekannt ist, eine Vorhersage unter 0 °C.",
  },
  "back-pressure-changed": {
    title: "Schlauch oder Brenner verändert",
    cause:
      "Höher: Gasdüse oder Gasverteiler mit Spritzern zugesetzt, ein geknickter Schlauch. Niedriger: eine gerissene Dichtung, ein abgerutschter oder beschädigter Schlauch, eine fehlende Gasdüse.",
    consequence: "Das Gas, das den Druckminderer verlässt, erreicht die Naht nicht, wie es soll.",
    operatorAction: "Gasdüse, Gasverteiler, Brennerdichtungen und Schlauch ansehen.",
    timeToRespond: "Vor der nächsten Naht.",
    limit:
      "Schlauchdruck bei diesem Durchfluss mit 95 % Sicherheit mehr als 25 % neben dem Gewohnten. Braucht einen Sensor hinter dem Durchflussgerät.",
  },
  leak: {
    title: "Gas tritt aus",
    cause:
      "Eine lose Verschraubung, eine abgenutzte Dichtung, ein rissiger Schlauch oder ein Brennerventil, das nicht ganz schließt.",
    consequence:
      "Die Flasche leert sich unbemerkt; in einem kleinen oder engen Raum verdrängt das Gas die Luft.",
    operatorAction:
      "Das Flaschenventil schließen, wenn nicht geschweißt wird; das Leck mit Lecksuchmittel suchen, nie mit einer Flamme.",
    timeToRespond: "Innerhalb des Tages; sofort, wo die Luft des Raums in Gefahr ist.",
    limit:
      "Verlust mit 99 % Sicherheit über 0,02 L/min, während nichts strömt. Dringend, wo der gut durchmischte Raum auf 19,5 % Sauerstoff fallen oder 0,5 % oder 3 % CO2 erreichen könnte oder der Platz ein enger Raum ist.",
  },
  "gas-left-on": {
    title: "Gas offen gelassen",
    cause:
      "Ein vergessenes Formieren, ein offenes Brennerventil, ein Gastest, der hängen geblieben ist.",
    consequence:
      "Die Flasche leert sich für nichts; in einem kleinen oder engen Raum verdrängt das Gas die Luft.",
    operatorAction:
      "Das Brennerventil schließen oder das Formieren melden. Wo die Luft in Gefahr ist: lüften.",
    timeToRespond: "15 min; sofort, wo die Luft des Raums in Gefahr ist.",
    limit:
      "Gas strömt 20 min ohne Lichtbogen, länger als an diesem Platz üblich. Ein Lichtbogen oder gemeldetes Formieren schließt es aus. Dringend (nach 5 min), wo der gut durchmischte Raum innerhalb von 30 min auf 19,5 % Sauerstoff fallen oder 0,5 % oder 3 % CO2 erreichen könnte oder der Platz ein enger Raum ist.",
  },
  "reading-shift": {
    title: "Einstellung verändert",
    cause:
      "Das Durchflussgerät wurde verdreht oder angestoßen, es verhält sich anders, oder es wurde an einer fast leeren Flasche hochgedreht und nicht zurückgestellt.",
    consequence:
      "Die nächste Naht bekommt zu viel oder zu wenig Gas; an einer vollen Flasche viel zu viel.",
    operatorAction: "Vor der nächsten Naht das Durchflussgerät auf den angegebenen Wert stellen.",
    timeToRespond: "Vor der nächsten Naht.",
    limit:
      "Nach einem Verdrehen: wahrer Durchfluss mit 95 % Sicherheit mehr als 15 % neben dem Ziel und weiter als zuvor. Nach einem Flaschenwechsel oder wenn die Leitung sich erholt hat, und zuvor hochgedreht wurde: Der nächste Start gäbe mit 90 % Sicherheit 15 % mehr als das Ziel.",
  },
  "wrong-gas": {
    title: "Falsches Gas",
    cause:
      "Eine Flasche mit anderem Gas wurde angeschlossen, Etikett oder Einrichtung ist falsch, oder die Einrichtung passt nicht zum Verfahren.",
    consequence:
      "Verdorbene Nähte, eine verbrannte Wolframelektrode; alle Durchflusswerte des Platzes sind falsch.",
    operatorAction:
      "Anhalten und das Etikett der Flasche lesen: Es kennzeichnet das Gas, nicht die Farbe. Die Einrichtung berichtigen oder die Flasche wechseln.",
    timeToRespond: "Vor der nächsten Naht.",
    limit:
      "95 % Wahrscheinlichkeit, dass das Gas sich anders verhält als sein Etikett; oder ein Gas in der Einrichtung, das nicht zum Verfahren passt.",
  },
  "sensor-fault": {
    title: "Sensor gestört",
    cause:
      "Ein gebrochenes oder kurzgeschlossenes Kabel, ein nasser Stecker, ein Sensor außerhalb seines Messbereichs oder am Ende.",
    consequence:
      "Die Werte, die darauf beruhen, fehlen oder sind alt; andere Alarme lassen sich vielleicht nicht beurteilen.",
    operatorAction:
      "Stecker und Kabel prüfen, dann den Sensor wechseln. Bis dahin nach den Manometern richten.",
    timeToRespond: "Innerhalb der Schicht.",
    limit:
      "Der Knoten oder die Schätzung meldet eine Störung eines Kanals. Mittel bei einem Druck.",
  },
  "calibration-overdue": {
    title: "Kalibrierung überfällig",
    cause: "Die letzte Prüfung am Prüfstand oder Kalibrierung ist über ihren Termin.",
    consequence:
      "Die Durchflusswerte können gewandert sein; Aufzeichnungen werden vielleicht nicht anerkannt.",
    operatorAction: "Das Durchflussgerät am Prüfstand prüfen oder die Sensoren kalibrieren lassen.",
    timeToRespond: "Innerhalb der Woche.",
    limit:
      "Ein Jahr nach der letzten Prüfung am Prüfstand oder der Kalibrierung eines Sensors, oder das Datum in der Einrichtung.",
  },
  "node-silent": {
    title: "Knoten schweigt",
    cause: "Kein Strom, kein Netzwerk, oder der Knoten ist ausgefallen.",
    consequence: "Alle Werte des Platzes sind alt; kein anderer Alarm lässt sich beurteilen.",
    operatorAction: "Strom und Netzwerk des Knotens prüfen. Bis dahin nach den Manometern richten.",
    timeToRespond: "15 min.",
    limit:
      "Der Broker meldet den Knoten als fort, oder es kommt drei Takte lang kein Paket. Geplantes Abschalten schließt es aus. Übernimmt die Dringlichkeit dessen, was es verdeckt.",
  },
  "node-clock-wrong": {
    title: "Uhr des Knotens geht falsch",
    cause: "Der Knoten erreicht keinen Zeitserver, oder seine Uhr wurde falsch gestellt.",
    consequence: "Zeiten in Aufzeichnungen sind zweifelhaft; Restzeit und Raten werden ungenauer.",
    operatorAction: "Dem Knoten die Zeit des Betriebs zugänglich machen, dann neu starten.",
    timeToRespond: "Innerhalb des Tages.",
    limit: "Die Zeiten des Knotens und des Gateways stimmen nicht überein, oder er hat keine Uhr.",
  },
  "node-config-refused": {
    title: "Knoten hat Einstellungen abgelehnt",
    cause:
      "Eine Einstellung liegt außerhalb dessen, was der Knoten kann, oder seine Firmware ist dafür zu alt.",
    consequence:
      "Der Knoten behält die alten Einstellungen: Takt, Kalibrierung oder Grenzen können falsch sein.",
    operatorAction: "Die genannte Einstellung berichtigen oder den Knoten erneuern.",
    timeToRespond: "Innerhalb des Tages.",
    limit: "Der Knoten antwortet auf Einstellungen mit einem Fehler.",
  },
  "node-supply-low": {
    title: "Versorgung des Knotens schwach",
    cause: "Ein schwaches Netzteil, ein langes dünnes Kabel, eine Batterie kurz vor leer.",
    consequence: "Die Druckwerte wandern mit der Versorgung, dann verstummt der Knoten.",
    operatorAction: "Netzteil, Kabel oder Batterie wechseln.",
    timeToRespond: "Innerhalb des Tages.",
    limit: "Versorgung unter 4,4 V an einem 5-V-Knoten, unter 3,0 V an einer 3,3-V-Schiene.",
  },
  "nobody-reachable": {
    title: "Niemand ist erreichbar",
    cause:
      "Die Internetverbindung ist unterbrochen, oder jeder Weg zu jedem Kontakt wird abgelehnt.",
    consequence: "Ein Alarm bliebe ungehört.",
    operatorAction:
      "Den Bildschirm im Auge behalten; die Verbindung wiederherstellen oder einen Kontakt einrichten und prüfen.",
    timeToRespond: "30 min.",
    limit: "Nachrichten warten, und jeder Weg zu jedem Kontakt schlägt fehl.",
  },
};
