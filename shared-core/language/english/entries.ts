/** Why the gateway or a form does not take what was entered: documents, rack, changes, places. */
export const entries = {
  "fault-at": "{wpath}: {message}",
  // What a schema says of a value.
  "value-missing": "Invalid input: expected {kind}, received undefined",
  "value-kind": "Invalid input: expected {kind}, received {given}",
  "value-exactly": "Invalid input: expected {wexactly}",
  "value-invalid": "Invalid input",
  "value-option": "Invalid option: expected one of {woptions}",
  "value-discriminator": "Invalid discriminator value. Expected {woptions}",
  "value-above": "Too small: expected number to be >{n1}",
  "value-least": "Too small: expected number to be >={n1}",
  "value-below": "Too big: expected number to be <{n1}",
  "value-most": "Too big: expected number to be <={n1}",
  "value-short": "Too small: expected string to have >={n1} characters",
  "value-long": "Too big: expected string to have <={n1} characters",
  "value-few": "Too small: expected array to have >={n1} items",
  "value-many": "Too big: expected array to have <={n1} items",
  "value-date": "Invalid ISO date",
  "value-moment": "Invalid ISO datetime",
  "value-url": "Invalid URL",
  "value-email": "Invalid email address",
  "value-step": "Invalid number: must be a multiple of {n1}",
  "kind-number": "number",
  "kind-string": "string",
  "kind-object": "object",
  "kind-array": "array",
  "kind-boolean": "boolean",
  "kind-int": "int",
  "kind-null": "null",
  "kind-nan": "NaN",
  // The demo and what is real.
  "demo-clock":
    "the demo's clock does not run with the wall clock: start without --demo-speed to set up a station of your own",
  "demo-only": "only the demo makes virtual stations: leave it out",
  "demo-node":
    "is of the demo, which is deleted when it ends: set up a station of your own for this node",
  // What a description says of itself.
  "name-form":
    "must be lower-case letters, digits and single hyphens, at most 32 of them, such as bay-3",
  "time-of-day": "must be a time of day, such as 18:30",
  "fractions-sum": "mole fractions sum to {n1}; they must sum to 1",
  "cylinder-needs":
    "needs gas, composition, waterVolumeL and either filledBar with filledC, or filledKg for liquid CO2",
  "cylinder-both": "has filledKg (liquid) and filledBar (compressed): give one of them",
  "cylinder-not-co2":
    "filledKg is for pure CO2 that is filled as a liquid; use filledBar and filledC",
  "cylinder-residual": "is not below filledBar: a full cylinder would count as empty",
  "record-fill": "give filledBar (compressed gas) or filledKg (liquid CO2), one of them",
  "record-not-co2": "is for pure CO2 that is filled as a liquid; give filledBar",
  "station-supply":
    "the gas comes from supply {wsupply}, so the station has no cylinder of its own: leave one of them out",
  "station-no-gas": "is missing: give a cylinder, or name the supply that feeds this station",
  "line-most": "is {n1} bar, not above the delivery pressure of {n2} bar",
  "line-range":
    "is {n1} bar, below the delivery pressure of {n2} bar: the sensor would be over its range",
  "cylinder-sensor-range": "is {n1} bar, below the fill pressure of {n2} bar",
  "drops-twice": "names a station twice",
  "fit-square": "must be {n1} by {n2}, a row and a column for each parameter",
  "scale-range": "is not above scaleMin: the scale would have no range",
  "orifice-needs": "an orifice gauge needs orificeMm (with optional cd) or scaleReadsAt",
  "orifice-no-tube": "belongs to a float tube; an orifice gauge has none",
  "tube-no-orifice": "orificeMm and scaleReadsAt belong to an orifice gauge; a float tube has none",
  "points-order": "must be above lowIsBar",
  "points-close": "is too close to lowIsBar: calibrate over a fifth of the range or more",
  "span-off":
    "differs from highIsBar by more than a fifth of the span: then sensor or wiring is at fault, not its calibration",
  "flows-order": "minimumLpm, targetLpm and maximumLpm must rise in this order",
  "no-transfer": "belongs to GMAW; GTAW has no metal transfer",
  "no-cup": "cup numbers belong to GTAW; give nozzleBoreMm for GMAW",
  "key-unknown": "is not known, so it is kept but not used",
  "key-near": "is not known, so it is kept but not used: did you mean {wnear}?",
  // The rack and cylinder changes.
  "rack-version": "the version here is {n1}: look at what has changed, and save again",
  "rack-serial-taken": "serial {wserial} is in the rack already",
  "rack-no-cylinder": "there is no cylinder {wid} in the rack",
  "rack-no-such": "there is no cylinder {wid}",
  "rack-not-in-store": "cylinder {wserial} is not in store: it is {place}",
  "rack-is": "cylinder {wserial} is {place}",
  "rack-supply": "{wstation} draws from supply {wsupply}: it has no cylinder of its own",
  "rack-no-undo":
    "no change of {wstation} was told in the last {n1} minutes, or it was taken back already",
  "rack-meanwhile": "the station's description was changed meanwhile: look, and try again",
  "place-store": "store",
  "place-fitted": "fitted",
  "place-used": "used",
  "place-gone": "gone",
  // Answers of the gateway.
  "title-invalid-request": "The request cannot be read",
  "title-owner": "Only the owner may do this",
  "title-origin": "The request comes from elsewhere",
  "title-not-found": "There is no such thing here",
  "title-method": "This path does not take that method",
  "title-nothing-to-do": "There is nothing to do here",
  "title-conflict": "Somebody else has changed it meanwhile",
  "title-large": "The request is too large",
  "title-type": "The request is not JSON",
  "title-document": "The document has faults",
  "title-dangerous": "What it describes would be dangerous",
  "title-key-reused": "This Idempotency-Key was used otherwise",
  "title-key": "An Idempotency-Key is needed",
  "title-precondition": "If-Match is needed",
  "title-failed": "The gateway has failed at this",
  "title-not-ready": "The gateway is not ready yet",
  "gateway-exists":
    "It exists already: send If-Match with the version that you have seen (its ETag).",
  "gateway-version": "The version here is {n1}: get it, look at what has changed, and save again.",
  "gateway-starting": "Still starting: {wstate}. Try again in a moment.",
  "gateway-no-alarm": "There is no alarm {wid}.",
  "gateway-no-test": "There is no bench test {wid}.",
  "gateway-no-contact": "There is no contact {wid}.",
  "gateway-no-station": "There is no station {wid}; an id is <site>.<station>.",
  "gateway-no-station-short": "There is no station {wid}.",
  "gateway-no-supply": "There is no supply {wid}.",
  "gateway-no-node": "There can be no node {wid}; an id is <site>.<node>.",
  "gateway-unheard":
    "No node {wid} has been heard; an id is <site>.<node>. Check its power, its network and its site's name.",
  "safe-explosive":
    "holds {n1} % hydrogen and {n2} % oxygen: together they can explode inside cylinder and regulator. No shielding gas is mixed so: read the cylinder's label and correct the gas",
  "safe-oxygen":
    "holds {n1} % oxygen: that is no shielding gas, and oxygen sets parts on fire that are not made for it. Never fit this node to oxygen: take it off, and correct the gas if the label says otherwise",
  "safe-oxidising":
    "does not say oxidising, and the gas holds {n1} % oxygen, above {n2} %: dust, grease and seals burn in it. Use parts that are rated and cleaned for oxygen and declare them, or another gas",
  "safe-fuel":
    "holds {n1} % hydrogen: that is fuel gas, no shielding gas. Never fit this node to fuel gas: take it off, and correct the gas if the label says otherwise",
  "safe-flammable":
    "does not say flammable, and the gas burns in air: {n1} % hydrogen, where {n2} % in this mixture is the most that does not (ISO 10156). Use parts that are rated for flammable gas and declare them, or another gas; local rules on flammable gas apply",
  "safe-range":
    "is {n1} bar, but this filling reaches {n2} bar at 55 °C: the sensor would be over its range. Fit one for {n3} bar or more",
  "safe-proof-unknown":
    "is not given: look into the sensor's data sheet, it must be {n1} bar or more (1.5 times the {n2} bar that this filling reaches at 55 °C)",
  "safe-proof":
    "is {n1} bar, below 1.5 times the {n2} bar that this filling reaches at 55 °C: it could burst. Fit a sensor with a proof pressure of {n3} bar or more",
  "safe-no-relief": "no relief device is before it (regulator.reliefBar)",
  "safe-relief-at": "the relief device opens at {n1} bar only",
  "safe-line-unknown":
    "is not given, and {relief}: a regulator seat that fails lets {n1} bar into the line. Look into the sensor's data sheet, and give its proof pressure and the regulator's relief pressure",
  "safe-line-burst":
    "is {n1} bar, and {relief}: a regulator seat that fails lets {n2} bar into the line, and the sensor bursts. Fit a sensor with a proof pressure of {n3} bar or more, or a regulator whose relief device opens below {n4} bar and give its reliefBar",
  "safe-unknown":
    "its pressure at 55 °C cannot be computed, so that no sensor can be judged ({wwhy}) Check gas, water volume and filling",
} as const;

export type EntryPhrases = Readonly<Record<keyof typeof entries, string>>;
