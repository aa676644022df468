import { type DocumentFault, parseDocument } from "@leeward/shared-core/documents/parse.ts";
import {
  type StationDocument,
  type SupplyDocument,
  stationSchema,
} from "@leeward/shared-core/documents/station.ts";
import type { SafetyFinding } from "@leeward/shared-core/safety/finding.ts";
import { stationSafety } from "@leeward/shared-core/safety/station-safety.ts";
import { isSameSensor, sensorsBefore } from "./same-sensor.ts";
import { documentOf, gasOf } from "./setup-document.ts";
import type { SetupForm, TextKey, TypedUnits } from "./setup-form.ts";
import { stationName } from "./station-name.ts";
import { type CalibrationFault, calibrationFaults, type FaultyText } from "./two-point.ts";
import { typedNumber } from "./typed.ts";
import { areTooClose, weighTexts, weighTyped } from "./weigh-points.ts";

/** The steps of setting up a station. */
export const steps = ["node", "gas", "device", "sensors", "weld", "check"] as const;
export type Step = (typeof steps)[number];

/** Faults that Setup finds by itself, each with its words. */
export type OwnFault =
  | "no-name"
  | "name-taken"
  | "no-number"
  | "not-positive"
  | "needed"
  | "gas-not-chosen"
  | "no-gas"
  | "residual-not-below"
  | "max-not-above-delivery"
  | "line-range-below-delivery"
  | "cylinder-range-below-filling"
  | "calibrated-in-future"
  | "loads-too-close"
  | "scale-upside-down"
  | "flows-out-of-order"
  | "demo-node"
  | "node-elsewhere"
  | CalibrationFault;

export interface FieldFault {
  field: keyof SetupForm;
  step: Step;
  fault: OwnFault;
  /** Which text of a calibration. */
  text?: FaultyText["text"];
}

/** What is left to do at a station that works already, as far as it goes. */
export type Gap =
  | "node"
  | "regulator"
  | "flow-device"
  | "cylinder-sensor"
  | "cylinder-proof"
  | "line-proof"
  | "weld";

export interface Checked {
  /** Null while a fault stands. */
  document: StationDocument | null;
  faults: FieldFault[];
  /** What the schema says and no field of ours explains. */
  others: DocumentFault[];
  refusals: SafetyFinding[];
  cautions: SafetyFinding[];
  gaps: Gap[];
}

const numbers: Readonly<Partial<Record<TextKey, { step: Step; zero?: true; negative?: true }>>> = {
  waterVolume: { step: "gas" },
  count: { step: "gas" },
  filled: { step: "gas" },
  filledTemperature: { step: "gas", negative: true },
  filledKg: { step: "gas" },
  tareKg: { step: "gas" },
  weighLowReads: { step: "gas", negative: true },
  weighLowIs: { step: "gas", zero: true },
  weighHighReads: { step: "gas", negative: true },
  weighHighIs: { step: "gas" },
  residual: { step: "gas", zero: true },
  delivery: { step: "device" },
  maxLine: { step: "device" },
  relief: { step: "device" },
  scalePressure: { step: "device", zero: true },
  scaleMin: { step: "device", zero: true },
  scaleMax: { step: "device" },
  dialPressure: { step: "device" },
  dialReading: { step: "device" },
  reading: { step: "device", zero: true },
  hoseLength: { step: "device" },
  hoseBore: { step: "device" },
  cylinderRange: { step: "sensors" },
  cylinderAccuracy: { step: "sensors" },
  cylinderProof: { step: "sensors" },
  lineRange: { step: "sensors" },
  lineAccuracy: { step: "sensors" },
  lineProof: { step: "sensors" },
  cup: { step: "weld" },
  nozzleBore: { step: "weld" },
  amps: { step: "weld" },
  minimum: { step: "weld" },
  target: { step: "weld" },
  maximum: { step: "weld" },
  room: { step: "weld" },
  airChanges: { step: "weld", zero: true },
  altitude: { step: "weld", negative: true },
};

/**
 * Everything that can be said of a form: faults by field, what would be dangerous, what is left
 * to do. Pure; it runs at every key.
 *
 * @param taken names of the site's other stations
 * @param today the shop's local day, `2026-03-29`
 * @param supply the shared supply that the form names
 * @param nodesElsewhere names of the site's nodes that other places have and keep
 */
export function checkForm(
  form: SetupForm,
  base: StationDocument | null,
  units: TypedUnits,
  taken: ReadonlySet<string>,
  today: string,
  {
    supply = null,
    nodesElsewhere = new Set(),
  }: { supply?: SupplyDocument | null; nodesElsewhere?: ReadonlySet<string> } = {},
): Checked {
  const faults = ownFaults(form, base, units, taken, today);
  if (form.node !== "" && nodesElsewhere.has(form.node)) {
    faults.push({ field: "node", step: "node", fault: "node-elsewhere" });
  }
  const parsed = parseDocument(stationSchema, documentOf(form, base, units));
  if (!parsed.ok) {
    const known = faults.length > 0;
    return {
      document: null,
      faults,
      others: known ? [] : parsed.faults,
      refusals: [],
      cautions: [],
      gaps: [],
    };
  }
  const { refusals, cautions } = stationSafety(parsed.value, supply);
  return {
    document: faults.length > 0 ? null : parsed.value,
    faults,
    others: [],
    refusals,
    cautions,
    gaps: gapsOf(parsed.value, cautions),
  };
}

