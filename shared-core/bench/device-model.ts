import type { FlowDeviceDocument } from "../documents/hardware.ts";
import type { StationDocument } from "../documents/station.ts";
import { dialReadingM3PerS, type OrificeGaugeScale } from "../flow/orifice-gauge.ts";
import {
  conductanceForGas,
  flowFraction,
  molarFlowMolPerS,
  type Restriction,
} from "../flow/restriction.ts";
import { COVERAGE_95, sigmaOfLimit } from "../flow/uncertainty.ts";
import { correctionSigma, massFlowFactor, type VariableAreaScale } from "../flow/variable-area.ts";
import type { Composition } from "../gases/composition.ts";
import { createMixture, type Mixture } from "../gases/mixture.ts";
import { throttle } from "../regulator/throttling.ts";
import { atmosphericPressurePa } from "../units/atmosphere.ts";
import {
  ATMOSPHERE_PA,
  BAR_PA,
  CELSIUS_ZERO_K,
  LITRE_PER_MINUTE_M3_PER_S,
} from "../units/factors.ts";
import { standardDensityMolPerM3 } from "../units/reference-conditions.ts";
import { benchPriors } from "./priors.ts";
import type { BenchReading } from "./readings.ts";

export { COVERAGE_95 };

/** What is known of the device before the test: the station's documents as mixtures and SI. */
export interface BenchDevice {
  kind: FlowDeviceDocument["kind"];
  mixture: Mixture;
  /** Printed scale of a tube; null for other kinds. */
  tube: VariableAreaScale | null;
  valve: "after-tube" | "before-tube";
  dial: OrificeGaugeScale | null;
  /** Sonic conductance that the dial's own orifice has for the gas that flows. */
  dialConductance: number | null;
  atmospherePa: number;
  /** Full cylinder, gauge Pa: where the delivery pressure is stated. */
  fullPa: number;
  /** Flow at which the delivery pressure is stated, mol/s. */
  referenceMolPerS: number;
  /** mol/m³ of the gas that flows and of the scale's gas at `metric20`. */
  standardMolPerM3: number;
  lineTap: "regulator-outlet" | "hose";
  priors: Prior[];
  lineSigmaPa: number;
  scaleMinM3PerS: number | null;
  scaleMaxM3PerS: number | null;
}

/** Names of what is fitted; `set-…` exists once for each setting of the device. */
export type ParameterName =
  | "scale-pressure"
  | "scale-error"
  | "delivery-pressure"
  | "supply-pressure-effect"
  | "droop"
  | "critical-ratio"
  | "back-pressure"
  | "gas-cooling"
  | "line-gauge-offset"
  | "meter-shared";

export interface Prior {
  name: ParameterName;
  mean: number;
  sigma: number;
}

/** State of device and line at one cylinder pressure and one setting. */
export interface Operating {
  molPerS: number;
  /** Absolute Pa before the restriction. */
  deliveryPa: number;
  /** Absolute Pa behind it. */
  hosePa: number;
  indicatedM3PerS: number;
  choked: boolean;
}

/** Parameter values by name; each setting has its own ln(conductance), or set pressure. */
export interface DeviceState {
  values: Record<ParameterName, number>;
  setting: number;
  /** Cylinder pressure at which a dialled pressure was set (orifice gauge), gauge Pa. */
  setAtPa: number;
  /** Flow at that moment, mol/s. */
  setMolPerS: number;
}

export interface Surroundings {
  cylinderPa: number;
  temperatureK: number;
  atmospherePa: number;
  meterDropPa: number;
  /** Temperature drop from cylinder to line pressure without heat intake, K. */
  throttlingDropK: number;
}

/** True where turning the device changes the line's pressure, not a valve's opening. */
export function setsPressure(device: BenchDevice): boolean {
  return device.kind === "orifice-gauge";
}

