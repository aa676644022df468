import type { StationDocument } from "../documents/station.ts";
import { ATMOSPHERE_PA } from "../units/factors.ts";
import type { Quantiles } from "./estimate.ts";
import { normalCdf } from "./normal.ts";

/** Whether a planned weld finishes before the gas does. */

export interface PlannedWeld {
  arcMinutes: number;
  /** Times that the torch is lit. */
  starts: number;
  /** Gas-on seconds that each start costs beside the arc: pre-flow, post-flow, hose. */
  perStartS: number;
  /** Relative 1 sigma of the arc minutes as planned. */
  planSigma: number;
}

/** Plans of arc time are good to about this, relative 1 sigma; common practice, no source. */
export const PLAN_SIGMA = 0.1;
/** Where the procedure does not say, s. */
const PREFLOW_S = 0.5;
const POSTFLOW_S = 8;

/** A plan at a station: what each start costs follows from its procedure, hose and flow. */
export function plannedWeld(
  station: StationDocument,
  plan: { arcMinutes: number; starts: number; flowLpm: number | null },
): PlannedWeld {
  const { procedure, hose, regulator } = station;
  const flow = (procedure?.preflowS ?? PREFLOW_S) + (procedure?.postflowS ?? POSTFLOW_S);
  const { lengthM, boreMm } = hose ?? { lengthM: 4, boreMm: 6 };
  const hoseL = (Math.PI / 4) * (boreMm / 100) ** 2 * lengthM * 10;
  // Behind a shut torch the hose fills to line pressure, and blows that off at the next start.
  const storedL = hoseL * (((regulator?.deliveryBar ?? 3) * 1e5) / ATMOSPHERE_PA);
  const surge = plan.flowLpm !== null && plan.flowLpm > 0 ? (60 * storedL) / plan.flowLpm : 0;
  return {
    arcMinutes: Math.max(plan.arcMinutes, 0),
    starts: Math.max(plan.starts, 0),
    perStartS: flow + surge,
    planSigma: PLAN_SIGMA,
  };
}

/** Gas-on minutes that a plan needs, with 1 sigma. */
export function gasOnNeeded(weld: PlannedWeld): { minutes: number; sigma: number } {
  return {
    minutes: weld.arcMinutes + (weld.starts * weld.perStartS) / 60,
    sigma: weld.planSigma * weld.arcMinutes,
  };
}

export type LastsVerdict = "yes" | "no" | "maybe" | "unknown";

export interface Lasts {
  /** "yes" and "no" need 97.5 % certainty. */
  verdict: LastsVerdict;
  /** Probability that the gas lasts, 0 to 1; null where nothing is known. */
  probability: number | null;
}

/** Steps of the sum over what the plan may need, and how many sigma it spans to each side. */
const STEPS = 40;
const SPAN_SIGMA = 4;

/**
 * Chance that the gas left outlasts the minutes needed.
 *
 * @param left gas-on minutes left: median with a 95 % interval, each side half a normal distribution
 */
export function willItLast(left: Quantiles, needed: { minutes: number; sigma: number }): Lasts {
  const { median } = left;
  if (median === null) return { verdict: "unknown", probability: null };
  const below = Math.max(median - (left.low ?? median), 0) / 1.96;
  const above = Math.max((left.high ?? median) - median, 0) / 1.96;
  const outlasts = (minutes: number): number => {
    const gap = median - minutes;
    const sigma = gap > 0 ? below : above;
    return sigma > 0 ? normalCdf(gap / sigma) : gap >= 0 ? 1 : 0;
  };
  const { minutes, sigma } = needed;
  let probability = outlasts(minutes);
  if (sigma > 0) {
    let sum = 0;
    let weights = 0;
    for (let k = 0; k <= STEPS; k++) {
      const z = SPAN_SIGMA * ((2 * k) / STEPS - 1);
      const weight = Math.exp((-z * z) / 2);
      sum += weight * outlasts(Math.max(minutes + z * sigma, 0));
      weights += weight;
    }
    probability = sum / weights;
  }
  const verdict = probability >= 0.975 ? "yes" : probability <= 0.025 ? "no" : "maybe";
  return { verdict, probability };
}
