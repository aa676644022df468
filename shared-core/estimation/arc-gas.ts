import type { Candidate } from "./change-watch.ts";
import { type DropState, hasLine } from "./drop-state.ts";
import type { LineChange } from "./mass-flow.ts";
import type { DropPlan, SupplyPlan } from "./plan.ts";
import type { EngineState } from "./supply-state.ts";

/**
 * Where no line sensor tells when gas flows, the arc does: an arc burns in gas. That is a premise and no
 * measurement: over the arcs the cylinder has to fall as the flow says, and where it does not (a job without gas
 * that nobody declared, an empty hose) the arc is not believed any more.
 */

/** Pre-flow and post-flow that nobody described, with the 1 sigma of both together, s (common practice, no source). */
const UNTOLD_TIG = { preflowS: 0.5, postflowS: 3, sigmaS: 4 };
const UNTOLD = { preflowS: 0.3, postflowS: 0.7, sigmaS: 1.5 };
/** 1 sigma of described ones, s. */
const TOLD_SIGMA_S = 1.5;

/** The arc signal is told at least each pack; one older than this says nothing of now, s. */
const ARC_FRESH_S = 120;

/** Twice the log likelihood ratio of "no gas" above which arcs are not believed; most and least that is kept. */
const NOT_BELIEVED = 16;
const MOST_DOUBT = 40;
const LEAST_DOUBT = -8;

/** Times that lie between arc and gas, s. */
export interface ArcTimes {
  preflowS: number;
  postflowS: number;
  /** 1 sigma of how much longer gas flows than the arc burns. */
  sigmaS: number;
}

/** Pre-flow and post-flow of the declared job, else of the station's procedure, else what is usual. */
export function arcTimes(plan: DropPlan, state: EngineState): ArcTimes {
  const procedure = state.jobs[plan.index]?.entry.procedure ?? plan.station.procedure;
  const usual = procedure?.process === "GTAW" ? UNTOLD_TIG : UNTOLD;
  const told = procedure?.postflowS !== undefined;
  return {
    preflowS: procedure?.preflowS ?? usual.preflowS,
    postflowS: procedure?.postflowS ?? usual.postflowS,
    sigmaS: told ? TOLD_SIGMA_S : usual.sigmaS,
  };
}

/** Whether an arc says anything of gas at this drop now: fitted and fresh, no line that tells more, no job without gas. */
export function arcCounts(state: EngineState, i: number, t: number): boolean {
  const drop = state.drops[i]!;
  if (drop.arc === null || drop.arcT === null || t - drop.arcT > ARC_FRESH_S) return false;
  return !hasLine(drop, t) && state.jobs[i]?.entry.gasless !== true;
}

/** Whether arc-on and arc-off are taken for gas-on and gas-off. */
export function arcTells(plan: SupplyPlan, state: EngineState, i: number, t: number): boolean {
  const drop = state.drops[i]!;
  // A described line that was not read yet will tell within seconds.
  const waits =
    plan.drops[i]!.lineRangePa !== null && drop.lineT === null && drop.lineFault === null;
  return !waits && drop.arcDoubt < NOT_BELIEVED && arcCounts(state, i, t);
}

/** Gas-on or gas-off that the arc tells at `t`; null where it tells none. */
export function arcChange(plan: SupplyPlan, state: EngineState, i: number, t: number): LineChange {
  if (!arcTells(plan, state, i, t)) return null;
  const drop = state.drops[i]!;
  const times = arcTimes(plan.drops[i]!, state);
  if (drop.arc === true) {
    // Gas that the cylinder has shown to be off though this arc burns stays off.
    if (drop.on === true || drop.arcSince === null || heldOff(drop)) return null;
    return { on: true, t: Math.max(drop.arcSince - times.preflowS, drop.offSince ?? 0) };
  }
  if (drop.on !== true || drop.arcOffSince === null) return null;
  // Gas that went on after the last arc was no weld's.
  if (drop.onSince !== null && drop.arcOffSince <= drop.onSince) return null;
  const off = drop.arcOffSince + times.postflowS;
  return t < off ? null : { on: false, t: off };
}

/** Gas went off while the present arc burnt, as the cylinder showed. */
function heldOff({ on, offSince, arcSince }: DropState): boolean {
  return on === false && offSince !== null && arcSince !== null && offSince >= arcSince;
}

/** What the cylinder said of the spell that ends: added to what is thought of arcs here. */
export function learnArc(drop: DropState, doubt: number): void {
  drop.arcDoubt = Math.round(Math.min(Math.max(drop.arcDoubt + doubt, LEAST_DOUBT), MOST_DOUBT));
}

/** The cylinder shows gas while an arc burns: it is believed again. */
export function believeArc(drop: DropState): void {
  if (drop.arc === true) drop.arcDoubt = Math.min(drop.arcDoubt, 0);
}

/** Twice the log likelihood ratio of no gas against gas since this spell began, by the cylinder. */
export function noGasRatio(candidates: readonly Candidate[], i: number): number {
  const first = candidates.find((c) => c.kind === "toggle" && c.drop === i);
  return first === undefined ? 0 : -2 * first.match - first.weight;
}

/** The cylinder has shown that gas flows once this speaks for it. */
const SHOWN = 9;

/** Gas-on of this moment rests on the arc alone: the cylinder has not shown it yet. */
export function restsOnArc(plan: SupplyPlan, state: EngineState, i: number, t: number): boolean {
  const drop = state.drops[i]!;
  if (drop.on !== true || drop.arc !== true || !arcTells(plan, state, i, t)) return false;
  return noGasRatio(state.candidates, i) > -SHOWN;
}
