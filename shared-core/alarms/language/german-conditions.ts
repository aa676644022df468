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
      "Wahrer Durchfluss mit 95 % Sicherheit unter dem Mindestwert der Schweißaufgabe, bei strömendem Gas. Gemeldetes Formieren schließt es aus; es endet mit einem Lichtbogen, und wenn sein Ziel erreicht ist oder es schon einmal unterbrochen war, auch mit 15 s ohne Gas.",
    deadband: "3 % des Mindestdurchflusses.",
    delayReason:
      "In Sekunden mit Gas gezählt, über mehrere Male, jeweils nach den ersten 2 s: Der übliche Anfangswert von 15 s ist länger als mancher Heftpunkt. 5 s überdauern den Gasstoß aus dem Schlauch und zwei Pakete des Knotens. Aus nach 4 s mit genug Durchfluss; ohne Gas 10 min lang gehalten, damit mehrere Heftpunkte nacheinander nur einmal melden.",
  },
  "over-flow": {
    title: "Zu viel Schutzgas",
    cause:
      "Durchfluss zu hoch eingestellt, oder an einer fast leeren Flasche hochgedreht und nicht zurückgestellt, Leitungsdruck über dem der Skala.",
    consequence: "Gas wird verschwendet; der Gasstrahl wird turbulent und zieht Luft in die Naht.",
    operatorAction: "Das Durchflussgerät auf den angegebenen Wert zurückdrehen.",
    timeToRespond: "Innerhalb der Schicht.",
    limit:
      "Wahrer Durchfluss mit 95 % Sicherheit über dem Höchstwert der Schweißaufgabe, bei strömendem Gas.",
    deadband: "3 % des Höchstdurchflusses.",
    delayReason:
      "In Sekunden mit Gas gezählt, jeweils nach den ersten 5 s, in die der Gasstoß aus dem Schlauch fällt; 20 s, weil Verschwendung in einem Heftpunkt nicht schadet. Ohne Gas 10 min lang gehalten.",
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
      "Lichtbogen, während kein Gas strömt oder mit 95 % Sicherheit weniger als ein Viertel des Mindestwerts; oder die Leitung steht ohne Druck. Nur wo ein Lichtbogensignal eingebaut ist. Solange sich nicht sagen lässt, ob Gas strömt (eben gestartet, kein Leitungssensor), steht das mit seinem Grund da.",
    deadband: "Keine: Lichtbogen und Gas sind an oder aus.",
    delayReason:
      "In 1 s zeigt sich Gas, das mit dem Lichtbogen oder kurz danach kommt, in der Leitung: Der Knoten sendet diesen Messwert sofort, und fällt die Leitung, wird der nächste abgewartet. In jeder weiteren Sekunde wird ohne Schutz geschweißt. Gas, das unter dem Lichtbogen ausgeht, zählt von da an, wo die Leitung es zu zeigen begann, sobald sie den halben Weg zu ihrem Ruhedruck gekommen ist; eine Leitung, die ihren Druck verliert, und ein Schlauch, der sich unter dem Lichtbogen füllt oder leert, müssen 0,5 s anhalten. Aus nach 3 s, damit ein flackernder Lichtbogen nur einmal meldet.",
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
    deadband: "Wahrscheinlichkeit zurück unter 1 %.",
    delayReason:
      "20 s: Ein kurzer Stoß hohen Durchflusses (Spülen der Leitung) verkürzt die Restzeit nur, solange er dauert; gegen eine Wechselzeit von Minuten kostet das nichts. Aus nach 5 s: Eine neue Flasche ist klar zu sehen.",
  },
  "cylinder-low": {
    title: "Flasche geht zur Neige",
    cause: "Ein Viertel des Inhalts ist übrig oder weniger als ein Tagesverbrauch.",
    consequence: "Ohne volle Flasche im Lager steht die Arbeit, wenn diese leer ist.",
    operatorAction: "Eine volle bereitstellen oder bestellen.",
    timeToRespond: "Innerhalb des Tages.",
    limit:
      "Inhalt mit 80 % Sicherheit unter 25 % oder unter einem Tagesverbrauch (höchstens eine halbe Flasche).",
    deadband: "3 % der vollen Flasche.",
    delayReason:
      "120 s: Nach starkem Verbrauch beruhigt sich der Inhalt, während das Gas sich wieder erwärmt, und eine Bestellung ist keine Sache von Sekunden.",
  },
  "cylinder-empty": {
    title: "Flasche leer",
    cause: "Der Flaschendruck liegt unter dem Restdruck, der darin bleiben soll.",
    consequence:
      "Der Druckminderer hält den Durchfluss nicht mehr; unter Umgebungsdruck gelangen Luft und Feuchte hinein.",
    operatorAction: "Anhalten, das Flaschenventil schließen, die Flasche wechseln.",
    timeToRespond: "Jetzt, vor der nächsten Naht.",
    limit:
      "Flaschendruck mit 80 % Sicherheit unter dem Restdruck, und der Inhalt stimmt überein. Eine geschlossene Flasche mit entlasteter Leitung gilt nicht als leer.",
    deadband: "1,5 bar.",
    delayReason:
      "20 s: Wird die Hochdruckseite nach dem Schließen des Ventils entlüftet, durchläuft sie dieselben Drücke in wenigen Sekunden; eine Flasche von 50 L speist bei 10 bar einen Brenner noch viele Minuten.",
  },
  "reserve-in-use": {
    title: "Reserve in Gebrauch",
    cause: "Die Hauptseite ist leer oder geschlossen, und es wurde auf die Reserve umgeschaltet.",
    consequence: "Endet auch die Reserve, stehen alle Plätze dieser Versorgung.",
    operatorAction:
      "Die leere Seite wechseln, dann die Umschaltung zurückstellen, falls das von Hand geschieht.",
    timeToRespond: "Innerhalb der Schicht.",
    limit: "Die Reserveseite der Versorgung speist.",
    deadband: "Keine: Eine Seite speist oder nicht.",
    delayReason:
      "10 s überdauern den Moment, in dem beide Seiten speisen; aus nach 60 s, damit eine Umschaltung, die hin und her springt, nur einmal meldet.",
  },
  "trapped-line-pressure": {
    title: "Druck in der Leitung geblieben",
    cause:
      "Das Flaschenventil wurde geschlossen, die Leitung aber nicht entlastet, oder Sonne oder eine warme Halle heizt eine abgesperrte Leitung.",
    consequence:
      "Schlauch, Manometer und Druckminderer bleiben belastet; Wärme erhöht den Druck weiter, und eine unter Druck geöffnete Kupplung kann verletzen.",
    operatorAction:
      "Das Flaschenventil schließen; die Leitung auf 0 entlasten, mit dem Gastest oder der Spültaste, nie mit dem Brennertaster bei eingeschalteter Stromquelle; die Stellschraube herausdrehen.",
    timeToRespond: "Vor dem Gehen; innerhalb von 30 min, wo Wärme ihn bis zur Grenze bringt.",
    limit:
      "Flaschenventil geschlossen und mehr als 0,3 bar in der Leitung; oder die Vorhersage für die heißeste Stunde des Tages, allein durch Wärme, erreicht 90 % der Grenze der Leitung; oder der Druck erreicht sie beim jetzigen Anstieg in 30 min.",
    deadband: "0,1 bar Leitungsdruck; 5 % der Grenze der Leitung.",
    delayReason:
      "10 min für eine Leitung, die nur abgesperrt ist: Das Ventil wird oft für eine kurze Pause geschlossen und die Leitung beim Gehen entlüftet. 2 min, wo Wärme sich der Grenze nähert, 20 s, wo der Anstieg sie binnen 30 min erreicht. Aus 10 s nach dem Entlüften.",
  },
  "line-pressure-high": {
    title: "Leitungsdruck nahe der Grenze",
    cause:
      "Ein undichter Sitz, ein zu hoch eingestellter Druckminderer, Wärme auf einer abgesperrten Leitung oder CO2-Schnee, der zu Gas wird.",
    consequence:
      "Ein Schlauch, ein Manometer oder ein Druckminderer kann bersten; eine Abblaseeinrichtung kann öffnen.",
    operatorAction:
      "Abstand halten, das Flaschenventil schließen, die Leitung entlasten, mit dem Gastest oder der Spültaste, nie mit dem Brennertaster bei eingeschalteter Stromquelle.",
    timeToRespond: "Innerhalb von 10 min, sofort, wo die Grenze erreicht ist.",
    limit:
      "Leitungsdruck bei 95 % des höchsten Drucks, der an Druckminderer, Schlauch und Brenner anstehen darf; oder auf dem Weg dorthin innerhalb von 20 min mit 95 % Sicherheit, dass er steigt, gleich wodurch (ab 120 s nach dem Schließen des Gases).",
    deadband: "5 % der Grenze.",
    delayReason:
      "2 s an der Grenze: Ein Stoß, wenn das Brennerventil schließt, ist kürzer. 30 s für einen Anstieg, der schon ein Mittel über Minuten ist. Aus nach 30 s darunter.",
  },
  "regulator-creep": {
    title: "Druckminderer lässt Gas durch",
    cause:
      "Ein schmutziger oder abgenutzter Sitz, der bei geschlossenem Brenner Gas durchlässt, oder CO2-Schnee in einem kalten Druckminderer, der zu Gas wird.",
    consequence:
      "Der Leitungsdruck steigt bis zu seiner Grenze oder bis zum Flaschendruck: Schlauch oder Manometer kann bersten.",
    operatorAction:
      "Das Flaschenventil schließen, die Leitung entlasten, mit dem Gastest oder der Spültaste, nie mit dem Brennertaster bei eingeschalteter Stromquelle; steigt der Druck bei geschlossenem Ventil wieder, den Druckminderer außer Betrieb nehmen.",
    timeToRespond:
      "Innerhalb der Stunde; innerhalb von 10 min, wo der Anstieg die Grenze erreicht.",
    limit:
      "Der Druck der ruhenden Leitung steigt mit 95 % Sicherheit um 0,005 bar/min schneller, als Wärme erklärt, ab 120 s nach dem Schließen des Gases. Am Tag darf Sonne auf dem Schlauch 60 K in der Stunde erklären. Solange ein kaltes Gehäuse taut, nur über beiden Grenzen der Wärme; wo es unter -8 °C war, auch nur über dem Druck, auf dem die Leitung vor der Kälte zur Ruhe kam. Ohne Fühler am Gehäuse wird dessen Kälte aus dem Gas gerechnet, das strömte, eher zu kalt; wo es unter -8 °C gewesen sein kann, wird danach 30 min lang nichts geschlossen.",
    deadband: "Der Anstieg muss in das fallen, was Wärme erklärt.",
    delayReason:
      "120 s nach dem Schließen bleiben außen vor, dann 90 s stetiger Anstieg, sodass 0,05 bar/min in 5 min Ruhe gefunden werden; 15 min bei einem Anstieg unter 0,02 bar/min, der der Rest des Schließens sein kann; 20 s, wo die Grenze weniger als 30 min entfernt ist. Aus nach 10 min ruhiger Leitung: Ein Sitz, der einen Moment hält, ist nicht heil.",
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
      "Mehr als 30 % Wahrscheinlichkeit, dass beim jetzigen Durchfluss 5 % weniger Gas kommt, und für das Gehäuse weniger als -8 °C vorhergesagt oder fast so viel, wie es war, als dieser Druckminderer schon einmal nachließ; oder, wo nur die Gehäusetemperatur bekannt ist, eine Vorhersage unter 0 °C. Hoch, sobald der Leitungsdruck 3 % unter dem liegt, was er mit dem Gehäuse über 0 °C war, und der Flaschendruck das nicht erklärt.",
    deadband: "Wahrscheinlichkeit zurück unter 10 %; 3 K der Vorhersage.",
    delayReason:
      "20 s: Das Gehäuse kühlt über Minuten ab, und eine Vorhersage aus einem Messwert ist grob. Aus nach 120 s, da das Gehäuse kalt bleibt, wenn kein Gas mehr strömt.",
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
    deadband: "8 % des gewohnten Drucks.",
    delayReason:
      "8 s Gas, über mehrere Male gezählt und jeweils nach den ersten 3 s: Der Schlauch braucht einen Moment, eine Gasdüse reinigt sich nicht von selbst. Ohne Gas 10 min lang gehalten.",
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
      "Verlust mit 99 % Sicherheit über 0,02 L/min, während nichts strömt. Dringend, wo der gut durchmischte Raum auf 19,5 % Sauerstoff fallen oder 0,5 % oder 3 % CO2 erreichen könnte oder der Platz ein enger Raum ist; bei einer Versorgung für mehrere Plätze zählt der schlimmste.",
    deadband: "Von über 0,02 L/min bis zu einem Mittel darunter.",
    delayReason:
      "5 min: Der Verlust ist selbst ein Mittel über Stunden, und ein Wetterwechsel darf keinen Alarm auslösen. Aus nach 10 min, da der Wert sich langsam bewegt.",
  },
  "gas-left-on": {
    title: "Gas offen gelassen",
    cause:
      "Ein vergessenes Formieren, ein offenes Brennerventil, ein Gastest, der hängen geblieben ist.",
    consequence:
      "Die Flasche leert sich umsonst; in einem kleinen oder engen Raum verdrängt das Gas die Luft.",
    operatorAction:
      "Das Brennerventil schließen oder das Formieren melden; läuft ein gemeldetes weiter: fragen, ob es noch gewollt ist. Wo die Luft in Gefahr ist: lüften.",
    timeToRespond: "15 min; sofort, wo die Luft des Raums in Gefahr ist.",
    limit:
      "Gas strömt 20 min ohne Lichtbogen, länger als an diesem Platz und um diese Zeit üblich: wo um diese Zeit nie jemand schweißt, 20 min insgesamt. Ein Lichtbogen schließt es aus, gemeldetes Formieren auch, bis es doppelt so lange wie gemeldet und 30 min länger läuft (ohne Ziel: 20 min länger als üblich), in Minuten oder in Volumen bei seinem eigenen Durchfluss. Dringend, wo der gut durchmischte Raum innerhalb von 30 min auf 19,5 % Sauerstoff fallen oder 0,5 % oder 3 % CO2 erreichen könnte: nach 5 min; und wo der Platz ein enger Raum ist: mit Lichtbogensignal nach 1 min ohne Lichtbogen, sonst nach dem Anderthalbfachen dessen, was 99 von 100 Nähten hier dauern, mindestens 1 min und höchstens 5 min (3 min, solange das nicht bekannt ist); nach 1 min überall, wo eine Grenze keine 3 min entfernt ist. Eine Grenze innerhalb von 30 min wird auch beim gemeldeten Formieren gesagt.",
    deadband: "Keine: Das Gas ist an oder aus.",
    delayReason:
      "Die 20 min sind die Grenze selbst, damit die Gewohnheit des Platzes sie verlängern kann; die 10 s überdauern nur einen Messwert, der spät kommt. In einem engen Raum wird nicht länger gewartet, als dort eine Naht dauert: Wer drinnen ist, atmet, was der Brenner abgibt, und der Weg hinaus dauert Minuten.",
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
      "Nach einem Verdrehen: wahrer Durchfluss mit 95 % Sicherheit mehr als 15 % neben dem Ziel und weiter als zuvor. Nach einem Flaschenwechsel oder wenn der Leitungsdruck sich erholt hat, und zuvor hochgedreht wurde: Der nächste Start gäbe mit 90 % Sicherheit 15 % mehr als das Ziel.",
    deadband: "Von 15 % Abweichung zurück auf 10 %.",
    delayReason:
      "30 s: Beim Einstellen geht es auf dem Weg zum richtigen Wert über falsche, und was ein Flaschenwechsel oder ein Verdrehen geändert hat, ist anfangs ungewiss. Aus nach 5 s am richtigen; 4 h gehalten, solange er weder richtig noch neu ist, damit mehrere Nähte nacheinander nur einmal melden.",
  },
  "wrong-gas": {
    title: "Falsches Gas",
    cause:
      "Eine Flasche mit anderem Gas wurde angeschlossen, Etikett oder Einrichtung ist falsch, oder die Einrichtung passt nicht zum Verfahren.",
    consequence:
      "Verdorbene Nähte, eine verbrannte Wolframelektrode; alle Durchflusswerte des Platzes sind falsch.",
    operatorAction:
      "Anhalten und das Etikett der Flasche lesen: Es gilt, nicht die Farbe. Die Einrichtung berichtigen oder die Flasche wechseln.",
    timeToRespond: "Vor der nächsten Naht.",
    limit:
      "95 % Wahrscheinlichkeit, dass das Gas sich anders verhält, als das Etikett sagt; oder ein Gas in der Einrichtung, das nicht zum Verfahren passt.",
    deadband: "Wahrscheinlichkeit zurück unter 50 %.",
    delayReason:
      "60 s: Ein falsches Gas sieht zuerst wie ein falscher Durchfluss aus, und erst mehrere Messwerte bei mehr als einem Druck unterscheiden beides.",
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
      "Der Knoten oder die Schätzung meldet eine Störung eines Kanals, oder der Knoten an der Flasche einer gemeinsamen Versorgung schweigt. Mittel bei einem Druck.",
    deadband: "Keine: Ein Kanal ist gestört oder nicht.",
    delayReason:
      "2 s: Ein Stecker, der gezogen und wieder gesteckt wird, ist keine Störung; Leitungsbruch und Kurzschluss müssen in 5 s erscheinen. Aus nach 60 s, da ein schlechter Stecker kommt und geht.",
  },
  "calibration-overdue": {
    title: "Kalibrierung überfällig",
    cause:
      "Der Termin der nächsten Prüfung am Prüfstand oder der nächsten Kalibrierung ist vorbei.",
    consequence:
      "Die Durchflusswerte können abgewichen sein; Aufzeichnungen werden vielleicht nicht anerkannt.",
    operatorAction: "Das Durchflussgerät am Prüfstand prüfen oder die Sensoren kalibrieren lassen.",
    timeToRespond: "Innerhalb der Woche.",
    limit:
      "Ein Jahr nach der letzten Prüfung am Prüfstand oder der Kalibrierung eines Sensors, oder das Datum in der Einrichtung.",
    deadband: "Keine: Ein Datum ist vorbei oder nicht.",
    delayReason: "Ohne Verzögerung: Ein Datum flattert nicht.",
  },
  "node-silent": {
    title: "Knoten schweigt",
    cause: "Kein Strom, kein Netzwerk, oder der Knoten ist ausgefallen.",
    consequence: "Alle Werte des Platzes sind alt; kein anderer Alarm lässt sich beurteilen.",
    operatorAction: "Strom und Netzwerk des Knotens prüfen. Bis dahin nach den Manometern richten.",
    timeToRespond: "15 min.",
    limit:
      "Der Broker meldet, dass der Knoten des Platzes nicht mehr verbunden ist, oder es kommt drei Takte lang kein Paket von ihm, was immer andere Knoten derselben Versorgung senden. Geplantes Abschalten schließt es aus, bis zehn Minuten nach dessen Ende: Ein Knoten, der bis dahin nicht zurück ist, meldet. Nach einem Start des Gateways, oder wenn dessen Rechner geschlafen hat, hat jeder Knoten drei Minuten, um sich zu melden. Übernimmt die Dringlichkeit dessen, was es verdeckt.",
    deadband: "Keine: Pakete kommen an oder nicht.",
    delayReason:
      "Keine Einschaltverzögerung: Das Dreifache des Takts ist die Verzögerung, und eine Abmeldung durch den Broker ist sicher. In den zehn Minuten nach geplantem Abschalten starten Knoten und Netzwerk. Aus nach 10 s, damit ein Knoten, der immer wieder ausfällt, nur einmal meldet.",
  },
  "node-clock-wrong": {
    title: "Uhr des Knotens geht falsch",
    cause:
      "Der Knoten erreicht keinen Zeitserver, oder seine Uhr wurde falsch gestellt. Melden es mehrere Knoten zugleich, geht die Uhr des Gateways falsch.",
    consequence:
      "Zeiten in Aufzeichnungen sind zweifelhaft; Restzeit und Raten werden ungenauer. Geht sie mehr als 5 min vor, werden die Messwerte des Knotens abgewiesen: Alle Werte des Platzes sind alt, und kein anderer Alarm lässt sich beurteilen.",
    operatorAction:
      "Dafür sorgen, dass der Knoten die Uhrzeit des Betriebs bekommt, dann neu starten. Werden Messwerte abgewiesen, bis dahin nach den Manometern richten.",
    timeToRespond: "Innerhalb des Tages; 15 min, wenn Messwerte abgewiesen werden.",
    limit:
      "Die Zeiten des Knotens und des Gateways stimmen nicht überein, oder er hat keine Uhr. Sie geht nach, wenn seine Pakete 3 min lang um dasselbe, mehr als 2 min, zurückliegen und dabei so kommen, wie sie entstehen; von da an werden seine Zeiten darum verschoben, damit seine Alarme melden. Was auf das Netzwerk gewartet hat, kommt schneller, als es entstand, und ist keine falsche Uhr. Geht sie mehr als 5 min vor, werden seine Messwerte abgewiesen: dann mittlere Dringlichkeit oder die dessen, was er verdeckt. Er erklärt dann auch die Stille danach: Der Knoten ist zu hören, nach Strom oder Netzwerk zu suchen wäre vergeblich.",
    deadband: "Keine: Das Gateway beurteilt den Unterschied.",
    delayReason:
      "180 s: Nach einem Start braucht der Knoten eine oder zwei der minütlichen Zeitmeldungen. Ohne Verzögerung, wenn Messwerte abgewiesen werden: Ihre eigene Zeit ist der Beweis. Aus nach 60 s, damit eine Uhr, die hin und her gestellt wird, nur einmal meldet.",
  },
  "node-config-refused": {
    title: "Knoten hat Einstellungen abgelehnt",
    cause:
      "Eine Einstellung liegt außerhalb dessen, was der Knoten kann, oder seine Firmware ist dafür zu alt.",
    consequence:
      "Der Knoten behält die alten Einstellungen: Takt, Kalibrierung oder Grenzen können falsch sein.",
    operatorAction:
      "Die genannte Einstellung berichtigen oder die Firmware des Knotens aktualisieren.",
    timeToRespond: "Innerhalb des Tages.",
    limit: "Der Knoten antwortet auf Einstellungen mit einem Fehler.",
    deadband: "Keine: abgelehnt oder nicht.",
    delayReason: "5 s: Folgt gleich eine berichtigte Einstellung, erledigt sich der Alarm.",
  },
  "node-supply-low": {
    title: "Versorgung des Knotens schwach",
    cause: "Ein schwaches Netzteil, ein langes dünnes Kabel, eine Batterie kurz vor leer.",
    consequence: "Die Druckwerte werden mit sinkender Spannung falsch, dann verstummt der Knoten.",
    operatorAction: "Netzteil, Kabel oder Batterie wechseln.",
    timeToRespond: "Innerhalb des Tages.",
    limit: "Versorgung unter 4,4 V an einem 5-V-Knoten, unter 3,0 V an einer 3,3-V-Schiene.",
    deadband: "0,1 V.",
    delayReason: "60 s: Beim Senden bricht die Spannung kurz ein; der Wert kommt einmal je Paket.",
  },
  "nobody-reachable": {
    title: "Niemand ist erreichbar",
    cause:
      "Die Internetverbindung ist unterbrochen, oder jeder Weg zu jedem Kontakt wird abgelehnt; oder kein Schritt und keine Sammelmeldung nennt jemanden für einen Alarm, der sich meldet.",
    consequence: "Ein Alarm bliebe ungehört.",
    operatorAction:
      "Den Bildschirm im Auge behalten; die Verbindung wiederherstellen oder einen Kontakt einrichten und prüfen. Für jeden Alarm jemanden benennen.",
    timeToRespond: "30 min.",
    limit:
      "Nachrichten warten, und jeder Weg zu jedem Kontakt schlägt fehl; oder es gibt Kontakte, und ein Alarm hoher oder mittlerer Priorität meldet sich, den kein Schritt und keine Sammelmeldung zu jemandem bringt (E-Mail, Push-Nachricht oder Webhook).",
    deadband:
      "Eine Meldung, die ankommt, beendet ihn; geht ein Alarm an niemanden, endet er, wenn jemand jenen quittiert, jener geht oder jemand dafür benannt wird.",
    delayReason:
      "120 s: Zuerst kommen mehrere Versuche mit wachsenden Pausen, damit ein Neustart des Routers keinen Alarm auslöst. Keine, wenn ein Alarm an niemanden geht: Warten ändert dort nichts.",
  },
};
