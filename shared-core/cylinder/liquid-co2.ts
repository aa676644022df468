import { type Result, requireWithin, toResult } from "../errors.ts";
import {
  carbonDioxideKgPerMol,
  criticalPoint,
  saturatedLiquidKgPerM3,
  saturatedVapourKgPerM3,
  sublimationPressurePa,
  triplePoint,
  vapourPressurePa,
} from "../gases/co2-saturation.ts";
import { createMixture, type Mixture } from "../gases/mixture.ts";

/** Density of dry ice near the triple point, kg/m³. */
const DRY_ICE_KG_PER_M3 = 1512;
export const dryIceSource = "crc-handbook";

/** What a closed CO2 cylinder holds. */
export type CarbonDioxideCylinder = Readonly<{
  phase:
    | "vapour"
    /** Liquid under vapour: the pressure is the vapour pressure, whatever the content. */
    | "liquid-and-vapour"
    /** No vapour left: the pressure climbs by several bar a kelvin. Dangerous. */
    | "liquid-full"
    /** Above 30.98 °C: one fluid; pressure means something again. */
    | "supercritical"
    /** Below -56.56 °C. */
    | "dry-ice-and-vapour";
  pressurePa: number;
  liquidKg: number;
  vapourKg: number;
  dryIceKg: number;
  /** Part of the volume under liquid. */
  liquidVolumeFraction: number;
}>;

let carbonDioxide: Mixture | null = null;

function fluid(): Mixture {
  carbonDioxide ??= createMixture({ CO2: 1 });
  return carbonDioxide;
}

/**
 * Phases and pressure of a mass of CO2 in a closed volume at one temperature (settled).
 *
 * @param massKg present; 0 or more
 * @param waterVolumeM3 of the cylinder (all cylinders on the header together)
 * @param temperatureK 150 to 450 K
 */
export function carbonDioxideCylinder(
  massKg: number,
  waterVolumeM3: number,
  temperatureK: number,
): Result<CarbonDioxideCylinder> {
  return toResult(() => {
    requireWithin("waterVolumeM3", waterVolumeM3, 1e-5, 1000);
    requireWithin("temperatureK", temperatureK, 150, 450);
    requireWithin("massKg", massKg, 0, 1400 * waterVolumeM3);
    const density = massKg / waterVolumeM3;
    const onePhase = (phase: CarbonDioxideCylinder["phase"], pressurePa: number) => ({
      phase,
      pressurePa,
      liquidKg: phase === "liquid-full" ? massKg : 0,
      vapourKg: phase === "liquid-full" ? 0 : massKg,
      dryIceKg: 0,
      liquidVolumeFraction: phase === "liquid-full" ? 1 : 0,
    });
    if (temperatureK >= criticalPoint.temperatureK) {
      return onePhase("supercritical", pressureOf(density, temperatureK));
    }
    if (temperatureK < triplePoint.temperatureK) {
      return belowTriplePoint(massKg, waterVolumeM3, temperatureK);
    }
    const vapourDensity = saturatedVapourKgPerM3(temperatureK);
    const liquidDensity = saturatedLiquidKgPerM3(temperatureK);
    const saturationPa = vapourPressurePa(temperatureK);
    if (density <= vapourDensity) {
      return onePhase("vapour", Math.min(saturationPa, pressureOf(density, temperatureK)));
    }
    if (density >= liquidDensity) {
      return onePhase("liquid-full", Math.max(saturationPa, pressureOf(density, temperatureK)));
    }
    const liquidVolumeFraction = (density - vapourDensity) / (liquidDensity - vapourDensity);
    const liquidKg = liquidVolumeFraction * liquidDensity * waterVolumeM3;
    return {
      phase: "liquid-and-vapour",
      pressurePa: saturationPa,
      liquidKg,
      vapourKg: massKg - liquidKg,
      dryIceKg: 0,
      liquidVolumeFraction,
    };
  });
}

/**
 * Content from which on pressure counts: the mass left when the last liquid is gone, kg.
 * Null at or above the critical temperature, where there is no liquid at all.
 */
export function liquidGoneKg(waterVolumeM3: number, temperatureK: number): number | null {
  requireWithin("waterVolumeM3", waterVolumeM3, 1e-5, 1000);
  if (temperatureK >= criticalPoint.temperatureK) {
    return null;
  }
  return saturatedVapourKgPerM3(temperatureK) * waterVolumeM3;
}

/**
 * Content of a liquid-filled cylinder as a function of what was filled and what was drawn, kg.
 * Never negative; drawing more than there was means that one of the two is wrong.
 */
export function remainingKg(filledKg: number, drawnMol: number): number {
  requireWithin("filledKg", filledKg, 0, 1e6);
  requireWithin("drawnMol", drawnMol, -1e9, 1e9);
  return Math.max(0, filledKg - drawnMol * carbonDioxideKgPerMol);
}

/**
 * Temperature above which a filling becomes liquid-full, K; null where it passes the critical
 * point with vapour left, as fillings below 0.4676 kg/L do.
 */
export function liquidFullTemperatureK(massKg: number, waterVolumeM3: number): number | null {
  requireWithin("waterVolumeM3", waterVolumeM3, 1e-5, 1000);
  const density = requireWithin("massKg", massKg, 0, 1400 * waterVolumeM3) / waterVolumeM3;
  if (density <= criticalPoint.densityKgPerM3) {
    return null;
  }
  let low: number = triplePoint.temperatureK;
  let high: number = criticalPoint.temperatureK;
  if (saturatedLiquidKgPerM3(low) <= density) {
    return low;
  }
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    if (saturatedLiquidKgPerM3(middle) > density) {
      low = middle;
    } else {
      high = middle;
    }
  }
  return low;
}

function belowTriplePoint(
  massKg: number,
  waterVolumeM3: number,
  temperatureK: number,
): CarbonDioxideCylinder {
  const pressurePa = sublimationPressurePa(temperatureK);
  const mixture = fluid();
  const vapourDensity = mixture.densityMolPerM3(pressurePa, temperatureK) * carbonDioxideKgPerMol;
  if (massKg / waterVolumeM3 <= vapourDensity) {
    const vapourPa = massKg === 0 ? 0 : pressureOf(massKg / waterVolumeM3, temperatureK);
    return {
      phase: "vapour",
      pressurePa: Math.min(pressurePa, vapourPa),
      liquidKg: 0,
      vapourKg: massKg,
      dryIceKg: 0,
      liquidVolumeFraction: 0,
    };
  }
  // Two volumes fill the cylinder: m = rho_v (V - m_s/rho_s) + m_s.
  const vapourFull = vapourDensity * waterVolumeM3;
  const dryIceKg = (massKg - vapourFull) / (1 - vapourDensity / DRY_ICE_KG_PER_M3);
  return {
    phase: "dry-ice-and-vapour",
    pressurePa,
    liquidKg: 0,
    vapourKg: massKg - dryIceKg,
    dryIceKg,
    liquidVolumeFraction: 0,
  };
}

function pressureOf(kgPerM3: number, temperatureK: number): number {
  return fluid().pressurePa(kgPerM3 / carbonDioxideKgPerMol, temperatureK);
}
