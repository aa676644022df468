import type { DemandPhrases } from "../english/demand.ts";

/** German: what the demand tables say of a weld. */
export const demand: DemandPhrases = {
  "source-modern-welding-2020": "Modern Welding, Goodheart-Willcox 2020, Bild 8-35",
  "source-supplier-handbook": "Schweißerhandbuch eines Gaslieferanten, WIG-Kehlnähte nach Dicke",
  "source-beyer-2013": "Beyer u. a., Science and Technology of Welding and Joining, 2013",
  "source-bitharas-2018":
    "Bitharas u. a., Journal of Materials Processing Technology 255 (2018) 451-462",
  "source-aws-d1.1-draught":
    "AWS D1.1, Grenze für Zugluft 5 mph (Klausel auf einer Schweißerseite zitiert; Ausgabe prüfen)",
  "source-aws-d1.1-essential-flow":
    "AWS D1.1, Durchfluss als wesentliche Einflussgröße: +50 % / -20 % (aus dem Gedächtnis; Ausgabe prüfen)",
  "source-well-mixed":
    "Verdünnung bei guter Durchmischung: Volumina = ln(Sauerstoff am Anfang / gewünschter Sauerstoff)",
  "source-api-rp-582":
    "API RP 582, Grenze von 0,5 % Sauerstoff beim Formieren (aus zweiter Hand; Dokument prüfen)",
  "source-cup-numbers":
    "Handelsnorm: WIG-Gasdüsennummer = Bohrung in Sechzehntel Zoll (aus dem Gedächtnis)",
  "source-helium-memory":
    "Handbuchregel: Helium braucht den 2- bis 3-fachen Durchfluss von Argon (aus dem Gedächtnis)",
  "source-titanium-memory":
    "Handbuchregel: Titan abdecken, bis es unter etwa 425 °C ist (aus dem Gedächtnis)",
  "source-round-pipe":
    "Lehrbuchgrenze der laminaren Strömung im Rohr, Re 2300; eine kurze Düse weicht ab (aus dem Gedächtnis)",
  "source-common-practice": "übliche Praxis, keine Quelle",
  "source-procedure": "die Schweißaufgabe selbst",
  "source-own-estimate": "eigene Schätzung, keine Quelle",
  "demand-from-to": "{about}: {n1} bis {n2} L/min ({source})",
  "demand-at": "{about}: {n1} L/min ({source})",
  "demand-rule":
    "{about}: etwa {n1} L/min, eine Faustregel ({source}); ein Mindest- oder Höchstwert folgt daraus nicht",
  "demand-with-source": "{about} ({source})",
  "demand-cup": "Gasdüse {n1}",
  "demand-cup-between": "Gasdüse {n1}, zwischen zwei Zeilen",
  "demand-cup-rule": "{n1} CFH je Nummer der Gasdüse",
  "demand-mode": "{wprocess} im Kurzlichtbogen",
  "demand-mode-spray": "{wprocess} im Sprühlichtbogen",
  "demand-mode-pulsed": "{wprocess} im Impulslichtbogen",
  "demand-mode-flux": "Fülldraht mit Gas",
  "demand-bore-rule": "1 L/min je mm Bohrung",
  "demand-wire-rule": "10 L/min je mm Draht",
  "demand-thickness": "{family} bis {n1} mm",
  "family-carbon-steel": "unlegierter Stahl",
  "family-stainless": "nichtrostender Stahl",
  "family-aluminium": "Aluminium",
  "family-titanium": "Titan",
  "demand-still-air": "in ruhender Luft für gut befunden",
  "demand-production": "in der Fertigung ohne Schaden hierauf gesenkt",
  "demand-helium": "{n1} % Helium: {n2}- bis {n3}-facher Durchfluss von Argon ({source})",
  "demand-gas-lens": "Gaslinse: 10 bis 20 % weniger bei gleicher Gasdüse ({source})",
  "demand-pulsed-aluminium": "Impuls-MSG an Aluminium braucht mindestens {n1} {wunit} ({source})",
  "demand-open-joint":
    "{joint}: Von einem offenen Stoß fällt das Gas ab, darum liegt das Ziel höher ({source})",
  "joint-edge": "Stirnnaht",
  "joint-outside-corner": "Außenecke",
  "joint-outside-corner-2": "Außenecke",
  "demand-out-of-position": "Zwangslage ({wposition}): {n1} bis {n2} {wunit} mehr ({source})",
  "demand-position-unknown":
    "Die Position „{wposition}“ ist nicht bekannt (Namen wie PA, PF, 1G, 3G oder vertical verwenden): kein Zuschlag.",
  "demand-above-rated":
    "{n1} A liegen über den {n2} A, für die der Brenner ausgelegt ist: wassergekühlten oder größeren Brenner nehmen. Mehr Gas ersetzt nie die Auslegung nach Strom und Einschaltdauer.",
  "demand-hot-torch":
    "{n1} A: Ein gasgekühlter Brenner lebt über {n2} A mit mehr Durchfluss länger ({source}); um wie viel mehr: {more}",
  "demand-no-answer":
    "Über dem Auslegungsstrom oder der Einschaltdauer des Brenners hilft mehr Gas nicht: mit Wasser kühlen.",
  "demand-draught": "Zugluft {n1} m/s: Mindestwert {n2} % höher ({source})",
  "demand-screen":
    "Zugluft von {n1} m/s liegt über {n2} m/s: Windschutz aufstellen, mehr Gas hilft nicht ({source}); Mindest- und Höchstwert gelten hinter dem Windschutz",
  "demand-no-flow-right":
    "kein Durchfluss ist richtig: größere Gasdüse, Gaslinse oder Windschutz (Mindestwert {n1} liegt über Höchstwert {n2} L/min)",
  "demand-need-cup":
    "die Tabellen brauchen die Gasdüsennummer, oder Werkstoff und Dicke, in der Schweißaufgabe",
  "demand-need-transfer":
    "die Tabellen brauchen die Lichtbogenart, oder Werkstoff und Dicke, in der Schweißaufgabe",
  "demand-own": "die eigenen Werte der Schweißaufgabe gehen den Tabellen vor",
  "demand-no-own-minimum":
    "die Schweißaufgabe nennt kein Ziel, und die Tabellen keinen Mindestwert, der dazu passt: den Mindestwert in der Schweißaufgabe angeben",
  "demand-no-own-maximum":
    "die Schweißaufgabe nennt kein Ziel, und die Tabellen keinen Höchstwert, der dazu passt: den Höchstwert in der Schweißaufgabe angeben",
  "demand-own-minimum":
    "Mindestwert: {n1}-faches Ziel der Schweißaufgabe, da kein Mindestwert der Tabellen dazu passt ({source})",
  "demand-own-maximum":
    "Höchstwert: {n1}-faches Ziel der Schweißaufgabe, da kein Höchstwert der Tabellen dazu passt ({source})",
  "demand-no-procedure": "der Platz hat keine Schweißaufgabe",
  "demand-no-gas": "das Gas der Versorgung ist nicht bekannt",
  "demand-active-gas":
    "Dieses Gas enthält CO2 oder Sauerstoff: Es verbrennt die Wolframelektrode. Den Aufkleber der Flasche prüfen.",
  "demand-polarity":
    "Die Polung ({wpolarity}) ist vermerkt; keine Quelle wurde gefunden, die den Durchfluss daran bindet.",
  "nozzle-turbulent":
    "Die Reynoldszahl {n1} in der Bohrung von {n2} mm liegt über der Rohrgrenze von {n3}: Der Strahl kann früher turbulent werden. Ein Hinweis, keine Grenze: Eine kurze Düse ist kein langes Rohr.",
  "nozzle-standoff":
    "Ein Abstand von {n1} mm reicht über den ruhigen Kern von etwa {n2} mm einer einfachen Gasdüse hinaus: Gasdüse näher halten oder eine Gaslinse einsetzen.",
  "nozzle-standoff-lens":
    "Ein Abstand von {n1} mm reicht über den ruhigen Kern von etwa {n2} mm einer Gaslinse hinaus: Gasdüse näher halten.",
  "preflow-usual": "Gasvorströmen {n1} bis {n2} s ({source})",
  "preflow-own": "Gasvorströmen aus der Schweißaufgabe",
  "postflow-own": "Gasnachströmen aus der Schweißaufgabe",
  "postflow-usual": "Gasnachströmen {n1} bis {n2} s ({source})",
  "postflow-rule": "Gasnachströmen 1 s je 10 A, mindestens {n1} s ({source})",
  "postflow-no-current":
    "Gasnachströmen 1 s je 10 A, mindestens {n1} s ({source}); der Strom ist nicht bekannt",
  "postflow-titanium":
    "Titan: mit Gas abdecken, bis es unter etwa {n1} °C ist, mit einer Schleppdüse ({source})",
  "postflow-hot-torch":
    "gasgekühlt über {n1} A: Längeres Gasnachströmen schont Brenner und Wolfram ({source}); um wie viel länger: {more}",
};