/** What is left to do at a station; empty where it is set up all the way. */
export function gapsOf(
  station: StationDocument,
  cautions: readonly SafetyFinding[] = stationSafety(station).cautions,
): Gap[] {
  const gaps: Gap[] = [];
  const rules = new Set(cautions.map((one) => one.rule));
  if (!station.node && !station.supply) gaps.push("node");
  if (station.regulator?.deliveryBar === undefined && !station.supply) gaps.push("regulator");
  if (!station.flowDevice) gaps.push("flow-device");
  if (!station.sensors?.cylinder && !station.supply) gaps.push("cylinder-sensor");
  if (rules.has("cylinder-proof-unknown")) gaps.push("cylinder-proof");
  if (rules.has("line-proof-unknown")) gaps.push("line-proof");
  if (!station.procedure) gaps.push("weld");
  return gaps;
}

function ownFaults(
  form: SetupForm,
  base: StationDocument | null,
  units: TypedUnits,
  taken: ReadonlySet<string>,
  today: string,
): FieldFault[] {
  const faults: FieldFault[] = [];
  const add = (field: keyof SetupForm, step: Step, fault: OwnFault) => {
    faults.push({ field, step, fault });
  };
  // The gateway refuses it: what is real would be deleted with the demo.
  if (base?.virtual === true && form.node !== (base.node ?? "")) add("node", "node", "demo-node");
  const name = stationName(form.name);
  if (name === null) add("name", "node", "no-name");
  else if (base === null && taken.has(name)) add("name", "node", "name-taken");
  for (const [field, rule] of Object.entries(numbers)) {
    const value = typedNumber(form[field as TextKey]);
    if (value === null) continue;
    const low = rule.negative ? Number.NEGATIVE_INFINITY : 0;
    if (Number.isNaN(value)) add(field as TextKey, rule.step, "no-number");
    else if (value < low || (value === 0 && !rule.zero && !rule.negative)) {
      add(field as TextKey, rule.step, "not-positive");
    }
  }
  const need = (field: TextKey, step: Step) => {
    if (form[field].trim() === "") add(field, step, "needed");
  };
  if (form.supply === "") {
    const gas = gasOf(form.gas);
    if (gas === null) add("gas", "gas", form.gas.trim() === "" ? "gas-not-chosen" : "no-gas");
    need("waterVolume", "gas");
    for (const field of gas?.CO2 === 1
      ? (["filledKg"] as const)
      : (["filled", "filledTemperature"] as const)) {
      need(field, "gas");
    }
    if (weighTyped(form)) for (const text of weighTexts) need(text, "gas");
    if (areTooClose(form)) add("weighHighIs", "gas", "loads-too-close");
  }
  if (form.device === "variable-area") need("scalePressure", "device");
  if (form.device === "orifice-gauge") {
    need("dialPressure", "device");
    need("dialReading", "device");
  }
  if (form.device !== "" && form.scaleGas.trim() !== "" && gasOf(form.scaleGas) === null) {
    add("scaleGas", "device", "no-gas");
  }
  if (form.cylinderRange.trim() !== "") need("cylinderAccuracy", "sensors");
  if (form.lineSensor && form.lineRange.trim() !== "") need("lineAccuracy", "sensors");
  const calibrated = form.lineSensor
    ? (["cylinderCalibrated", "lineCalibrated"] as const)
    : (["cylinderCalibrated"] as const);
  for (const field of calibrated) {
    if (form[field] > today) add(field, "sensors", "calibrated-in-future");
  }
  for (const kind of ["cylinder", "line"] as const) {
    if (!isSameSensor(form, base, kind, units) || (kind === "line" && !form.lineSensor)) continue;
    const was = sensorsBefore(form, base)?.[kind];
    for (const { text, fault } of calibrationFaults(form, kind, was, units)) {
      faults.push({ field: `${kind}Calibration`, step: "sensors", fault, text });
    }
  }
  order(form, add);
  return faults;
}

/** Pairs of figures that must rise. All of one kind are typed in one unit, so texts compare. */
function order(
  form: SetupForm,
  add: (field: keyof SetupForm, step: Step, fault: OwnFault) => void,
): void {
  const rises = (low: TextKey, high: TextKey, equalToo = false): boolean => {
    const [a, b] = [typedNumber(form[low]), typedNumber(form[high])];
    if (a === null || b === null || Number.isNaN(a) || Number.isNaN(b)) return true;
    return equalToo ? a <= b : a < b;
  };
  const compressed = form.supply === "" && gasOf(form.gas)?.CO2 !== 1;
  if (compressed && !rises("residual", "filled")) {
    add("residual", "gas", "residual-not-below");
  }
  if (compressed && !rises("filled", "cylinderRange", true)) {
    add("cylinderRange", "sensors", "cylinder-range-below-filling");
  }
  if (!rises("delivery", "maxLine")) add("maxLine", "device", "max-not-above-delivery");
  if (form.lineSensor && !rises("delivery", "lineRange", true)) {
    add("lineRange", "sensors", "line-range-below-delivery");
  }
  if (!rises("scaleMin", "scaleMax")) add("scaleMax", "device", "scale-upside-down");
  if (
    !rises("minimum", "target", true) ||
    !rises("target", "maximum", true) ||
    !rises("minimum", "maximum", true)
  ) {
    add("minimum", "weld", "flows-out-of-order");
  }
}

/** The step at which a finding of safety is to be mended. */
export function stepOfPath(path: string): Step {
  if (path.startsWith("cylinder") || path.startsWith("supply")) return "gas";
  if (path.startsWith("regulator.ratedFor")) return "sensors";
  if (path.startsWith("regulator") || path.startsWith("flowDevice")) return "device";
  if (path.startsWith("procedure")) return "weld";
  return path.startsWith("sensors") ? "sensors" : "node";
}
