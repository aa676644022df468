import { NODE_SILENT } from "./channel-faults.ts";
import { covariance, OFFSET, RHO, SPAN, variance, WALL } from "./cylinder-filter.ts";
import type { ContentEstimate } from "./estimate.ts";
import { halfWidth95, tidy } from "./interval.ts";
import { litresPerMol, type SupplyPlan } from "./plan.ts";
import { holdPressurePa } from "./regulator-hold.ts";
import type { EngineState } from "./supply-state.ts";
import { toldReach, toldWhy } from "./told-watch.ts";

/** A content in `metric20` litres. Sigmas are those of the sensor and state, without the volume's. */
export interface ContentFigure {
  litres: number;
  usable: number;
  sigma: number;
  uniformSigma: number;
  volumeSigma: number;
  /** Logarithms by which the other reading of a contradicted water volume moves the ends. */
  lowLog: number;
  highLog: number;
}

/** Pressure (gauge Pa) down to which the content can be used. */
function leastUsablePa(plan: SupplyPlan, state: EngineState, drop: number): number {
  const target = plan.drops[drop]!.demand?.targetLpm ?? 10;
  return Math.max(plan.residualPa, holdPressurePa(plan.drops[drop]!, state.drops[drop]!, target));
}

export function contentFigure(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
): ContentFigure | null {
  const { filter } = state;
  if (!filter.started) return null;
  const { x } = filter;
  const { told } = state;
  const perDensity = plan.filter.waterVolumeM3 * Math.exp(told.volumeLog) * litresPerMol(plan);
  const reach = toldReach(told, 0);
  const litres = x[RHO]! * perDensity;
  const least = plan.gas.densityAt(
    leastUsablePa(plan, state, drop) + plan.filter.atmospherePa,
    x[WALL]!,
  );
  const usable = Math.max(0, (x[RHO]! - (Number.isFinite(least) ? least : 0)) * perDensity);
  const total = variance(filter, RHO) + (state.leak.error[RHO]! * state.leak.sigmaMolPerS) ** 2;
  // What the sensor's own limits make is uniform; of two that add up, less is left of that than their sum.
  const offset = covariance(filter, RHO, OFFSET) ** 2 / variance(filter, OFFSET);
  const span = covariance(filter, RHO, SPAN) ** 2 / variance(filter, SPAN);
  const uniform = Math.min(Math.hypot(offset, span), total);
  return {
    litres,
    usable,
    sigma: Math.sqrt(total) * perDensity,
    uniformSigma: Math.sqrt(uniform) * perDensity,
    volumeSigma: litres * Math.hypot(plan.volumeSigma, plan.gas.modelSigma(x[RHO]!)),
    lowLog: reach.low,
    highLog: reach.high,
  };
}

export function contentEstimate(
  plan: SupplyPlan,
  state: EngineState,
  figure: ContentFigure | null,
  t: number,
): ContentEstimate {
  const { cylinder } = state;
  if (figure === null)
    return { litres: null, why: "no pressure has been read yet with the cylinder valve open" };
  const uniform = figure.uniformSigma ** 2;
  const half = halfWidth95(uniform, figure.sigma ** 2 - uniform + figure.volumeSigma ** 2);
  const estimate: ContentEstimate = {
    litres: tidy(figure.litres),
    low: tidy(Math.max(0, figure.litres - half) * Math.exp(figure.lowLog)),
    high: tidy((figure.litres + half) * Math.exp(figure.highLog)),
    usableLitres: tidy(figure.usable),
  };
  const why = heldWhy(state, t);
  if (cylinder.heldT !== null && (why !== null || cylinder.valve === "closed")) {
    estimate.ageS = Math.max(0, Math.round(t - cylinder.heldT));
    if (why !== null) estimate.why = why;
  }
  const told = toldWhy(plan, state);
  if (why === null && told !== null) estimate.why = told;
  return estimate;
}

/** What a content is while the reserve feeds, and why nobody knows how long the gas lasts then. */
const RESERVE_WHY = "the reserve feeds: this is what is left on the main side";
export const RESERVE_UNMEASURED = "the reserve feeds: what is left in it is not measured";

/** Content counts as held once no reading has confirmed it for this long, s. */
const HELD_S = 300;

/** Why the content rests on an old reading though the valve is not closed; null where it does not. */
function heldWhy(state: EngineState, t: number): string | null {
  const { heldT, valve } = state.cylinder;
  const fault = state.faults.find(
    ({ channel, drop }) => drop < 0 && channel === "cylinder-pressure",
  );
  if (fault?.fault === NODE_SILENT) {
    return "no word from the cylinder's node: held from its last reading";
  }
  if (fault !== undefined) {
    return `the cylinder's pressure sensor is in fault (${fault.fault}): held from its last good reading`;
  }
  if (state.reserve.since !== null) return RESERVE_WHY;
  if (valve === "closed" || heldT === null) return null;
  if (state.silent) return "no data: held from the last reading";
  return t - heldT > HELD_S ? "no cylinder pressure is read: held from the last reading" : null;
}
