import type { SensorsDocument } from "@leeward/shared-core/documents/hardware.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { designationOf } from "@leeward/shared-core/gases/designations.ts";
import type { UnitChoice } from "../display/units.ts";
import { dayShown, numberShown, pressureShown, temperatureShown } from "./typed.ts";
import { weighForm } from "./weigh-points.ts";

/** Units in which a form is typed: those of whoever types. */
export type TypedUnits = Pick<UnitChoice, "pressure" | "temperature">;

/** What is to become of a sensor's calibration: what stands, none, its zero, or two points. */
export type CalibrationWish = "keep" | "none" | "zero" | "two";

/** A calibration as it is typed: what the node shows now, and what the reference gauge says. */
export interface CalibrationForm {
  wish: CalibrationWish;
  /** In the open air. */
  zeroReads: string;
  lowReads: string;
  lowIs: string;
  highReads: string;
  highIs: string;
}

export const noCalibration: CalibrationForm = {
  wish: "keep",
  zeroReads: "",
  lowReads: "",
  lowIs: "",
  highReads: "",
  highIs: "",
};

/** What is typed, as it is typed; an empty text means: not known. */
export interface SetupForm {
  site: string;
  name: string;
  node: string;
  /** Name of the shared supply that the gas comes from; empty where the cylinder is its own. */
  supply: string;
  /** Behind a shared supply: whether the station has a regulator of its own. */
  ownRegulator: boolean;
  gas: string;
  waterVolume: string;
  volumeFrom: "stamped" | "catalogue" | "";
  count: string;
  filled: string;
  filledTemperature: string;
  filledKg: string;
  /** Of liquid CO2 on a scale: what the empty cylinder weighs. */
  tareKg: string;
  /** Two points of that scale: counts in the node's status, and the load, kg. */
  weighLowReads: string;
  weighLowIs: string;
  weighHighReads: string;
  weighHighIs: string;
  residual: string;
  stages: "1" | "2";
  adjust: "preset" | "screw" | "";
  delivery: string;
  maxLine: string;
  relief: string;
  heated: boolean;
  device: "variable-area" | "orifice-gauge" | "metered" | "";
  unit: "L/min" | "CFH";
  scaleGas: string;
  scalePressure: string;
  scaleMin: string;
  scaleMax: string;
  valve: "after-tube" | "before-tube";
  float: "ball" | "shaped";
  readAt: "float-top" | "float-centre" | "float-bottom" | "float-widest";
  dialPressure: string;
  dialReading: string;
  reading: string;
  lineTap: "regulator-outlet" | "hose";
  hoseLength: string;
  hoseBore: string;
  cylinderRange: string;
  cylinderAccuracy: string;
  cylinderProof: string;
  /** A day, `2026-03-01`. */
  cylinderCalibrated: string;
  /** Another sensor than before, of the same range and class perhaps. */
  cylinderReplaced: boolean;
  cylinderCalibration: CalibrationForm;
  lineSensor: boolean;
  lineRange: string;
  lineAccuracy: string;
  lineProof: string;
  lineCalibrated: string;
  lineReplaced: boolean;
  lineCalibration: CalibrationForm;
  /** Sensors that came with a node from another station, as they are described there. */
  carried: { node: string; sensors: SensorsDocument } | null;
  /** Node that is to be taken away from this station, by its id, when this is saved. */
  taken: { node: string; station: string } | null;
  ratedRegulator: string[];
  ratedCylinder: string[];
  ratedLine: string[];
  process: "GTAW" | "GMAW" | "FCAW-G" | "";
  material: string;
  transfer: "short-circuit" | "spray" | "pulsed" | "";
  cup: string;
  gasLens: boolean;
  nozzleBore: string;
  amps: string;
  minimum: string;
  target: string;
  maximum: string;
  room: string;
  airChanges: string;
  confined: boolean;
  altitude: string;
}

/** Fields that are a text, for the form's inputs. */
export type TextKey = {
  [K in keyof SetupForm]: string extends SetupForm[K] ? K : never;
}[keyof SetupForm];

