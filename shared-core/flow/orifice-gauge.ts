import { PhysicsError, requireWithin } from "../errors.ts";
import type { Mixture } from "../gases/mixture.ts";
import { ATMOSPHERE_PA } from "../units/factors.ts";
import { type ReferenceName, standardDensityMolPerM3 } from "../units/reference-conditions.ts";
import { criticalFlow } from "./critical-flow.ts";
import { SHORT_HOLE_CD } from "./orifice.ts";

/**
 * Flow gauge: a pressure gauge upstream of a fixed orifice whose dial is printed in flow. The
 * dial shows the choked flow of its own gas, so it is linear in absolute pressure and does not
 * start at zero. It cannot see a blocked nozzle or an open hose.
 */
export type OrificeGaugeScale = Readonly<{
  /** Gas and temperature the dial was printed for. */
  mixture: Mixture;
  temperatureK: number;
  reference: ReferenceName;
}> &
  Readonly<
    | { orificeM: number; dischargeCoefficient?: number }
    | { readsAt: { gaugePa: number; indicatedM3PerS: number } }
  >;

/** The effective area (m²) of the orifice that the dial was printed for. */
export function gaugeEffectiveAreaM2(scale: OrificeGaugeScale): number {
  if ("orificeM" in scale) {
    const diameterM = requireWithin("orificeM", scale.orificeM, 1e-6, 0.1);
    return (scale.dischargeCoefficient ?? SHORT_HOLE_CD) * (Math.PI / 4) * diameterM ** 2;
  }
  const { gaugePa, indicatedM3PerS } = scale.readsAt;
  return (
    (indicatedM3PerS * standardDensityMolPerM3(scale.mixture, scale.reference)) /
    chokedFlux(scale, gaugePa)
  );
}

/**
 * What the dial shows at a gauge pressure, in standard m³/s of its own gas at its reference.
 * Dials are printed for the standard atmosphere.
 */
export function dialReadingM3PerS(scale: OrificeGaugeScale, gaugePa: number): number {
  return (
    (gaugeEffectiveAreaM2(scale) * chokedFlux(scale, gaugePa)) /
    standardDensityMolPerM3(scale.mixture, scale.reference)
  );
}

/** No gauge with a flow dial goes higher (common practice, no source: up to about 10 bar). */
const HIGHEST_DIAL_PA = 2e6;

/**
 * Gauge pressure at which the dial shows a reading, Pa; inverse of `dialReadingM3PerS`.
 *
 * @throws PhysicsError `PHYSICS_RANGE` below the dial's start, or above what 20 bar would show
 */
export function dialPressurePa(scale: OrificeGaugeScale, indicatedM3PerS: number): number {
  const lowest = dialReadingM3PerS(scale, 0);
  if (!(indicatedM3PerS >= lowest)) {
    throw new PhysicsError(
      "PHYSICS_RANGE",
      "indicatedM3PerS",
      indicatedM3PerS,
      `the dial starts at ${lowest} m³/s (no gauge pressure); set the flow at the device above that.`,
    );
  }
  let low = 0;
  let high = HIGHEST_DIAL_PA;
  requireWithin("indicatedM3PerS", indicatedM3PerS, lowest, dialReadingM3PerS(scale, high));
  for (let k = 0; k < 100 && high - low > 1e-10 * high; k++) {
    const middle = (low + high) / 2;
    if (dialReadingM3PerS(scale, middle) < indicatedM3PerS) {
      low = middle;
    } else {
      high = middle;
    }
  }
  return (low + high) / 2;
}

function chokedFlux(scale: OrificeGaugeScale, gaugePa: number): number {
  return criticalFlow(scale.mixture, gaugePa + ATMOSPHERE_PA, scale.temperatureK)
    .molarFluxMolPerSM2;
}
