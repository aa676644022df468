import type { explainPages as english } from "../english/explain-pages.ts";

/** German: how the figures of Rack, Ledger, Look-back, Bench and Alarms come about. */
export const explainPages: typeof english = {
  rests: "Es beruht auf:",
  how: {
    "rack-price": "Mit der Flasche eingetragen. Leeward misst ihn nicht und holt ihn nirgends.",
    "rack-full":
      "Was eine Flasche dieses Rauminhalts bei ihrer Füllung fasst, nach der Zustandsgleichung des realen Gases. Die Flasche im Lager wird nicht gemessen: Ihrem Etikett wird geglaubt.",
    "rack-in-store":
      "Flaschen dieses Gases, die als angekommen eingetragen und seither weder angeschlossen noch zurückgegeben wurden. Es stimmt nur so weit wie das, was hier eingetragen ist.",
    "rack-lasts":
      "Jeder Platz mit diesem Gas wechselt, wenn er seine Flasche nach Gewohnheit verbraucht hat, und danach so oft, wie dort eine volle reicht. Genannt ist der erste Wechsel, für den keine volle Flasche mehr im Lager ist.",
    "rack-order-by":
      "Wann das Lager verbraucht ist, abzüglich der Tage von der Bestellung bis zur Lieferung. Sie stehen unter der Tabelle.",
    "rack-order":
      "Wechsel nach Gewohnheit, bis eine Bestellung von heute da ist und ihre Tage gereicht hat, abzüglich des Vorrats. Von einem Platz, dessen Gewohnheit noch nicht bekannt ist, zählt nur der nächste Wechsel, wenn er absehbar ist.",
    "record-verdict":
      "Sekunde für Sekunde wird der wahre Durchfluss mit dem Mindesten verglichen, das diese Naht braucht. Zu klein: Das ganze 95-%-Intervall lag darunter, oder der Lichtbogen brannte ohne Gas, 2 s am Stück. Nicht zu klein: Das ganze Intervall lag in jeder beurteilten Sekunde darüber, und keine fehlt. Sonst lässt es sich nicht sagen.",
    "record-starts":
      "Zeiten mit Gas zum Brenner, ohne Unterbrechung in der Aufzeichnung. Es zählt das Gas, nicht der Lichtbogen: Auch der Druck auf Gastest zählt.",
    "record-gas-on":
      "Alle Sekunden zusammen, in denen mehr als 0,02 L/min zum Brenner strömte. Sekunden ohne Aufzeichnung sind nicht dabei.",
    "record-used":
      "Wahrer Durchfluss mal Zeit, Sekunde für Sekunde zusammengezählt. Die Grenzen zählen jene des Durchflusses zusammen, als irrte er immer gleich: Sie sind eher zu weit als zu eng. Was nicht aufgezeichnet wurde, zählt nicht.",
    "record-mean": "Verbrauchtes Gas durch die Zeit mit Gas; die Grenzen ebenso.",
    "record-lowest":
      "Die beurteilte Sekunde, in der der wahre Durchfluss am tiefsten gegen das damals Mindeste lag. Die Grenzen sind die dieser einen Sekunde.",
    "record-needed":
      "Der untere Rand des Bedarfsfensters, wie er damals galt: aus dem eingestellten Verfahren oder aus Tabellen der Schweißpraxis.",
    "record-short":
      "Sekunden, in denen das ganze 95-%-Intervall des wahren Durchflusses unter dem Mindesten lag.",
    "record-over":
      "Sekunden, in denen das ganze 95-%-Intervall des wahren Durchflusses über dem Meisten lag, das diese Naht braucht.",
    "record-doubt":
      "Sekunden, in denen das Mindeste innerhalb des 95-%-Intervalls des wahren Durchflusses lag: Es kann gereicht haben oder nicht.",
    "record-enough":
      "Sekunden, in denen das ganze 95-%-Intervall des wahren Durchflusses über dem Mindesten lag.",
    "record-edge":
      "Die ersten zwei Sekunden und die letzte jedes Starts, während sich das Gas aufbaut und abklingt. Sie werden nicht beurteilt.",
    "record-no-window":
      "Gas strömte, und kein Verfahren war eingestellt: Es gab nichts, woran es zu messen war.",
    "record-trust":
      "Die Fehlergrenze aus der Beschreibung des Sensors und der Tag seiner letzten Kalibrierung oder des letzten Tests am Prüfstand. Überfällig nach dem gesetzten Tag, sonst nach einem Jahr (übliche Praxis, keine Quelle).",
    "record-no-data":
      "Sekunden, zu denen nichts festgehalten ist: Der Knoten schwieg, oder das Gateway lief nicht. Sie zählen weder als Verbrauch noch als gut.",
    "record-arc":
      "Sekunden, in denen der Lichtbogensensor einen Lichtbogen sah und kein Gas strömte.",
    "record-lost":
      "Der mittlere Verlust bei Stillstand in dieser Zeit, um den die Flasche leerer wird, während kein Gas zum Brenner strömt, mal der aufgezeichneten Zeit ohne Gas.",
    "record-cost":
      "Verbrauchtes Gas zum Preis einer Füllung, geteilt durch den Inhalt einer vollen Flasche. Der Verlust bei Stillstand ist nicht dabei.",
    "record-swaps":
      "Wechsel, die in der Aufzeichnung zu sehen sind: Der Flaschendruck sprang auf den einer anderen Flasche. Was sie dann fasste, folgt aus Druck, Temperatur und Rauminhalt.",
    "record-re-dials":
      "Verstellungen des Durchflussgeräts, die in der Aufzeichnung zu sehen sind: Der Durchfluss änderte sich bei gleichem Leitungsdruck. Die Prozentzahl ist der Durchfluss danach durch den davor.",
    "record-alarms":
      "Alarme, die zu irgendeinem Augenblick dieser Zeit bestanden, nach dem Alarmprotokoll.",
    "fit-verdict":
      "Die Zeilen werden einem einzigen Gerät mit seiner Physik angepasst. Streuen sie mehr, als ihre Unsicherheiten zulassen, mit weniger als einem Prozent Wahrscheinlichkeit, so können sie nicht von einem Gerät stammen (Chi-Quadrat).",
    "fit-residual":
      "Was das Messgerät anzeigte, verglichen mit dem, was das angepasste Gerät bei Anzeige und Drücken dieser Zeile durchgelassen hätte. Es sollte innerhalb der Unsicherheit der Zeile liegen.",
    "fit-parameter":
      "Kleinste Quadrate über alle gültigen Zeilen, ausgehend von dem, was solche Geräte gewöhnlich haben. Die Grenzen gelten zu 95 %. Wo die Zeilen es nicht eingeengt haben, steht das dabei.",
    "fit-gain":
      "Halbes 95-%-Intervall des Durchflusses an diesem Platz, in Prozent des Durchflusses: so, wie es ist, und so, wie es wäre, wenn nur bekannt wäre, was auf dem Gerät steht.",
    "card-reading":
      "Die Anzeige, bei der das angepasste Gerät bei diesem Flaschendruck und Raumtemperatur den Sollwert durchlässt.",
    "card-within":
      "95-%-Grenzen des wahren Durchflusses bei dieser Anzeige: aus der Streuung der Zeilen, dem Messgerät und dem, was das Modell weglässt.",
    "weld-window":
      "Das Mindeste, das Ziel und das Meiste, aus Prozess, Düse, Werkstoff, Strom und Zugluft, nach Tabellen der Schweißpraxis. „Warum dieser Durchfluss“ nennt jede Quelle.",
    "weld-factor":
      "Was das Gerät wirklich durchlässt, während es das Ziel anzeigt, durch das Angezeigte: aus Dichte, Druck und Temperatur des Gases im Gerät gegen jene, für die seine Skala gemacht ist.",
    "weld-dial": "Die Anzeige, bei der das Gerät, wie hier versucht, das Ziel durchlässt.",
    "weld-time":
      "Aus Tabellen der Schweißpraxis für diesen Prozess und Strom. In Klammern steht die Spanne zwischen den Quellen.",
    "weld-exit": "Der Ziel-Durchfluss durch die offene Fläche der Düse, kalt, ohne Lichtbogen.",
    "weld-reynolds":
      "Durchfluss, Zähigkeit des Gases und Düsenbohrung. Sie trennt einen ruhigen Strahl von einem wirbelnden, der Luft einzieht.",
    "cost-counted":
      "Gas-an-Zeiten im Journal des Platzes aus den letzten zwei Wochen, geteilt durch die Tage, an denen es welche gab.",
    "cost-start":
      "Was der Schlauch beim Ruhedruck mehr fasst als bei strömendem Gas, nach der Zustandsgleichung des realen Gases bei 20 °C. Es wird bei jedem Start ausgeblasen.",
    "cost-year": "Ausgeblasenes Gas je Start, mal Starts am Tag und Arbeitstage im Jahr.",
    "cost-money": "Gas im Jahr zum Preis für 1 m³.",
    "cost-saves":
      "Dieselbe Rechnung mit dem niedrigeren Ruhedruck, abgezogen von der heutigen; beide mit denselben Starts.",
    "cost-post-flow":
      "Ziel-Durchfluss mal Nachströmzeit, Stopps und Arbeitstage im Jahr, zum Gaspreis.",
    "cost-second": "Dasselbe für eine Sekunde Nachströmen.",
    "cost-break-even":
      "Um wie viel länger Wolframelektrode und Düse halten müssen, um das einzusparen, was eine weitere Sekunde Nachströmen kostet. Ohne ihren Preis ist es nicht bekannt, auch nicht, wo diese Sekunde mehr kostet als sie.",
    "device-worst":
      "Der größte Fehler dem Betrag nach über alle Flaschendrücke, wenn das Gerät jedes Mal auf die Marke gestellt wird. Wahrer Durchfluss gegen das Ziel.",
    "device-left-alone":
      "Die größte Änderung des wahren Durchflusses dem Betrag nach, wenn er bei voller Flasche stimmte und seither niemand gedreht hat.",
    "device-ends":
      "Der Flaschendruck, unter dem der Druckminderer das Gerät das Ziel nicht mehr durchlassen lässt.",
    "device-surge":
      "Ruhedruck minus Druck bei strömendem Gas, durch den Luftdruck: Normliter, die jeder Liter Schlauch bei einem Start ausbläst.",
    "device-idle": "Der Leitungsdruck in Ruhe, wie mit der Prüfung eingegeben.",
    "device-price": "Mit der Prüfung eingegeben.",
    "alarms-rang":
      "Alarme, die in dieser Zeit kamen, nach dem Alarmprotokoll. Was wiederkommt, zählt noch einmal; was ein anderer erklärt oder was erst nachträglich gefunden wurde, meldet sich nicht. Ein Tag hat 24 Stunden.",
    "alarms-standing":
      "Alarme, deren Ursache in diesem Augenblick besteht, gesehen oder nicht. Die gewählte Zeit spielt dafür keine Rolle.",
    "alarms-mean":
      "Alarme, die kamen, durch die Zehn-Minuten-Abschnitte der gewählten Zeit. Auch die ruhigen zählen. Das Ziel gilt für eine Person, wie es üblicherweise aus ISA-18.2 genannt wird; aus dem Gedächtnis.",
    "alarms-most": "Der Zehn-Minuten-Abschnitt der Uhr, in dem die meisten Alarme kamen.",
    "alarms-over-ten":
      "Zehn-Minuten-Abschnitte der Uhr, in denen mehr als zehn Alarme kamen, durch alle Abschnitte der gewählten Zeit. Das Ziel wird üblicherweise aus ISA-18.2 genannt; aus dem Gedächtnis.",
    "alarms-chattering":
      "Alarme eines Platzes und einer Art, die dreimal in einer Minute kamen. Was als flatternd gilt, wird üblicherweise aus ISA-18.2 genannt; aus dem Gedächtnis.",
    "alarms-stale":
      "Alarme, die jetzt anstehen, und das seit mehr als 24 Stunden. Das Ziel wird üblicherweise aus ISA-18.2 genannt; aus dem Gedächtnis.",
    "alarms-high-share":
      "Alarme, die mit der Dringlichkeit 'Jetzt' kamen, durch alle, die kamen. Die 5 % sind von allen eingerichteten Alarmen gemeint; bis 10 % der gekommenen gelten als erreicht, weil in einer Werkstatt wenig kommt (übliche Praxis, ohne Quelle).",
    "alarms-flood":
      "Ein Alarmschauer beginnt, wenn in zehn Minuten mehr als zehn Alarme kamen, und endet, wenn es weniger als fünf sind. Gezählt werden alle von seinem Anfang bis zu seinem Ende.",
    "alarms-place":
      "Wie oft dieser Alarm dieses Platzes in der gewählten Zeit kam, und sein Anteil an allen.",
  },
};
