import type { ReadingUnit, ReferenceName } from "../documents/common.ts";
import type { FlowDeviceDocument } from "../documents/hardware.ts";
import { ATMOSPHERE_PA, CFH_M3_PER_S, LITRE_PER_MINUTE_M3_PER_S } from "../units/factors.ts";
import { standardDensityMolPerM3 } from "../units/reference-conditions.ts";
import { type FittedDevice, readDeviceFit } from "./device-fit.ts";
import { GasModel, ZERO_C } from "./gas-model.ts";

/**
 * A flow device's scale: true molar flow from its reading and back.
 * Pressures are absolute in the tube (or at the dial's gauge), in Pa.
 */
export interface DevicePlan {
  document: FlowDeviceDocument | null;
  /** What a bench test of this device found; null where none was made. */
  fit: FittedDevice | null;
  unit: ReadingUnit | null;
  scaleMin: number | null;
  scaleMax: number | null;
  /** Scale reading for a molar flow (mol/s) at a tube pressure and temperature; null without scale. */
  indicated(molPerS: number, pressurePa: number, temperatureK: number): number | null;
  /** True molar flow for a scale reading; null without scale. */
  trueFlow(reading: number, pressurePa: number, temperatureK: number): number | null;
  /** Pressure (absolute) at which a dial shows a reading, for orifice gauges; else null. */
  dialPressurePa(reading: number): number | null;
}

const none = (): null => null;

export function planDevice(
  document: FlowDeviceDocument | null,
  gas: GasModel,
  atmospherePa: number,
): DevicePlan {
  const fit = readDeviceFit(document?.fit);
  const shared = {
    document,
    fit,
    unit: document?.readingUnit ?? null,
    scaleMin: document?.scaleMin ?? null,
    scaleMax: document?.scaleMax ?? null,
  };
  if (document === null) {
    return { ...shared, indicated: none, trueFlow: none, dialPressurePa: none };
  }
  const reference: ReferenceName =
    document.scaleReference ?? (document.readingUnit === "CFH" ? "us" : "metric20");
  const m3PerS = document.readingUnit === "CFH" ? CFH_M3_PER_S : LITRE_PER_MINUTE_M3_PER_S;
  if (document.kind === "metered") {
    // Reads the true flow of the gas it is set for, in its own standard litres.
    const perReading = m3PerS * standardDensityMolPerM3(gas.mixture, reference);
    return {
      ...shared,
      indicated: (molPerS) => molPerS / perReading,
      trueFlow: (reading) => reading * perReading,
      dialPressurePa: none,
    };
  }
  const scaleGas = new GasModel(document.scaleGas);
  const massPerReading =
    m3PerS *
    standardDensityMolPerM3(scaleGas.mixture, reference) *
    scaleGas.mixture.molarMassKgPerMol;
  const molar = gas.mixture.molarMassKgPerMol;
  // True flow above what the scale means.
  const error = 1 + (fit?.scaleError?.value ?? 0);
  if (document.kind === "variable-area") {
    const scaleK = (document.scaleC ?? 21) + ZERO_C;
    const scalePa = fit?.scalePa?.value ?? document.scaleBar * 1e5;
    const scaleDensity = massDensity(scaleGas, scalePa + ATMOSPHERE_PA, scaleK);
    // Same float position: mass flow goes with the square root of the density in the tube.
    const factor = (pressurePa: number, temperatureK: number): number =>
      error * Math.sqrt(massDensity(gas, pressurePa, temperatureK) / scaleDensity);
    return {
      ...shared,
      indicated: (molPerS, pressurePa, temperatureK) =>
        (molPerS * molar) / (massPerReading * factor(pressurePa, temperatureK)),
      trueFlow: (reading, pressurePa, temperatureK) =>
        (reading * massPerReading * factor(pressurePa, temperatureK)) / molar,
      dialPressurePa: none,
    };
  }
  // Orifice gauge: the dial shows its pressure, whatever the hole really passes; the dial is the choked flow of the scale's gas, linear in absolute pressure.
  const perPa = dialPerPa(document, scaleGas, massPerReading);
  // Choked flow of another gas through the same hole: critical flow functions and molar masses.
  const ratio =
    (criticalFunction(gas) / criticalFunction(scaleGas)) *
    Math.sqrt(molar / scaleGas.mixture.molarMassKgPerMol);
  return {
    ...shared,
    indicated: (_molPerS, pressurePa) => perPa * (pressurePa - atmospherePa + ATMOSPHERE_PA),
    trueFlow: (reading) => (reading * massPerReading * ratio * error) / molar,
    dialPressurePa: (reading) => reading / perPa - ATMOSPHERE_PA + atmospherePa,
  };
}

