import type { Mixture } from "../gases/mixture.ts";
import { ATMOSPHERE_PA, BAR_PA, CELSIUS_ZERO_K, FAHRENHEIT_ZERO_K, PSI_PA } from "./factors.ts";

/** Names of the reference conditions a standard volume can refer to. */
export const referenceNames = ["us", "trade", "iso", "normal", "metric20"] as const;

export type ReferenceName = (typeof referenceNames)[number];

/** Temperature and absolute pressure at which a standard volume is counted. */
export type ReferenceConditions = Readonly<{
  name: ReferenceName;
  /** How a person would say it. */
  text: string;
  temperatureK: number;
  pressurePa: number;
  source: string;
}>;

export const referenceConditions: Readonly<Record<ReferenceName, ReferenceConditions>> = {
  us: {
    name: "us",
    text: "70 °F, 14.696 psia",
    temperatureK: FAHRENHEIT_ZERO_K + 70 / 1.8,
    pressurePa: 14.696 * PSI_PA,
    source: "cga-p-11",
  },
  trade: {
    name: "trade",
    text: "15 °C, 1 bar absolute",
    temperatureK: CELSIUS_ZERO_K + 15,
    pressurePa: BAR_PA,
    source: "trade-practice",
  },
  iso: {
    name: "iso",
    text: "15 °C, 101.325 kPa",
    temperatureK: CELSIUS_ZERO_K + 15,
    pressurePa: ATMOSPHERE_PA,
    source: "iso-13443",
  },
  normal: {
    name: "normal",
    text: "0 °C, 101.325 kPa",
    temperatureK: CELSIUS_ZERO_K,
    pressurePa: ATMOSPHERE_PA,
    source: "din-1343",
  },
  metric20: {
    name: "metric20",
    text: "20 °C, 101.325 kPa",
    temperatureK: CELSIUS_ZERO_K + 20,
    pressurePa: ATMOSPHERE_PA,
    source: "trade-practice",
  },
};

const densities = new WeakMap<Mixture, Map<ReferenceName, number>>();

/**
 * Real molar density of a gas at reference conditions, mol/m³: what turns mol into a standard
 * volume and back. (The ideal gas would be wrong by 0.6 % for CO2.) Remembered for each mixture.
 */
export function standardDensityMolPerM3(mixture: Mixture, reference: ReferenceName): number {
  let known = densities.get(mixture);
  if (known === undefined) {
    known = new Map();
    densities.set(mixture, known);
  }
  let density = known.get(reference);
  if (density === undefined) {
    const { pressurePa, temperatureK } = referenceConditions[reference];
    density = mixture.densityMolPerM3(pressurePa, temperatureK);
    known.set(reference, density);
  }
  return density;
}

/** Standard volume of an amount, m³. */
export function standardVolumeM3(mol: number, mixture: Mixture, reference: ReferenceName): number {
  return mol / standardDensityMolPerM3(mixture, reference);
}

/** Amount in a standard volume, mol. */
export function molOfStandardVolume(
  volumeM3: number,
  mixture: Mixture,
  reference: ReferenceName,
): number {
  return volumeM3 * standardDensityMolPerM3(mixture, reference);
}

/** A molar flow as standard litres per minute. */
export function standardLitresPerMinute(
  molPerS: number,
  mixture: Mixture,
  reference: ReferenceName,
): number {
  return (molPerS * 60_000) / standardDensityMolPerM3(mixture, reference);
}

/** Molar flow, mol/s, of a flow in standard litres per minute. */
export function molPerSOfLitresPerMinute(
  litresPerMinute: number,
  mixture: Mixture,
  reference: ReferenceName,
): number {
  return (litresPerMinute / 60_000) * standardDensityMolPerM3(mixture, reference);
}

/**
 * A standard volume, or flow, of one gas at another reference: a second step, apart from the
 * change of unit.
 */
export function changeReference(
  volume: number,
  mixture: Mixture,
  from: ReferenceName,
  to: ReferenceName,
): number {
  return (volume * standardDensityMolPerM3(mixture, from)) / standardDensityMolPerM3(mixture, to);
}
