import { FIRST_DROP } from "./cylinder-filter.ts";
import { hasLine } from "./drop-state.ts";
import { MOLAR_GAS_CONSTANT } from "./gas-model.ts";
import { relativeFlow, restrictionK } from "./line-flow.ts";
import type { SupplyPlan } from "./plan.ts";
import type { EngineState } from "./supply-state.ts";

/**
 * A tap on the hose sees what leaves the torch: a hose that fills as fast as its restriction feeds it lets
 * nothing out, and one that stands empty while gas is on has lost its supply, or has come off. A tap before
 * the restriction sees neither until the hose has filled.
 */

/** Share of what feeds the hose that must stay in it, for none to count as leaving (simulated stations; so are those below). */
const FILLS_SHARE = 0.6;
/** Readings further apart than this say nothing of what happened between them, s. */
const WATCHED_S = 2.5;
/** A hose below this share of its usual pressure stands empty; within its sensor's class of zero, below the other. */
const EMPTY_SHARE = 0.15;
const NEAR_ZERO_SHARE = 0.3;
/** Gas-on that makes a usual pressure, s. */
const USUAL_AFTER_S = 30;

/** Whether gas is on at a drop and none leaves its torch, by its hose's latest readings. */
export function hoseLetsNoneOut(
  plan: SupplyPlan,
  state: EngineState,
  i: number,
  t: number,
): boolean {
  const drop = state.drops[i]!;
  if (plan.drops[i]!.tap !== "hose" || drop.on !== true || !hasLine(drop, t)) return false;
  return fills(plan, state, i) || standsEmpty(plan, state, i);
}

function fills(plan: SupplyPlan, state: EngineState, i: number): boolean {
  const dropPlan = plan.drops[i]!;
  const drop = state.drops[i]!;
  const { anchorPa, lastSampleGap, noise } = drop;
  const [before, now] = drop.previous;
  if (before === undefined || now === undefined || anchorPa === null) return false;
  if (!(lastSampleGap > 0) || lastSampleGap > WATCHED_S) return false;
  const risePa = now - before;
  if (risePa < Math.max(8 * Math.sqrt(noise), 0.1e5) || now < 1.3 * anchorPa) return false;
  const gasK = restrictionK(drop, drop.ambientK ?? 293.15);
  const fed = Math.exp(state.filter.x[FIRST_DROP + i]!) * relativeFlow(dropPlan, anchorPa, gasK);
  const paPerS = (fed * MOLAR_GAS_CONSTANT * gasK) / dropPlan.hoseVolumeM3;
  return risePa / lastSampleGap >= FILLS_SHARE * paPerS;
}

function standsEmpty(plan: SupplyPlan, state: EngineState, i: number): boolean {
  const { usualPa, seconds } = state.watches[i]!.back;
  const { linePa } = state.drops[i]!;
  if (linePa === null || seconds < USUAL_AFTER_S) return false;
  const nearZeroPa = Math.min(NEAR_ZERO_SHARE * usualPa, plan.drops[i]!.lineLimitPa);
  return linePa < Math.max(EMPTY_SHARE * usualPa, nearZeroPa);
}
