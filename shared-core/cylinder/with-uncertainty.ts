import { type Result, requireWithin, toResult } from "../errors.ts";
import {
  carbonDioxideKgPerMol,
  criticalPoint,
  highestGasPressurePa,
  saturatedLiquidKgPerM3,
  saturatedVapourKgPerM3,
  triplePoint,
} from "../gases/co2-saturation.ts";
import { isPure } from "../gases/composition.ts";
import type { Mixture } from "../gases/mixture.ts";
import { densityRelativeSigma, densityRelativeSigmaAt } from "../gases/model-uncertainty.ts";
import {
  type CylinderSize,
  pressureAtTemperaturePa,
  STAMPED_VOLUME_SIGMA,
  totalVolumeM3,
  usableMol,
} from "./content.ts";

/**
 * Answers about a cylinder together with what equation and water volume leave open (1 sigma, first
 * order, JCGM 100). Two states of one gas count as independent: their errors mostly go together,
 * so the true uncertainty of a difference is smaller, never larger by much. No sensors in it.
 */

export const vapourPressureSource = "span-wagner-1996";

/** Relative standard uncertainty of CO2's vapour pressure: 0.012 %, as they state it (from memory). */
const VAPOUR_PRESSURE_SIGMA = 1.2e-4;

export type UsableContent = Readonly<{
  mol: number;
  kg: number;
  /** Standard uncertainty by the equation of state alone, mol. */
  modelSigmaMol: number;
  /** Standard uncertainty by equation and water volume, mol. */
  sigmaMol: number;
}>;

/**
 * Content above a floor pressure at the same gas temperature, with its uncertainty; 0 below it.
 *
 * @param pressurePa absolute
 * @param floorPa absolute: the higher of residual pressure and what the regulator needs
 */
export function usableContent(
  mixture: Mixture,
  size: CylinderSize,
  pressurePa: number,
  temperatureK: number,
  floorPa: number,
): Result<UsableContent> {
  return toResult(() => {
    const mol = usableMol(mixture, size, pressurePa, temperatureK, floorPa);
    if (mol === 0) {
      return { mol: 0, kg: 0, modelSigmaMol: 0, sigmaMol: 0 };
    }
    const sigmaAt = (pa: number): number =>
      mixture.densityMolPerM3(pa, temperatureK) * densityRelativeSigmaAt(mixture, pa, temperatureK);
    const modelSigmaMol = totalVolumeM3(size) * Math.hypot(sigmaAt(pressurePa), sigmaAt(floorPa));
    const volumeSigma = size.waterVolumeRelativeSigma ?? STAMPED_VOLUME_SIGMA;
    return {
      mol,
      kg: mol * mixture.molarMassKgPerMol,
      modelSigmaMol,
      sigmaMol: Math.hypot(modelSigmaMol, mol * volumeSigma),
    };
  });
}

export type ClosedCylinderPressure = Readonly<{
  /** Absolute, Pa. */
  pressurePa: number;
  /** Standard uncertainty by the equation of state, Pa. */
  modelSigmaPa: number;
}>;

/**
 * Pressure that a closed cylinder must show at another temperature, with its uncertainty.
 *
 * @param pressurePa absolute, settled at `temperatureK`
 */
export function closedCylinderPressure(
  mixture: Mixture,
  pressurePa: number,
  temperatureK: number,
  otherTemperatureK: number,
): Result<ClosedCylinderPressure> {
  return toResult(() => {
    requireWithin("otherTemperatureK", otherTemperatureK, 60, 700);
    const density = mixture.densityMolPerM3(pressurePa, temperatureK);
    const otherPa = pressureAtTemperaturePa(mixture, pressurePa, temperatureK, otherTemperatureK);
    if (holdsLiquidCarbonDioxide(mixture, density, otherTemperatureK)) {
      return { pressurePa: otherPa, modelSigmaPa: VAPOUR_PRESSURE_SIGMA * otherPa };
    }
    const relativeSigma = Math.hypot(
      densityRelativeSigmaAt(mixture, pressurePa, temperatureK),
      densityRelativeSigma(
        mixture.composition,
        density,
        mixture.compressibility(density, otherTemperatureK),
      ),
    );
    const slope = mixture.dPressureDDensity(density, otherTemperatureK);
    return { pressurePa: otherPa, modelSigmaPa: Math.abs(slope) * density * relativeSigma };
  });
}

/** Pure CO2 between its saturated densities, or as dry ice. */
function holdsLiquidCarbonDioxide(mixture: Mixture, density: number, K: number): boolean {
  if (!isPure(mixture.composition, "CO2") || K >= criticalPoint.temperatureK) {
    return false;
  }
  if (K < triplePoint.temperatureK) {
    return !(density < mixture.densityOrNaN(highestGasPressurePa(K), K));
  }
  const kgPerM3 = density * carbonDioxideKgPerMol;
  return kgPerM3 > saturatedVapourKgPerM3(K) && kgPerM3 < saturatedLiquidKgPerM3(K);
}
