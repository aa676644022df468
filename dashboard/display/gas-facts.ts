import type { CylinderDocument } from "@leeward/shared-core/documents/cylinder.ts";
import {
  criticalPoint,
  triplePoint,
  vapourPressurePa,
} from "@leeward/shared-core/gases/co2-saturation.ts";
import { createMixture } from "@leeward/shared-core/gases/mixture.ts";
import { absolutePressurePa } from "@leeward/shared-core/units/atmosphere.ts";
import { BAR_PA, CELSIUS_ZERO_K } from "@leeward/shared-core/units/factors.ts";
import { standardDensityMolPerM3 } from "@leeward/shared-core/units/reference-conditions.ts";

/**
 * What a full cylinder (all `count` of them) holds, `metric20` litres, by GERG-2008: the height of
 * the drawing. Null where the description is outside the range of the equation.
 */
export function fullContentLitres(cylinder: CylinderDocument): number | null {
  try {
    const mixture = createMixture(cylinder.composition);
    const standard = standardDensityMolPerM3(mixture, "metric20");
    if ("filledKg" in cylinder) {
      const kg = cylinder.filledKg as number;
      return ((kg / mixture.molarMassKgPerMol) * cylinder.count * 1000) / standard;
    }
    const { filledBar, filledC } = cylinder as { filledBar: number; filledC: number };
    const density = mixture.densityMolPerM3(
      absolutePressurePa(filledBar * BAR_PA),
      filledC + CELSIUS_ZERO_K,
    );
    return (density / standard) * cylinder.waterVolumeL * cylinder.count;
  } catch {
    return null;
  }
}

/** Share of the vapour pressure above which liquid may be there: contents in use are colder than the wall. */
const NEAR_SATURATION = 0.7;

/**
 * Whether a cylinder filled with liquid CO2 may still hold liquid, from its pressure (gauge Pa) and
 * wall temperature (°C). Unknown counts as liquid: it is the case in which pressure says nothing.
 */
export function mayBeLiquid(
  cylinder: CylinderDocument,
  cylinderPa: number | null | undefined,
  cylinderC: number | null | undefined,
): boolean {
  if (!("filledKg" in cylinder)) return false;
  if (typeof cylinderPa !== "number" || typeof cylinderC !== "number") return true;
  const kelvin = cylinderC + CELSIUS_ZERO_K;
  if (kelvin >= criticalPoint.temperatureK) return false;
  return (
    absolutePressurePa(cylinderPa) >
    NEAR_SATURATION * vapourPressurePa(Math.max(kelvin, triplePoint.temperatureK))
  );
}