/** Builds the device from the station's documents. @throws PhysicsError for impossible figures */
export function benchDevice(
  station: StationDocument,
  flowDevice: FlowDeviceDocument,
  gas: Composition,
  readings: readonly BenchReading[],
): BenchDevice {
  const mixture = createMixture(gas);
  const standardMolPerM3 = standardDensityMolPerM3(mixture, "metric20");
  const atmospherePa = atmosphericPressurePa(station.altitudeM ?? 0);
  const cylinder = station.cylinder;
  const highest = Math.max(...readings.map((reading) => reading.cylinderPa));
  const filled =
    cylinder && "filledBar" in cylinder ? Number(cylinder.filledBar) * BAR_PA : highest;
  const flows = readings.map((one) => one.trueM3PerS ?? one.indicatedM3PerS ?? 0);
  const referenceM3PerS = flows.find((flow) => flow > 0) ?? 10 * LITRE_PER_MINUTE_M3_PER_S;
  const tube = flowDevice.kind === "variable-area" ? tubeScale(flowDevice) : null;
  const dial = flowDevice.kind === "orifice-gauge" ? dialScale(flowDevice) : null;
  const device: BenchDevice = {
    kind: flowDevice.kind,
    mixture,
    tube,
    valve: flowDevice.kind === "variable-area" ? flowDevice.valve : "after-tube",
    dial,
    dialConductance: dial === null ? null : dialConductance(dial, mixture),
    atmospherePa,
    fullPa: filled,
    referenceMolPerS: referenceM3PerS * standardMolPerM3,
    standardMolPerM3,
    lineTap: station.lineTap ?? "regulator-outlet",
    priors: [],
    lineSigmaPa: 0,
    scaleMinM3PerS: null,
    scaleMaxM3PerS: null,
  };
  addPriors(device, station, flowDevice, readings);
  return device;
}

function tubeScale(
  device: Extract<FlowDeviceDocument, { kind: "variable-area" }>,
): VariableAreaScale {
  return {
    mixture: createMixture(device.scaleGas),
    pressurePa: device.scaleBar * BAR_PA + ATMOSPHERE_PA,
    temperatureK: (device.scaleC ?? 21) + CELSIUS_ZERO_K,
    reference: "metric20",
  };
}

function dialScale(
  device: Extract<FlowDeviceDocument, { kind: "orifice-gauge" }>,
): OrificeGaugeScale {
  const base = {
    mixture: createMixture(device.scaleGas),
    temperatureK: (device.scaleC ?? 21) + CELSIUS_ZERO_K,
    reference: "metric20" as const,
  };
  if (device.scaleReadsAt) {
    return {
      ...base,
      readsAt: {
        gaugePa: device.scaleReadsAt.bar * BAR_PA,
        indicatedM3PerS: readingToM3PerS(device.scaleReadsAt.reading, device),
      },
    };
  }
  return {
    ...base,
    orificeM: (device.orificeMm ?? 0) / 1000,
    ...(device.cd === undefined ? {} : { dischargeCoefficient: device.cd }),
  };
}

/** A figure printed on the device as `metric20` standard m³/s. */
export function readingToM3PerS(reading: number, device: FlowDeviceDocument): number {
  return reading / readingPerM3PerS(device);
}

/** Printed units for one `metric20` standard m³/s: unit, then reference. */
export function readingPerM3PerS(device: FlowDeviceDocument): number {
  const cfh = device.readingUnit === "CFH";
  const unit = cfh ? 127_132.800_021_8 : 60_000;
  const reference = device.scaleReference ?? (cfh ? "us" : "metric20");
  return unit / referenceFactors[reference];
}

/** `metric20` volume over the volume at a reference, ideal gas: 1.0 for `metric20`. */
const referenceFactors = {
  us: ((14.696 * 6894.757_293_168) / 101_325) * (293.15 / 294.261_111),
  trade: (100_000 / 101_325) * (293.15 / 288.15),
  iso: 293.15 / 288.15,
  normal: 293.15 / 273.15,
  metric20: 1,
} as const;

function dialConductance(dial: OrificeGaugeScale, mixture: Mixture): number {
  const upstreamPa = 3 * BAR_PA;
  const molPerS =
    dialReadingM3PerS(dial, upstreamPa) * standardDensityMolPerM3(dial.mixture, "metric20");
  const forDialGas =
    molPerS /
    molarFlowMolPerS(
      { law: "iso-6358", criticalRatio: 0.5, sonicConductanceM3PerSPa: 1 },
      upstreamPa + ATMOSPHERE_PA,
      0,
      dial.temperatureK,
    );
  return conductanceForGas(forDialGas, dial.mixture, mixture, upstreamPa);
}