/**
 * A new form. What is common is filled in; the gas, and what somebody's safety hangs on (proof and
 * relief pressures, ratings), is left open, so that nobody takes a guess for knowledge.
 */
export function newForm(site: string, node: string, units: TypedUnits): SetupForm {
  const bar = (value: number) => pressureShown(value, units.pressure);
  const us = units.pressure === "psi";
  return {
    site,
    name: "",
    node,
    supply: "",
    ownRegulator: false,
    gas: "",
    waterVolume: us ? "49" : "50",
    // What stands here was read off no cylinder: it counts no better than a catalogue's figure.
    volumeFrom: "catalogue",
    count: "1",
    filled: us ? "2640" : bar(200),
    filledTemperature: temperatureShown(us ? 21.11 : 15, units.temperature),
    filledKg: "",
    tareKg: "",
    weighLowReads: "",
    weighLowIs: "",
    weighHighReads: "",
    weighHighIs: "",
    residual: bar(us ? 3.45 : 5),
    stages: "1",
    adjust: "",
    delivery: "",
    maxLine: "",
    relief: "",
    heated: false,
    device: "",
    unit: us ? "CFH" : "L/min",
    scaleGas: "",
    scalePressure: "",
    scaleMin: "",
    scaleMax: "",
    valve: "after-tube",
    float: "ball",
    readAt: "float-centre",
    dialPressure: "",
    dialReading: "",
    reading: "",
    lineTap: "regulator-outlet",
    hoseLength: "4",
    hoseBore: "6",
    cylinderRange: "",
    cylinderAccuracy: "0.5",
    cylinderProof: "",
    cylinderCalibrated: "",
    cylinderReplaced: false,
    cylinderCalibration: noCalibration,
    lineSensor: true,
    lineRange: "",
    lineAccuracy: "0.5",
    lineProof: "",
    lineCalibrated: "",
    lineReplaced: false,
    lineCalibration: noCalibration,
    carried: null,
    taken: null,
    ratedRegulator: [],
    ratedCylinder: [],
    ratedLine: [],
    process: "",
    material: "",
    transfer: "",
    cup: "",
    gasLens: false,
    nozzleBore: "",
    amps: "",
    minimum: "",
    target: "",
    maximum: "",
    room: "",
    airChanges: "",
    confined: false,
    altitude: "",
  };
}

/** Where the water volume is from once it no longer counts as stamped: what was held before that. */
export function unstamped(
  form: Pick<SetupForm, "volumeFrom">,
  base: StationDocument | null,
  units: TypedUnits,
): SetupForm["volumeFrom"] {
  if (form.volumeFrom !== "stamped") return form.volumeFrom;
  // Ticked before this step was opened anew: what is stored says what stood there.
  const stored = base?.cylinder ? formOf(base, units).volumeFrom : "catalogue";
  return stored === "stamped" ? "catalogue" : stored;
}

