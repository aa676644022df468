import { pressureAtTemperaturePa } from "../cylinder/content.ts";
import { carbonDioxideCylinder } from "../cylinder/liquid-co2.ts";
import { type CylinderDocument, isLiquidFilled } from "../documents/cylinder.ts";
import { type Result, toResult } from "../errors.ts";
import { createMixture } from "../gases/mixture.ts";
import { absolutePressurePa, gaugePressurePa } from "../units/atmosphere.ts";
import { BAR_PA } from "../units/factors.ts";

/**
 * The hottest that cylinder rules reckon with: 55 °C (131 °F). Cylinders are to be kept below
 * 52 °C; a sensor on one must still stand what the sun or a fire's neighbourhood makes of it.
 */
export const HOTTEST_K = 328.15;
export const hottestSource = "cfr-49-173-301a";

/**
 * Gauge pressure of a full cylinder at 55 °C, Pa, by the real gas; liquid-filled CO2 by its mass.
 * Fails where the filling lies outside what the equation covers.
 */
export function hottestGaugePa(cylinder: CylinderDocument, altitudeM = 0): Result<number> {
  if (isLiquidFilled(cylinder)) {
    const volumeM3 = cylinder.waterVolumeL * 1e-3;
    const content = carbonDioxideCylinder(cylinder.filledKg, volumeM3, HOTTEST_K);
    return content.ok
      ? { ok: true, value: gaugePressurePa(content.value.pressurePa, altitudeM) }
      : content;
  }
  return toResult(() => {
    const filledPa = absolutePressurePa(cylinder.filledBar * BAR_PA, altitudeM);
    const filledK = cylinder.filledC + 273.15;
    const mixture = createMixture(cylinder.composition);
    const hotPa = pressureAtTemperaturePa(mixture, filledPa, filledK, HOTTEST_K);
    // Filled warmer than that, it has been at the higher of both.
    return gaugePressurePa(Math.max(filledPa, hotPa), altitudeM);
  });
}