function massDensity(gas: GasModel, pressurePa: number, temperatureK: number): number {
  const density = gas.densityAt(Math.max(pressurePa, 1000), temperatureK);
  const known = Number.isFinite(density) ? density : pressurePa / (8.3145 * temperatureK);
  return known * gas.mixture.molarMassKgPerMol;
}

/** Reading of an orifice gauge's dial per absolute Pa. */
function dialPerPa(
  document: Extract<FlowDeviceDocument, { kind: "orifice-gauge" }>,
  scaleGas: GasModel,
  massPerReading: number,
): number {
  if (document.scaleReadsAt !== undefined) {
    return document.scaleReadsAt.reading / (document.scaleReadsAt.bar * 1e5 + ATMOSPHERE_PA);
  }
  const area = (Math.PI / 4) * ((document.orificeMm ?? 0.5) / 1000) ** 2;
  const temperatureK = (document.scaleC ?? 21) + ZERO_C;
  const specific = 8.314462618 / scaleGas.mixture.molarMassKgPerMol;
  const massPerPa =
    ((document.cd ?? 0.84) * area * criticalFunction(scaleGas)) /
    Math.sqrt(specific * temperatureK);
  return massPerPa / massPerReading;
}

/** C* = sqrt(g) (2/(g+1))^((g+1)/(2(g-1))) with the heat capacities of the thin gas at 20 °C. */
function criticalFunction(gas: GasModel): number {
  const density = gas.standardMolPerM3;
  const g = gas.mixture.cpJPerMolK(density, 293.15) / gas.mixture.cvJPerMolK(density, 293.15);
  return Math.sqrt(g) * (2 / (g + 1)) ** ((g + 1) / (2 * (g - 1)));
}

/** What is left of a device that a bench test found, by the next day: needle, torch, temperature; 1 sigma. */
const SINCE_TEST_SIGMA = 0.02;
/** A person reads a float or dial to about this, relative 1 sigma. */
const READ_SIGMA = 0.04;

/** A scale as it is made: limits of a tenth (from memory: flow gauges of regulators), as likely anywhere between. */
const SCALE_SIGMA = 0.06;
/** What a tube's pressure that nobody measures adds, or a hole that nobody tested; relative 1 sigma (common practice, no source). */
const SUPPOSED_SIGMA = 0.11;
/** Half a ball more or less, a tube that leans: what is not seen in a scale as it is made (common practice, no source). */
const HUNG_SIGMA = 0.07;

/**
 * Relative 1 sigma of the true flow that a reading of the scale means.
 *
 * @param measured whether a sensor tells the pressure that the scale is corrected for
 */
export function readingSigma(device: DevicePlan, measured: boolean): number {
  const { document, fit } = device;
  if (document?.kind === "metered") return 0.05;
  if (fit?.scaleSigma != null) return Math.hypot(fit.scaleSigma, READ_SIGMA);
  const corrected = measured && document?.kind === "variable-area";
  return Math.hypot(SCALE_SIGMA, HUNG_SIGMA, READ_SIGMA, corrected ? 0 : SUPPOSED_SIGMA);
}

/** Readings closer than this are the same setting, relative. */
const SAME_READING = 0.06;

/**
 * Flow of the device as the bench test left it, mol/s: an orifice does not change, and neither
 * does a needle that stands where it stood. Null where the test does not tell.
 *
 * @param linePa absolute pressure before the restriction
 * @param passes share of the choked flow at that pressure
 */