/** The form of a station that is here. */
export function formOf(document: StationDocument, units: TypedUnits): SetupForm {
  const { cylinder, regulator, flowDevice: device, sensors, procedure, place, hose } = document;
  const bar = (value: number | undefined) => pressureShown(value, units.pressure);
  const form = newForm(document.site, document.node ?? "", units);
  const compressed = cylinder && "filledBar" in cylinder ? cylinder : null;
  const liquid = cylinder && "filledKg" in cylinder ? cylinder : null;
  const uncertainty = cylinder?.waterVolumeUPercent;
  return {
    ...form,
    name: document.name ?? document.station,
    altitude: numberShown(document.altitudeM),
    supply: document.supply ?? "",
    ownRegulator: document.regulator != null,
    gas: cylinder?.gas ?? "",
    waterVolume: numberShown(cylinder?.waterVolumeL),
    volumeFrom: uncertainty === 0.5 ? "stamped" : uncertainty === 2 ? "catalogue" : "",
    count: numberShown(cylinder?.count ?? 1),
    filled: bar(compressed?.filledBar as number | undefined),
    filledTemperature: temperatureShown(
      compressed?.filledC as number | undefined,
      units.temperature,
    ),
    filledKg: numberShown(liquid?.filledKg as number | undefined),
    tareKg: numberShown(liquid?.tareKg as number | undefined),
    residual: bar(cylinder?.residualBar),
    stages: regulator?.stages === 2 ? "2" : "1",
    adjust: regulator?.adjust ?? "",
    delivery: bar(regulator?.deliveryBar),
    maxLine: bar(regulator?.maxLineBar),
    relief: bar(regulator?.reliefBar),
    heated: regulator?.heated ?? false,
    ...deviceForm(device, cylinder?.composition, bar),
    lineTap: document.lineTap ?? "regulator-outlet",
    hoseLength: numberShown(hose?.lengthM),
    hoseBore: numberShown(hose?.boreMm),
    ...sensorsForm(sensors, units),
    ratedRegulator: regulator?.ratedFor ?? [],
    process: procedure?.process ?? "",
    material: procedure?.material ?? "",
    transfer: procedure?.transfer ?? "",
    cup: numberShown(procedure?.cup),
    gasLens: procedure?.gasLens ?? false,
    nozzleBore: numberShown(procedure?.nozzleBoreMm),
    amps: numberShown(procedure?.amps),
    minimum: numberShown(procedure?.minimumLpm),
    target: numberShown(procedure?.targetLpm),
    maximum: numberShown(procedure?.maximumLpm),
    room: numberShown(place?.roomM3),
    airChanges: numberShown(place?.airChangesPerHour),
    confined: place?.confined ?? false,
  };
}

/** The sensors' part of a form. */
export function sensorsForm(sensors: SensorsDocument | undefined, units: TypedUnits) {
  const bar = (value: number | undefined) => pressureShown(value, units.pressure);
  const { cylinder, line } = sensors ?? {};
  return {
    cylinderRange: bar(cylinder?.rangeBar),
    cylinderAccuracy: numberShown(cylinder?.accuracyPercentFs ?? 0.5),
    cylinderProof: bar(cylinder?.proofBar),
    cylinderCalibrated: dayShown(cylinder?.calibrated),
    lineSensor: line !== undefined,
    lineRange: bar(line?.rangeBar),
    lineAccuracy: numberShown(line?.accuracyPercentFs ?? 0.5),
    lineProof: bar(line?.proofBar),
    lineCalibrated: dayShown(line?.calibrated),
    ratedCylinder: cylinder?.ratedFor ?? [],
    ratedLine: line?.ratedFor ?? [],
    ...weighForm(sensors?.scale),
  } satisfies Partial<SetupForm>;
}

function deviceForm(
  device: StationDocument["flowDevice"],
  gas: Record<string, number | undefined> | undefined,
  bar: (value: number | undefined) => string,
): Partial<SetupForm> {
  if (!device) return {};
  const common = {
    device: device.kind,
    unit: device.readingUnit,
    scaleMin: numberShown(device.scaleMin),
    scaleMax: numberShown(device.scaleMax),
    reading: numberShown(device.reading),
  };
  if (device.kind === "metered") return { ...common, scaleGas: gasText(device.meterGas, gas) };
  const scaleGas = gasText(device.scaleGas, gas);
  if (device.kind === "orifice-gauge") {
    return {
      ...common,
      scaleGas,
      dialPressure: bar(device.scaleReadsAt?.bar),
      dialReading: numberShown(device.scaleReadsAt?.reading),
    };
  }
  return {
    ...common,
    scaleGas,
    scalePressure: bar(device.scaleBar),
    valve: device.valve,
    ...(device.float ? { float: device.float } : {}),
    ...(device.readAt ? { readAt: device.readAt } : {}),
  };
}

/** The designation of a scale's gas; empty where it is the cylinder's own. */
function gasText(
  scale: Record<string, number | undefined> | undefined,
  cylinder: Record<string, number | undefined> | undefined,
): string {
  if (!scale || JSON.stringify(scale) === JSON.stringify(cylinder)) return "";
  return designationOf(scale as Parameters<typeof designationOf>[0]);
}
