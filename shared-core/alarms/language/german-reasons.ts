/** Reasons of the core in German, by their English text; `{}` stands for a value. */
export const germanReasons: Readonly<Record<string, string>> = {
  "the cylinder was not idle for long enough yet": "die Flasche hat noch nicht lange genug geruht",
  "the restriction's conductance is not learnt yet: gas has to flow for some minutes":
    "die Drosselstelle ist noch nicht gelernt: Dazu muss einige Minuten Gas strömen",
  "no pressure has been read yet with the cylinder valve open":
    "noch wurde kein Druck bei offenem Flaschenventil gemessen",
  "the cylinder's pressure sensor is in fault ({}): held from its last good reading":
    "der Drucksensor der Flasche ist gestört ({}): festgehalten von seiner letzten guten Messung",
  "told as full, but it was fitted at {} bar: the content follows the pressure":
    "als voll gemeldet, aber mit {} bar angeschlossen: Der Inhalt folgt dem Druck",
  "told to hold more than it was fitted with: the content follows the pressure":
    "gemeldet war mehr, als sie beim Anschließen enthielt: Der Inhalt folgt dem Druck",
  "the described water volume is doubted: at the known flow the pressure falls like that of about {} L":
    "das beschriebene Wasservolumen ist zweifelhaft: Beim bekannten Durchfluss fällt der Druck wie bei etwa {} L",
  "the pressure does not fall as flow setting and water volume say: the setting is doubted, or the cylinder is of another size":
    "der Druck fällt nicht so, wie Einstellung und Wasservolumen sagen: Die Einstellung ist zweifelhaft, oder die Flasche hat eine andere Größe",
  "no word from the cylinder's node: held from its last reading":
    "kein Zeichen vom Knoten der Flasche: festgehalten von seiner letzten Messung",
  "no data: held from the last reading": "keine Daten: festgehalten von der letzten Messung",
  "the reserve feeds: this is what is left on the main side":
    "die Reserve speist: Das ist, was auf der Hauptseite übrig ist",
  "the reserve feeds: what is left in it is not measured":
    "die Reserve speist: Was in ihr noch ist, wird nicht gemessen",
  "no cylinder pressure is read: held from the last reading":
    "kein Flaschendruck wird gemessen: festgehalten von der letzten Messung",
  "{} draws from the same supply at the same times: the two flows cannot be told apart well":
    "{} entnimmt zur selben Zeit aus derselben Versorgung: Die beiden Durchflüsse lassen sich nicht gut trennen",
  "that gas flows rests on the arc: the cylinder's pressure has not shown it yet":
    "dass Gas strömt, sagt der Lichtbogen: Der Flaschendruck hat es noch nicht gezeigt",
  "{} draws from the same supply and nobody sees when: this flow cannot be learnt from the cylinder":
    "{} entnimmt aus derselben Versorgung, und niemand sieht, wann: Dieser Durchfluss lässt sich an der Flasche nicht lernen",
  "neither a line sensor nor an arc signal tells when gas flows here, and others draw from the same supply":
    "weder ein Leitungssensor noch ein Lichtbogensignal sagt hier, wann Gas strömt, und andere entnehmen aus derselben Versorgung",
  "the cylinder sensor tells its pressure in coarse steps, and no line sensor tells when gas flows: this flow cannot be learnt":
    "der Flaschensensor meldet seinen Druck in groben Stufen, und kein Leitungssensor sagt, wann Gas strömt: Dieser Durchfluss lässt sich nicht lernen",
  "the cylinder sensor tells its pressure in coarse steps, and no line sensor or arc signal tells when gas flows here":
    "der Flaschensensor meldet seinen Druck in groben Stufen, und weder ein Leitungssensor noch ein Lichtbogensignal sagt hier, wann Gas strömt",
  "neither line nor cylinder pressure is read: whether gas flows cannot be told":
    "weder Leitungs- noch Flaschendruck wird gemessen: Ob Gas strömt, lässt sich nicht sagen",
  "just started: whether gas flows cannot be told yet":
    "gerade gestartet: Ob Gas strömt, lässt sich noch nicht sagen",
  "neither line pressure nor delivery pressure is known":
    "weder Leitungsdruck noch Lieferdruck ist bekannt",
  "the line pressure is not known: its sensor is out ({})":
    "der Leitungsdruck ist nicht bekannt: Sein Sensor ist ausgefallen ({})",
  "the station has no flow device": "der Platz hat kein Durchflussgerät",
  "the flow is not known yet": "der Durchfluss ist noch nicht bekannt",
  "the flow is not known": "der Durchfluss ist nicht bekannt",
  "no data": "keine Daten",
  "the station has no target flow": "der Platz hat keinen Zieldurchfluss",
  "the device has no scale": "das Gerät hat keine Skala",
  "the target cannot be reached within the scale: change the cylinder or the device":
    "das Ziel liegt außerhalb der Skala: Flasche oder Gerät wechseln",
  "the usual hose pressure at this flow is not learnt yet":
    "der übliche Schlauchdruck bei diesem Durchfluss ist noch nicht gelernt",
  "the set-up gives no date: neither of a bench test nor of the sensors' calibration":
    "die Einrichtung nennt kein Datum: weder einer Prüfung am Prüfstand noch der Kalibrierung der Sensoren",
  "the set-up gives no highest line pressure (regulator.maxLineBar)":
    "die Einrichtung nennt keinen höchsten Leitungsdruck (regulator.maxLineBar)",
  "the regulator may still be thawing after a cold run: the rise may be warming gas, CO2 snow or a leaking seat":
    "der Druckminderer taut nach kaltem Betrieb vielleicht noch: Der Anstieg kann warm werdendes Gas, CO2-Schnee oder ein undichter Sitz sein",
  "an arc is seen, but whether gas flows is not known: just started, no line sensor, or its flow not learnt yet":
    "ein Lichtbogen ist zu sehen, aber ob Gas strömt, ist nicht bekannt: eben gestartet, kein Leitungssensor oder der Durchfluss noch nicht gelernt",
  "the temperature of the regulator's body is not known: no probe on it, or too few readings":
    "die Temperatur des Druckminderers ist nicht bekannt: kein Fühler daran oder zu wenige Messungen",
  "nothing was seen yet that tells gases apart: the flow is not learnt, and the cylinder has not stood idle through a change of temperature":
    "noch war nichts zu sehen, was Gase unterscheidet: Der Durchfluss ist nicht gelernt, und die Flasche hat noch keinen Temperaturwechsel in Ruhe erlebt",
  "the station has no welding procedure": "der Platz hat keine Schweißaufgabe",
  "the gas of the station's supply is not known": "das Gas der Versorgung ist nicht bekannt",
  "the tables need the cup number, or material and thickness in the procedure":
    "die Tabellen brauchen die Nummer der Gasdüse, oder Werkstoff und Dicke, in der Schweißaufgabe",
  "the tables need transfer (short-circuit, spray, pulsed), or material and thickness in the procedure":
    "die Tabellen brauchen die Lichtbogenart, oder Werkstoff und Dicke, in der Schweißaufgabe",
  "AWS D1.1, draught limit of 5 mph (clause quoted on a welding site; check the edition)":
    "AWS D1.1, Grenze für Zugluft 5 mph (Klausel auf einer Schweißerseite zitiert; Ausgabe prüfen)",
  "common practice, no source": "übliche Praxis, keine Quelle",
  "a draught of {} m/s is above {} m/s: put up a screen, more gas does not help ({}); minimum and maximum hold behind the screen":
    "Zugluft von {} m/s liegt über {} m/s: Windschutz aufstellen, mehr Gas hilft nicht ({}); Mindest- und Höchstwert gelten hinter dem Windschutz",
  "no flow is right: larger cup, lens or screen (minimum {} is above maximum {} L/min)":
    "kein Durchfluss ist richtig: größere Gasdüse, Gaslinse oder Windschutz (Mindestwert {} liegt über Höchstwert {} L/min)",
  "the procedure gives no target, and the tables no minimum that agrees with it: state the minimum in the procedure":
    "die Schweißaufgabe nennt kein Ziel, und die Tabellen keinen Mindestwert, der dazu passt: den Mindestwert in der Schweißaufgabe angeben",
  "the procedure gives no target, and the tables no maximum that agrees with it: state the maximum in the procedure":
    "die Schweißaufgabe nennt kein Ziel, und die Tabellen keinen Höchstwert, der dazu passt: den Höchstwert in der Schweißaufgabe angeben",

  // What a gas behaves like.
  argon: "Argon",
  "argon with {} % CO2": "Argon mit {} % CO2",
  "argon with helium": "Argon mit Helium",
  helium: "Helium",
  nitrogen: "Stickstoff",

  // Why a node refuses its settings.
  "{} is not a number": "{} ist keine Zahl",
  "{} must lie between {} and {}": "{} muss zwischen {} und {} liegen",
  "{} must be true or false": "{} muss true oder false sein",
  "{} must be an object": "{} muss ein Objekt sein",
  "{} is too close to lowIsPa: calibrate over a fifth of the range":
    "{} liegt zu nahe an lowIsPa: über ein Fünftel des Bereichs kalibrieren",
  "{} differs by more than a fifth from highIsPa":
    "{} weicht um mehr als ein Fünftel von highIsPa ab",
  "{} must be at least 5 kg above lowIsKg": "{} muss mindestens 5 kg über lowIsKg liegen",
  "{} is too close to lowReads: does the scale see the load?":
    "{} liegt zu nahe an lowReads: Spürt die Waage die Last?",
  "{} is missing": "{} fehlt",
  "{} must be greater than lineLeastPa": "{} muss größer als lineLeastPa sein",
  "not JSON: {}": "kein JSON: {}",
  "not an object": "kein Objekt",
  "longer than 4096 bytes": "länger als 4096 Byte",
  "revision {} cut the node off and was taken back":
    "Fassung {} hat den Knoten abgeschnitten und wurde zurückgenommen",
};
