import { PhysicsError, type Result, requireWithin, toResult } from "../errors.ts";
import {
  carbonDioxideKgPerMol,
  criticalPoint,
  mayHoldLiquid,
  saturatedLiquidKgPerM3,
  saturatedVapourKgPerM3,
  sublimationPressurePa,
  triplePoint,
  vapourPressurePa,
} from "../gases/co2-saturation.ts";
import { isPure } from "../gases/composition.ts";
import type { Mixture } from "../gases/mixture.ts";
import { densityRelativeSigmaAt } from "../gases/model-uncertainty.ts";
import { type ReferenceName, standardVolumeM3 } from "../units/reference-conditions.ts";

/**
 * One cylinder, or `count` equal ones on a header. The water volume is that of the empty
 * cylinder; at 200 bar steel gives by 0.3 to 0.4 %, which the trade's content tables neglect and
 * so does this: it lies inside the uncertainty of a stamped water volume.
 */
export type CylinderSize = Readonly<{
  waterVolumeM3: number;
  /** Relative standard uncertainty: stamped 0.005, from a catalogue 0.02. */
  waterVolumeRelativeSigma?: number;
  count?: number;
}>;

/** Stamped water volume, unless a description says otherwise (common practice, no source). */
export const STAMPED_VOLUME_SIGMA = 0.005;

/** What is in a cylinder, with the uncertainty that equation and water volume bring. */
export type CylinderContent = Readonly<{
  mol: number;
  kg: number;
  /** Real density, mol/m³. */
  densityMolPerM3: number;
  compressibility: number;
  /** Relative standard uncertainty of the equation of state here. */
  modelRelativeSigma: number;
  /**
   * Relative standard uncertainty of equation and water volume together, for mol, kg and standard
   * volume alike; no sensors in it.
   */
  relativeSigma: number;
}>;

/**
 * Content of a cylinder of gas. For a cylinder that holds liquid CO2 see `liquid-co2.ts`: its
 * pressure says nothing about content, and this refuses with `GAS_NOT_VAPOUR`, from 2 % below
 * the vapour pressure on.
 *
 * @param pressurePa absolute
 * @param temperatureK of the gas, not of the room
 */
export function cylinderContent(
  mixture: Mixture,
  size: CylinderSize,
  pressurePa: number,
  temperatureK: number,
): Result<CylinderContent> {
  return toResult(() => {
    const volumeM3 = totalVolumeM3(size);
    const density = mixture.densityMolPerM3(pressurePa, temperatureK);
    if (isPure(mixture.composition, "CO2") && mayHoldLiquid(pressurePa, temperatureK)) {
      throw new PhysicsError(
        "GAS_NOT_VAPOUR",
        "pressurePa",
        pressurePa,
        "this is CO2's vapour pressure: there may be liquid below it. Weigh the cylinder.",
      );
    }
    const modelRelativeSigma = densityRelativeSigmaAt(mixture, pressurePa, temperatureK);
    return {
      mol: density * volumeM3,
      kg: density * volumeM3 * mixture.molarMassKgPerMol,
      densityMolPerM3: density,
      compressibility: mixture.compressibility(density, temperatureK),
      modelRelativeSigma,
      relativeSigma: Math.hypot(
        modelRelativeSigma,
        size.waterVolumeRelativeSigma ?? STAMPED_VOLUME_SIGMA,
      ),
    };
  });
}

/**
 * Amount in a cylinder, mol: the fast path of `cylinderContent`, without a word on liquid: at CO2's
 * vapour pressure it counts a cylinder full of vapour. @throws PhysicsError
 */
export function contentMol(
  mixture: Mixture,
  size: CylinderSize,
  pressurePa: number,
  temperatureK: number,
): number {
  return totalVolumeM3(size) * mixture.densityMolPerM3(pressurePa, temperatureK);
}

/** Standard volume in a cylinder, m³ at the reference. @throws PhysicsError */
export function contentStandardM3(
  mixture: Mixture,
  size: CylinderSize,
  pressurePa: number,
  temperatureK: number,
  reference: ReferenceName,
): number {
  return standardVolumeM3(contentMol(mixture, size, pressurePa, temperatureK), mixture, reference);
}