function testedFlow(
  device: DevicePlan,
  gas: GasModel,
  linePa: number,
  passes: number,
): { molPerS: number; sigma: number } | null {
  const { document, fit } = device;
  if (document === null || fit === null) return null;
  if (document.kind === "orifice-gauge") {
    const reading = device.indicated(0, linePa, 293.15);
    const molPerS = reading === null ? null : device.trueFlow(reading, linePa, 293.15);
    if (molPerS === null || !(molPerS > 0) || fit.scaleError === null) return null;
    return {
      molPerS: molPerS * passes,
      sigma: Math.hypot(fit.scaleError.sigma / (1 + fit.scaleError.value), SINCE_TEST_SIGMA),
    };
  }
  const { lpmPerPa, reading } = fit;
  if (lpmPerPa === null) return null;
  const set = document.reading;
  if (set !== undefined && reading !== null && Math.abs(set / reading - 1) > SAME_READING) {
    return null;
  }
  return {
    molPerS: ((lpmPerPa.value * linePa * passes) / 60_000) * gas.standardMolPerM3,
    sigma: Math.hypot(lpmPerPa.sigma / lpmPerPa.value, SINCE_TEST_SIGMA),
  };
}

/**
 * What flow to expect before anything is measured, mol/s, with the 1 sigma of its logarithm.
 *
 * @param line where the flow is counted: gauge pressure of the line before the restriction, the
 * share of choked flow there, and whether a sensor will tell the pressure; null for another tap
 */
export function flowPrior(
  device: DevicePlan,
  gas: GasModel,
  deliveryPa: number | null,
  atmospherePa: number,
  targetLpm: number | null,
  line: { pa: number; passes: number; measured: boolean } | null,
): { molPerS: number; sigma: number } {
  const { document } = device;
  const pressurePa = atmospherePa + (deliveryPa ?? 300_000);
  if (line !== null) {
    // Without a sensor the line stands where the test found it.
    const found = line.measured ? null : (device.fit?.deliveryPa ?? null);
    const tested = testedFlow(device, gas, atmospherePa + (found?.value ?? line.pa), line.passes);
    if (tested !== null) {
      const unsure = line.measured ? 0.006 : (device.fit?.flowSigma ?? 0.05);
      return { molPerS: tested.molPerS, sigma: Math.hypot(tested.sigma, unsure) };
    }
  }
  if (document !== null && document.reading !== undefined && document.reading > 0) {
    const molPerS = device.trueFlow(
      document.reading,
      tubePressure(device, pressurePa, atmospherePa),
      293.15,
    );
    if (molPerS !== null && molPerS > 0) {
      const sigma =
        device.fit?.scaleSigma == null
          ? 0.2
          : Math.max(readingSigma(device, line?.measured === true), 0.08);
      return { molPerS, sigma: document.kind === "metered" ? 0.08 : sigma };
    }
  }
  if (document?.kind === "orifice-gauge" && deliveryPa !== null) {
    const reading = device.indicated(0, pressurePa, 293.15);
    const molPerS = reading === null ? null : device.trueFlow(reading, pressurePa, 293.15);
    if (molPerS !== null && molPerS > 0) return { molPerS, sigma: 0.2 };
  }
  const lpm = targetLpm ?? 10;
  return { molPerS: (lpm / 60_000) * gas.standardMolPerM3, sigma: targetLpm === null ? 0.7 : 0.5 };
}

/** Absolute pressure in the device's tube when the line before it stands at `linePa` (absolute). */
export function tubePressure(device: DevicePlan, linePa: number, atmospherePa: number): number {
  const before =
    device.document?.kind === "variable-area" && device.document.valve === "before-tube";
  return before ? Math.min(linePa, atmospherePa + BACK_PRESSURE_PA) : linePa;
}

/** Hose and torch hold back a few psi at welding flow (3 to 8 psi, common practice). */
export const BACK_PRESSURE_PA = 25_000;
