import { requireWithin } from "../errors.ts";
import { GAS_CONSTANT } from "../gases/gerg2008.ts";
import type { Mixture } from "../gases/mixture.ts";
import { criticalFlow } from "./critical-flow.ts";
import { thinPlateFraction } from "./thin-plate.ts";

/** Sonic conductance and critical ratio: ISO 6358-1; reference conditions: ISO 8778. */
export const restrictionSource = "iso-6358-1-2013";

/** ISO 8778: 20 °C, 100 kPa (its 65 % humidity matters to air only). */
export const conductanceReference = { temperatureK: 293.15, pressurePa: 100_000 } as const;

/** mol/m³ of any ideal gas there; turns a conductance into a molar flow. */
const REFERENCE_MOL_PER_M3 =
  conductanceReference.pressurePa / (GAS_CONSTANT * conductanceReference.temperatureK);

/**
 * Near r = 1 the flow law has an infinite slope in r; above this ratio it is drawn straight to
 * zero, as simulation practice after ISO 6358 does for the laminar region.
 */
const LINEAR_ABOVE = 0.999;

/**
 * A flow restriction by what a bench can find out about it.
 *
 * `sonicConductanceM3PerSPa` is that for the gas that flows: standard volume (20 °C, 100 kPa) per
 * time and absolute upstream pressure. Change it with `conductanceForGas` when the gas changes.
 */
export type Restriction = Readonly<{
  sonicConductanceM3PerSPa: number;
}> &
  Readonly<
    | {
        /** Chokes at `criticalRatio` (b); real valves and short holes: 0.2 to 0.53. */
        law: "iso-6358";
        criticalRatio: number;
      }
    | {
        /** Sharp thin plate: no choking point; the flow rises down to vacuum. */
        law: "thin-plate";
        isentropicExponent: number;
      }
  >;

/**
 * Part of the sonic flow that passes at a pressure ratio: 1 when choked, 0 at equal pressures.
 * Continuous, falling with the ratio. Allocates nothing.
 *
 * @param pressureRatio downstream over upstream absolute pressure; above 1 gives 0
 */
export function flowFraction(restriction: Restriction, pressureRatio: number): number {
  if (pressureRatio >= 1) {
    return 0;
  }
  if (pressureRatio > LINEAR_ABOVE) {
    return (lawFraction(restriction, LINEAR_ABOVE) * (1 - pressureRatio)) / (1 - LINEAR_ABOVE);
  }
  return lawFraction(restriction, pressureRatio);
}

function lawFraction(restriction: Restriction, pressureRatio: number): number {
  if (restriction.law === "thin-plate") {
    return thinPlateFraction(pressureRatio, restriction.isentropicExponent);
  }
  return ellipseFraction(pressureRatio, restriction.criticalRatio);
}

/** sqrt(1 - ((r - b)/(1 - b))²) above b, 1 below: ISO 6358-1. */
export function ellipseFraction(pressureRatio: number, criticalRatio: number): number {
  if (pressureRatio <= criticalRatio) {
    return 1;
  }
  const x = (pressureRatio - criticalRatio) / (1 - criticalRatio);
  return Math.sqrt(Math.max(0, 1 - x * x));
}

/**
 * Molar flow through a restriction, mol/s; never negative (no back flow). An input that is not a
 * number gives NaN, so that a missing reading never passes for no flow. Allocates nothing.
 *
 * @param upstreamPa absolute pressure upstream
 * @param downstreamPa absolute pressure downstream
 * @param upstreamK temperature upstream
 */
export function molarFlowMolPerS(
  restriction: Restriction,
  upstreamPa: number,
  downstreamPa: number,
  upstreamK: number,
): number {
  if (upstreamPa <= downstreamPa) {
    return 0;
  }
  return (
    restriction.sonicConductanceM3PerSPa *
    upstreamPa *
    REFERENCE_MOL_PER_M3 *
    Math.sqrt(conductanceReference.temperatureK / upstreamK) *
    flowFraction(restriction, downstreamPa / upstreamPa)
  );
}

/**
 * The upstream pressure at which a restriction passes a molar flow, Pa absolute (bisection).
 *
 * @throws PhysicsError where more than `highestPa` would be needed
 */
export function upstreamPressurePa(
  restriction: Restriction,
  molPerS: number,
  downstreamPa: number,
  upstreamK: number,
  highestPa = 40e6,
): number {
  requireWithin(
    "molPerS",
    molPerS,
    0,
    molarFlowMolPerS(restriction, highestPa, downstreamPa, upstreamK),
  );
  let low = downstreamPa;
  let high = highestPa;
  for (let k = 0; k < 200 && high - low > 1e-12 * high; k++) {
    const middle = (low + high) / 2;
    if (molarFlowMolPerS(restriction, middle, downstreamPa, upstreamK) < molPerS) {
      low = middle;
    } else {
      high = middle;
    }
  }
  return (low + high) / 2;
}

/**
 * Sonic conductance of an effective area (discharge coefficient × hole area) for a gas.
 * C = A C* sqrt(R T0 / M) / p0, with the real-gas C* at the upstream state.
 */
export function sonicConductanceM3PerSPa(
  effectiveAreaM2: number,
  mixture: Mixture,
  upstreamPa = 400_000,
  upstreamK: number = conductanceReference.temperatureK,
): number {
  const { criticalFlowFunction } = criticalFlow(mixture, upstreamPa, upstreamK);
  return effectiveAreaM2 * criticalFlowFunction * velocityScale(mixture);
}

/** Effective area, m², behind a sonic conductance; inverse of `sonicConductanceM3PerSPa`. */
export function effectiveAreaM2(
  conductanceM3PerSPa: number,
  mixture: Mixture,
  upstreamPa = 400_000,
  upstreamK: number = conductanceReference.temperatureK,
): number {
  const { criticalFlowFunction } = criticalFlow(mixture, upstreamPa, upstreamK);
  return conductanceM3PerSPa / (criticalFlowFunction * velocityScale(mixture));
}

/** The conductance that the same hole has for another gas (same effective area). */
export function conductanceForGas(
  conductanceM3PerSPa: number,
  from: Mixture,
  to: Mixture,
  upstreamPa = 400_000,
): number {
  return sonicConductanceM3PerSPa(
    effectiveAreaM2(conductanceM3PerSPa, from, upstreamPa),
    to,
    upstreamPa,
  );
}

/** sqrt(R T0 / M) / p0 */
function velocityScale(mixture: Mixture): number {
  const { temperatureK, pressurePa } = conductanceReference;
  return Math.sqrt((GAS_CONSTANT * temperatureK) / mixture.molarMassKgPerMol) / pressurePa;
}