/** Pressure (absolute) of an amount in a cylinder at a temperature. @throws PhysicsError */
export function pressureOfContentPa(
  mixture: Mixture,
  size: CylinderSize,
  mol: number,
  temperatureK: number,
): number {
  return pressureAtDensityPa(mixture, mol / totalVolumeM3(size), temperatureK);
}

/**
 * Pressure (absolute) that a closed cylinder must show at another temperature: same gas, same
 * volume, real gas. @throws PhysicsError
 */
export function pressureAtTemperaturePa(
  mixture: Mixture,
  pressurePa: number,
  temperatureK: number,
  otherTemperatureK: number,
): number {
  const density = mixture.densityMolPerM3(pressurePa, temperatureK);
  return pressureAtDensityPa(mixture, density, otherTemperatureK);
}

/**
 * Amount above a floor pressure at the same gas temperature, mol; 0 below it.
 * Throws `PHYSICS_RANGE` for a pressure that is no number: a missing reading is not an empty cylinder.
 *
 * @param floorPa absolute: the higher of residual pressure and what the regulator needs
 */
export function usableMol(
  mixture: Mixture,
  size: CylinderSize,
  pressurePa: number,
  temperatureK: number,
  floorPa: number,
): number {
  requireWithin("pressurePa", pressurePa, 0, Number.POSITIVE_INFINITY);
  requireWithin("floorPa", floorPa, 0, Number.POSITIVE_INFINITY);
  if (pressurePa <= floorPa) {
    return 0;
  }
  const density = mixture.densityMolPerM3(pressurePa, temperatureK);
  const floor = mixture.densityMolPerM3(floorPa, temperatureK);
  return totalVolumeM3(size) * (density - floor);
}

/** Water volume that holds an amount at a settled fill, m³: what a content label implies. */
export function waterVolumeForContentM3(
  mixture: Mixture,
  mol: number,
  pressurePa: number,
  temperatureK: number,
): number {
  return mol / mixture.densityMolPerM3(pressurePa, temperatureK);
}

/** Water volume of all cylinders on the header, m³. @throws PhysicsError for impossible sizes */
export function totalVolumeM3(size: CylinderSize): number {
  const count = size.count ?? 1;
  requireWithin("waterVolumeM3", size.waterVolumeM3, 1e-5, 10);
  if (!Number.isInteger(count) || count < 1 || count > 1000) {
    throw new PhysicsError("PHYSICS_RANGE", "count", count, "give a whole number from 1 to 1000.");
  }
  return size.waterVolumeM3 * count;
}

/**
 * p(rho, T); pure CO2 denser than its saturated vapour shows its vapour pressure, or that of dry
 * ice. Refuses where the equation has its loop: that gas has condensed, and no pressure is right.
 */
function pressureAtDensityPa(mixture: Mixture, density: number, temperatureK: number): number {
  if (isPure(mixture.composition, "CO2") && temperatureK < criticalPoint.temperatureK) {
    const kgPerM3 = density * carbonDioxideKgPerMol;
    const dryIce = temperatureK < triplePoint.temperatureK;
    const saturationPa = dryIce
      ? sublimationPressurePa(temperatureK)
      : vapourPressurePa(temperatureK);
    const vapourKgPerM3 = dryIce
      ? mixture.densityMolPerM3(saturationPa, temperatureK) * carbonDioxideKgPerMol
      : saturatedVapourKgPerM3(temperatureK);
    if (kgPerM3 > vapourKgPerM3 && (dryIce || kgPerM3 < saturatedLiquidKgPerM3(temperatureK))) {
      return saturationPa;
    }
  }
  const pressurePa = mixture.pressurePa(density, temperatureK);
  if (density > 0 && !(pressurePa > 0 && mixture.dPressureDDensity(density, temperatureK) > 0)) {
    throw new PhysicsError(
      "GAS_NOT_VAPOUR",
      "temperatureK",
      temperatureK,
      `at ${density.toFixed(0)} mol/m³ this gas has condensed; see coldLimitK in gases/dew-point.ts.`,
    );
  }
  return pressurePa;
}