function addPriors(
  device: BenchDevice,
  station: StationDocument,
  flowDevice: FlowDeviceDocument,
  readings: readonly BenchReading[],
): void {
  const put = (name: ParameterName, mean: number, sigma: number) =>
    device.priors.push({ name, mean, sigma });
  const p = benchPriors;
  const noTemperature = readings.some((reading) => reading.ambientK === null);
  const warmth = noTemperature ? p.temperature.sigma : 0;
  if (device.tube && flowDevice.kind === "variable-area") {
    const gasSigma = correctionSigma(
      device.tube,
      { mixture: device.mixture, pressurePa: device.tube.pressurePa, temperatureK: 293.15 },
      flowDevice.float ?? "ball",
    );
    put("scale-pressure", Math.log(device.tube.pressurePa), p.scalePressureLn.sigma);
    put("scale-error", 0, Math.hypot(p.scaleError.sigma, gasSigma, warmth));
  } else {
    const sigma = device.dial ? p.dialError.sigma : p.meterError.sigma;
    put("scale-error", 0, Math.hypot(sigma, warmth));
  }
  const stated = station.regulator?.deliveryBar;
  if (!setsPressure(device)) {
    const mean = Math.log((stated ?? 3) * BAR_PA + device.atmospherePa);
    put("delivery-pressure", mean, stated ? p.deliveryLn.sigma : p.deliveryUnknownLn.sigma);
  }
  const supply = station.regulator?.stages === 2 ? p.supplyEffectTwoStage : p.supplyEffectOneStage;
  put("supply-pressure-effect", supply.mean, supply.sigma);
  const tenLpm = 10 * LITRE_PER_MINUTE_M3_PER_S * device.standardMolPerM3;
  put("droop", p.droopPaAt10Lpm.mean / tenLpm, p.droopPaAt10Lpm.sigma / tenLpm);
  put("critical-ratio", p.criticalRatio.mean, p.criticalRatio.sigma);
  put("back-pressure", p.backPressurePa.mean, p.backPressurePa.sigma);
  put("gas-cooling", p.gasCooling.mean, p.gasCooling.sigma);
  if (readings.some((reading) => reading.linePa !== null)) {
    const sensor = station.sensors?.line;
    const classPa = sensor
      ? sigmaOfLimit((sensor.accuracyPercentFs / 100) * sensor.rangeBar * BAR_PA)
      : p.plainGaugePa.sigma;
    put("line-gauge-offset", 0, classPa);
    device.lineSigmaPa = sensor
      ? Math.hypot(p.sensorReadingPa.sigma, 0.3 * classPa)
      : p.plainGaugeReadingPa.sigma;
  }
  if (readings.some((reading) => reading.trueSharedSigma > 0)) put("meter-shared", 0, 1);
  const { scaleMin, scaleMax } = flowDevice;
  device.scaleMinM3PerS = scaleMin === undefined ? null : readingToM3PerS(scaleMin, flowDevice);
  device.scaleMaxM3PerS = scaleMax === undefined ? null : readingToM3PerS(scaleMax, flowDevice);
}

/** Gauge pressure at the regulator's outlet for a flow, Pa; may be negative where it cannot be. */
export function outletGaugePa(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  molPerS: number,
): number {
  const { values } = state;
  if (setsPressure(device)) {
    return (
      state.setting +
      values["supply-pressure-effect"] * (state.setAtPa - at.cylinderPa) -
      values.droop * (molPerS - state.setMolPerS)
    );
  }
  return (
    Math.exp(values["delivery-pressure"]) -
    device.atmospherePa +
    values["supply-pressure-effect"] * (device.fullPa - at.cylinderPa) -
    values.droop * (molPerS - device.referenceMolPerS)
  );
}

/** Temperature in tube and restriction: the regulator's body gives back most of the drop, K. */
export function flowingK(state: DeviceState, at: Surroundings): number {
  return Math.max(150, at.temperatureK - state.values["gas-cooling"] * at.throttlingDropK);
}

