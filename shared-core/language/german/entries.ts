import type { EntryPhrases } from "../english/entries.ts";

/** German: why something entered is not taken. */
export const entries: EntryPhrases = {
  "fault-at": "{wpath}: {message}",
  "value-missing": "fehlt: erwartet wird {kind}",
  "value-kind": "erwartet wird {kind}, angegeben ist {given}",
  "value-exactly": "erwartet wird {wexactly}",
  "value-invalid": "ungültige Angabe",
  "value-option": "möglich ist eines von {woptions}",
  "value-discriminator": "möglich ist eines von {woptions}",
  "value-above": "zu klein: muss über {n1} liegen",
  "value-least": "zu klein: muss mindestens {n1} sein",
  "value-below": "zu groß: muss unter {n1} liegen",
  "value-most": "zu groß: darf höchstens {n1} sein",
  "value-short": "zu kurz: mindestens {n1} Zeichen",
  "value-long": "zu lang: höchstens {n1} Zeichen",
  "value-few": "zu wenige: mindestens {n1}",
  "value-many": "zu viele: höchstens {n1}",
  "value-date": "kein gültiges Datum (JJJJ-MM-TT)",
  "value-moment": "kein gültiger Zeitpunkt",
  "value-url": "keine gültige Adresse (URL)",
  "value-email": "keine gültige E-Mail-Adresse",
  "value-step": "muss ein Vielfaches von {n1} sein",
  "kind-number": "eine Zahl",
  "kind-string": "ein Text",
  "kind-object": "eine Gruppe von Angaben",
  "kind-array": "eine Liste",
  "kind-boolean": "ja oder nein",
  "kind-int": "eine ganze Zahl",
  "kind-null": "nichts",
  "kind-nan": "keine Zahl",
  "demo-clock":
    "die Uhr der Vorführung geht nicht wie die Wanduhr: ohne --demo-speed starten, um eine eigene Station einzurichten",
  "demo-only": "virtuelle Stationen macht nur die Vorführung: weglassen",
  "demo-node":
    "gehört zur Vorführung, die gelöscht wird, wenn sie endet: für diesen Knoten eine eigene Station einrichten",
  "name-form": "nur Kleinbuchstaben, Ziffern und einzelne Bindestriche, höchstens 32, etwa bay-3",
  "time-of-day": "muss eine Uhrzeit sein, etwa 18:30",
  "fractions-sum": "die Stoffmengenanteile ergeben {n1}; sie müssen 1 ergeben",
  "cylinder-needs":
    "braucht gas, composition, waterVolumeL und entweder filledBar mit filledC oder filledKg für flüssiges CO2",
  "cylinder-both": "hat filledKg (flüssig) und filledBar (verdichtet): nur eines angeben",
  "cylinder-not-co2":
    "filledKg gilt für reines, flüssig gefülltes CO2; filledBar und filledC verwenden",
  "cylinder-residual": "liegt nicht unter filledBar: Eine volle Flasche würde als leer gelten",
  "record-fill": "filledBar (verdichtetes Gas) oder filledKg (flüssiges CO2) angeben, eines davon",
  "record-not-co2": "gilt für reines, flüssig gefülltes CO2; filledBar angeben",
  "station-supply":
    "das Gas kommt aus der Versorgung {wsupply}, also hat der Platz keine eigene Flasche: eines davon weglassen",
  "station-no-gas":
    "fehlt: eine Flasche angeben oder die Versorgung nennen, an der dieser Platz hängt",
  "line-most": "ist {n1} bar, nicht über dem Lieferdruck von {n2} bar",
  "line-range":
    "ist {n1} bar, unter dem Lieferdruck von {n2} bar: Der Sensor läge über seinem Messbereich",
  "cylinder-sensor-range": "ist {n1} bar, unter dem Fülldruck von {n2} bar",
  "drops-twice": "nennt einen Platz zweimal",
  "fit-square": "muss {n1} mal {n2} sein, eine Zeile und eine Spalte je Kennwert",
  "scale-range": "liegt nicht über scaleMin: Die Skala hätte keinen Bereich",
  "orifice-needs":
    "ein Durchflussmanometer braucht orificeMm (auf Wunsch mit cd) oder scaleReadsAt",
  "orifice-no-tube": "gehört zu einem Schwebekörper-Durchflussmesser; ein Manometer hat das nicht",
  "tube-no-orifice":
    "orificeMm und scaleReadsAt gehören zu einem Durchflussmanometer; ein Schwebekörperrohr hat das nicht",
  "points-order": "muss über lowIsBar liegen",
  "points-close":
    "liegt zu nahe an lowIsBar: über ein Fünftel des Messbereichs oder mehr kalibrieren",
  "span-off":
    "weicht um mehr als ein Fünftel der Spanne von highIsBar ab: dann liegt es an Sensor oder Verdrahtung, nicht an der Kalibrierung",
  "flows-order": "minimumLpm, targetLpm und maximumLpm müssen in dieser Folge steigen",
  "no-transfer": "gehört zum MSG-Schweißen; WIG hat keinen Werkstoffübergang",
  "no-cup": "Gasdüsennummern gehören zu WIG; für MSG nozzleBoreMm angeben",
  "key-unknown": "ist nicht bekannt, wird also aufbewahrt, aber nicht verwendet",
  "key-near": "ist nicht bekannt, wird also aufbewahrt, aber nicht verwendet: ist {wnear} gemeint?",
  "rack-version":
    "hier steht Fassung {n1}: ansehen, was sich geändert hat, und noch einmal sichern",
  "rack-serial-taken": "die Nummer {wserial} steht schon im Flaschenlager",
  "rack-no-cylinder": "im Flaschenlager gibt es keine Flasche {wid}",
  "rack-no-such": "es gibt keine Flasche {wid}",
  "rack-not-in-store": "die Flasche {wserial} ist nicht im Lager: Sie ist {place}",
  "rack-is": "die Flasche {wserial} ist {place}",
  "rack-supply": "{wstation} hängt an der Versorgung {wsupply} und hat keine eigene Flasche",
  "rack-no-undo":
    "in den letzten {n1} Minuten wurde an {wstation} kein Wechsel gemeldet, oder er ist schon zurückgenommen",
  "rack-meanwhile":
    "die Beschreibung des Platzes wurde inzwischen geändert: ansehen und noch einmal versuchen",
  "place-store": "im Lager",
  "place-fitted": "angeschlossen",
  "place-used": "abgenommen",
  "place-gone": "zurückgegeben",
  "title-invalid-request": "Die Anfrage ist nicht lesbar",
  "title-owner": "Das darf nur der Betreiber",
  "title-origin": "Die Anfrage kommt von anderswo",
  "title-not-found": "Das gibt es hier nicht",
  "title-method": "Diese Adresse nimmt das so nicht an",
  "title-nothing-to-do": "Hier ist nichts zu tun",
  "title-conflict": "Jemand anders hat es inzwischen geändert",
  "title-large": "Die Anfrage ist zu groß",
  "title-type": "Die Anfrage ist kein JSON",
  "title-document": "Die Angaben haben Fehler",
  "title-dangerous": "Das Beschriebene wäre gefährlich",
  "title-key-reused": "Dieser Idempotency-Key wurde anders verwendet",
  "title-key": "Ein Idempotency-Key ist nötig",
  "title-precondition": "If-Match ist nötig",
  "title-failed": "Daran ist das Gateway gescheitert",
  "title-not-ready": "Das Gateway ist noch nicht bereit",
  "gateway-exists": "Das gibt es schon: If-Match mit der gesehenen Fassung (ihrem ETag) mitsenden.",
  "gateway-version":
    "Hier steht Fassung {n1}: holen, ansehen, was sich geändert hat, und noch einmal sichern.",
  "gateway-starting": "Startet noch: {wstate}. Gleich noch einmal versuchen.",
  "gateway-no-alarm": "Es gibt keinen Alarm {wid}.",
  "gateway-no-test": "Es gibt keine Prüfung {wid}.",
  "gateway-no-contact": "Es gibt keinen Kontakt {wid}.",
  "gateway-no-station": "Es gibt keinen Platz {wid}; eine Kennung ist <site>.<station>.",
  "gateway-no-station-short": "Es gibt keinen Platz {wid}.",
  "gateway-no-supply": "Es gibt keine Versorgung {wid}.",
  "gateway-no-node": "Einen Knoten {wid} kann es nicht geben; eine Kennung ist <site>.<node>.",
  "gateway-unheard":
    "Von einem Knoten {wid} war nichts zu hören; eine Kennung ist <site>.<node>. Strom, Netz und den Namen des Standorts prüfen.",
  "safe-explosive":
    "enthält {n1} % Wasserstoff und {n2} % Sauerstoff: Zusammen können sie in Flasche und Druckminderer explodieren. Kein Schutzgas ist so gemischt: Aufkleber der Flasche lesen und das Gas berichtigen",
  "safe-oxygen":
    "enthält {n1} % Sauerstoff: Das ist kein Schutzgas, und Sauerstoff setzt Teile in Brand, die nicht dafür gemacht sind. Diesen Knoten nie an Sauerstoff anbauen: abnehmen, und das Gas berichtigen, wenn der Aufkleber anderes sagt",
  "safe-oxidising":
    "nennt oxidierend nicht, und das Gas enthält {n1} % Sauerstoff, über {n2} %: Staub, Fett und Dichtungen brennen darin. Teile verwenden und angeben, die für Sauerstoff ausgelegt und gereinigt sind, oder ein anderes Gas",
  "safe-fuel":
    "enthält {n1} % Wasserstoff: Das ist Brenngas, kein Schutzgas. Diesen Knoten nie an Brenngas anbauen: abnehmen, und das Gas berichtigen, wenn der Aufkleber anderes sagt",
  "safe-flammable":
    "nennt brennbar nicht, und das Gas brennt an der Luft: {n1} % Wasserstoff, wo in diesem Gemisch höchstens {n2} % nicht brennen (ISO 10156). Teile verwenden und angeben, die für brennbares Gas ausgelegt sind, oder ein anderes Gas; die örtlichen Vorschriften für brennbare Gase gelten",
  "safe-range":
    "ist {n1} bar, aber diese Füllung erreicht bei 55 °C {n2} bar: Der Sensor läge über seinem Messbereich. Einen für {n3} bar oder mehr anbauen",
  "safe-proof-unknown":
    "ist nicht angegeben: im Datenblatt des Sensors nachsehen, es müssen {n1} bar oder mehr sein (das 1,5-Fache der {n2} bar, die diese Füllung bei 55 °C erreicht)",
  "safe-proof":
    "ist {n1} bar, unter dem 1,5-Fachen der {n2} bar, die diese Füllung bei 55 °C erreicht: Er könnte bersten. Einen Sensor mit einem Prüfdruck von {n3} bar oder mehr anbauen",
  "safe-no-relief": "davor ist kein Sicherheitsventil (regulator.reliefBar)",
  "safe-relief-at": "das Sicherheitsventil öffnet erst bei {n1} bar",
  "safe-line-unknown":
    "ist nicht angegeben, und {relief}: Ein versagender Sitz des Druckminderers lässt {n1} bar in die Leitung. Im Datenblatt des Sensors nachsehen und seinen Prüfdruck und den Öffnungsdruck des Sicherheitsventils angeben",
  "safe-line-burst":
    "ist {n1} bar, und {relief}: Ein versagender Sitz des Druckminderers lässt {n2} bar in die Leitung, und der Sensor birst. Einen Sensor mit einem Prüfdruck von {n3} bar oder mehr anbauen, oder einen Druckminderer, dessen Sicherheitsventil unter {n4} bar öffnet, und dessen reliefBar angeben",
  "safe-unknown":
    "ihr Druck bei 55 °C lässt sich nicht berechnen, sodass kein Sensor beurteilt werden kann ({wwhy}) Gas, Rauminhalt und Füllung prüfen",
};
