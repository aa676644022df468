import type { FlowDeviceDocument } from "../documents/hardware.ts";
import type { StationDocument } from "../documents/station.ts";
import { dialReadingM3PerS, type OrificeGaugeScale } from "../flow/orifice-gauge.ts";
import { conductanceForGas, molarFlowMolPerS } from "../flow/restriction.ts";
import { COVERAGE_95, sigmaOfLimit } from "../flow/uncertainty.ts";
import { correctionSigma, type VariableAreaScale } from "../flow/variable-area.ts";
import type { Composition } from "../gases/composition.ts";
import { createMixture, type Mixture } from "../gases/mixture.ts";
import { atmosphericPressurePa } from "../units/atmosphere.ts";
import {
  ATMOSPHERE_PA,
  BAR_PA,
  CELSIUS_ZERO_K,
  CFH_M3_PER_S,
  LITRE_PER_MINUTE_M3_PER_S,
} from "../units/factors.ts";
import { referenceConditions, standardDensityMolPerM3 } from "../units/reference-conditions.ts";
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
  const unit = 1 / (cfh ? CFH_M3_PER_S : LITRE_PER_MINUTE_M3_PER_S);
  const reference = device.scaleReference ?? (cfh ? "us" : "metric20");
  const { metric20, [reference]: printed } = referenceConditions;
  // Ideal gas: a scale is read to a percent, and its gas differs from 1 by 0.1 %.
  const volume =
    (metric20.pressurePa / printed.pressurePa) * (printed.temperatureK / metric20.temperatureK);
  return unit * volume;
}

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
    device.lineSigmaPa = sensor ? p.sensorReadingPa.sigma : p.plainGaugeReadingPa.sigma;
  }
  if (readings.some((reading) => reading.trueSharedSigma > 0)) put("meter-shared", 0, 1);
  const { scaleMin, scaleMax } = flowDevice;
  device.scaleMinM3PerS = scaleMin === undefined ? null : readingToM3PerS(scaleMin, flowDevice);
  device.scaleMaxM3PerS = scaleMax === undefined ? null : readingToM3PerS(scaleMax, flowDevice);
}