/** Temperature drop by throttling from a cylinder pressure (gauge Pa) to the line, K. */
export function throttlingDropK(
  mixture: Mixture,
  cylinderPa: number,
  temperatureK: number,
): number {
  const linePa = 4.5 * BAR_PA;
  if (cylinderPa + ATMOSPHERE_PA <= linePa) return 0;
  const after = throttle(mixture, cylinderPa + ATMOSPHERE_PA, temperatureK, linePa);
  // Where the gas would condense the drop ends; more than this no body lets through.
  return after.ok ? Math.min(LARGEST_DROP_K, temperatureK - after.value.temperatureK) : 0;
}

const LARGEST_DROP_K = 60;

/** Absolute pressure behind the restriction while a flow passes. */
export function hosePressurePa(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  molPerS: number,
): number {
  const back = Math.max(0, state.values["back-pressure"]);
  return at.atmospherePa + at.meterDropPa + back * (molPerS / device.referenceMolPerS) ** 2;
}

/** The restriction as set: a valve's conductance, or the orifice that the dial belongs to. */
export function restrictionOf(device: BenchDevice, state: DeviceState): Restriction {
  const conductance = setsPressure(device)
    ? (device.dialConductance ?? 0) * (1 + state.values["scale-error"])
    : Math.exp(state.setting);
  return {
    law: "iso-6358",
    criticalRatio: Math.min(0.9, Math.max(0.05, state.values["critical-ratio"])),
    sonicConductanceM3PerSPa: conductance,
  };
}

/** Where a falling function meets its argument: false position, Illinois variant. */
function crossing(passes: (flow: number) => number): number {
  let low = 0;
  let above = passes(0);
  let high = Math.max(above, 1e-9);
  let below = passes(high) - high;
  let middle = high;
  for (let k = 0, side = 0; k < 100 && high - low > 1e-14 * high; k++) {
    middle = below < above ? low + ((high - low) * above) / (above - below) : (low + high) / 2;
    const value = passes(middle) - middle;
    if (Math.abs(value) <= 1e-14 * high) break;
    if (value > 0) {
      low = middle;
      above = value;
      if (side === 1) below /= 2;
      side = 1;
    } else {
      high = middle;
      below = value;
      if (side === -1) above /= 2;
      side = -1;
    }
  }
  return middle;
}

/** Flow, pressures and reading of the device at one cylinder pressure. */
export function operate(device: BenchDevice, state: DeviceState, at: Surroundings): Operating {
  const restriction = restrictionOf(device, state);
  const passes = (molPerS: number): number =>
    molarFlowMolPerS(
      restriction,
      Math.max(1, outletGaugePa(device, state, at, molPerS) + at.atmospherePa),
      hosePressurePa(device, state, at, molPerS),
      flowingK(state, at),
    );
  const molPerS = Math.max(crossing(passes), 1e-12);
  return { molPerS, ...readingAt(device, state, at, molPerS) };
}

/** Pressures and reading where a flow is known to pass. */
export function readingAt(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  molPerS: number,
): Omit<Operating, "molPerS"> {
  const deliveryPa = Math.max(1, outletGaugePa(device, state, at, molPerS) + at.atmospherePa);
  const hosePa = hosePressurePa(device, state, at, molPerS);
  return {
    deliveryPa,
    hosePa,
    choked: flowFraction(restrictionOf(device, state), hosePa / deliveryPa) > 0.999,
    indicatedM3PerS: indicated(device, state, at, molPerS, deliveryPa, hosePa),
  };
}

function indicated(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  molPerS: number,
  deliveryPa: number,
  hosePa: number,
): number {
  const scaleError = 1 + state.values["scale-error"];
  if (device.dial) return dialReadingM3PerS(device.dial, deliveryPa - at.atmospherePa);
  if (!device.tube) return molPerS / device.standardMolPerM3 / scaleError;
  const scale = { ...device.tube, pressurePa: Math.exp(state.values["scale-pressure"]) };
  const tubePa = device.valve === "after-tube" ? deliveryPa : hosePa;
  const factor = massFlowFactor(scale, {
    mixture: device.mixture,
    pressurePa: Math.max(tubePa, 1000),
    temperatureK: flowingK(state, at),
  });
  const scaleKgPerM3 =
    standardDensityMolPerM3(scale.mixture, "metric20") * scale.mixture.molarMassKgPerMol;
  return (molPerS * device.mixture.molarMassKgPerMol) / (factor * scaleError) / scaleKgPerM3;
}
