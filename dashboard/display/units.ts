import type { ReadingUnit, ReferenceName } from "@leeward/shared-core/documents/common.ts";
import {
  BAR_PA,
  CFH_M3_PER_S,
  CUBIC_FOOT_M3,
  LITRE_PER_MINUTE_M3_PER_S,
  PSI_PA,
} from "@leeward/shared-core/units/factors.ts";
import { referenceConditions } from "@leeward/shared-core/units/reference-conditions.ts";

/** What one person wants to read. Readings of a device keep the unit printed on the device. */
export interface UnitChoice {
  flow: ReadingUnit;
  pressure: "bar" | "psi" | "kPa";
  temperature: "C" | "F";
  /** Reference conditions of every standard volume shown. */
  reference: ReferenceName;
}

export const metricUnits: UnitChoice = {
  flow: "L/min",
  pressure: "bar",
  temperature: "C",
  reference: "metric20",
};

export const usUnits: UnitChoice = {
  flow: "CFH",
  pressure: "psi",
  temperature: "F",
  reference: "us",
};

/** CFH in one L/min: a change of unit alone, at the same reference conditions. */
export const CFH_PER_LPM = LITRE_PER_MINUTE_M3_PER_S / CFH_M3_PER_S;

/**
 * Volume at `to` of the gas that fills 1 at `from`. Ideal gas: between these near-ambient states
 * the real-gas factor differs by less than 0.2 % (CO2, 0 °C), below what a screen resolves.
 */
export function referenceFactor(from: ReferenceName, to: ReferenceName): number {
  const a = referenceConditions[from];
  const b = referenceConditions[to];
  return (b.temperatureK / a.temperatureK) * (a.pressurePa / b.pressurePa);
}

/** A `metric20` flow in L/min, in the viewer's unit and reference. */
export function flowInUnit(lpm: number, units: UnitChoice): number {
  const atReference = lpm * referenceFactor("metric20", units.reference);
  return units.flow === "CFH" ? atReference * CFH_PER_LPM : atReference;
}

/** Litres (`metric20`) in the viewer's volume: m³ beside L/min, ft³ beside CFH. */
export function volumeInUnit(litres: number, units: UnitChoice): number {
  const atReference = litres * referenceFactor("metric20", units.reference);
  return units.flow === "CFH" ? (atReference * 1e-3) / CUBIC_FOOT_M3 : atReference / 1000;
}

export function volumeUnit(units: UnitChoice): "m³" | "ft³" {
  return units.flow === "CFH" ? "ft³" : "m³";
}

/** Gauge Pa in the viewer's unit. */
export function pressureInUnit(pa: number, units: UnitChoice): number {
  if (units.pressure === "psi") return pa / PSI_PA;
  return units.pressure === "kPa" ? pa / 1000 : pa / BAR_PA;
}

/** °C in the viewer's unit. */
export function temperatureInUnit(celsius: number, units: UnitChoice): number {
  return units.temperature === "F" ? celsius * 1.8 + 32 : celsius;
}

export function temperatureUnit(units: UnitChoice): "°C" | "°F" {
  return units.temperature === "F" ? "°F" : "°C";
}

/**
 * What a device shows, as `metric20` L/min, so that it can stand on the same line as the true flow.
 * CFH means `us` and L/min `metric20` unless the device says otherwise.
 */
export function readingToLpm(
  reading: number,
  unit: ReadingUnit,
  scaleReference?: ReferenceName,
): number {
  const reference = scaleReference ?? (unit === "CFH" ? "us" : "metric20");
  const lpm = unit === "CFH" ? reading / CFH_PER_LPM : reading;
  return lpm * referenceFactor(reference, "metric20");
}
