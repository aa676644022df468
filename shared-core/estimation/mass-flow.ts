import { arcChange, arcTimes, learnArc, noGasRatio } from "./arc-gas.ts";
import { stepCandidates } from "./change-watch.ts";
import { unseenVariance } from "./channel-faults.ts";
import {
  addVariance,
  FIRST_DROP,
  followAir,
  GAS,
  learnDrift,
  predict,
  RHO,
  walkLoop,
} from "./cylinder-filter.ts";
import { type DropState, hasLine } from "./drop-state.ts";
import { stepLeak } from "./leak-watch.ts";
import { presentFlow } from "./line-flow.ts";
import { drawLiquid } from "./liquid.ts";
import type { DropPlan, SupplyPlan } from "./plan.ts";
import { droopPa, passedShare, refill, startRefill } from "./refill.ts";
import { gasOff, gasOn } from "./station-watch.ts";
import type { EngineState } from "./supply-state.ts";
import { sizeAgrees } from "./told-watch.ts";
import { drawnUnseenVariance, staysUnseen } from "./unseen-drop.ts";

/** What flows through each drop, and the filter moved on with it. */

/** Gas-on or gas-off that a line showed, with its time; null where it showed none. */
export type LineChange = { on: boolean; t: number } | null;

/** Flow through the restriction with the torch open, mol/s. */
export function dropMolPerS(plan: SupplyPlan, state: EngineState, i: number, t: number): number {
  const full = Math.exp(Math.min(state.filter.x[FIRST_DROP + i]!, 5));
  return full * presentFlow(plan.drops[i]!, state.drops[i]!, t, state.filter.x[GAS]!);
}

/** Readings no further apart than this show a line on its way up, s. */
const WATCHED_S = 2.5;
/** A torch is shut briefly for no longer than this, s. */
const BRIEF_S = 4;
/** Gas-offs that must have shown how far the line rises. */
const KNOWN_GAPS = 2;

/** The regulator's droop, Pa; null where too few gas-offs have shown it. */
function knownDroopPa(drop: DropState): number | null {
  return drop.gapPa === null || drop.gaps < KNOWN_GAPS ? null : droopPa(drop, drop.gapPa);
}

/**
 * Share of the open torch's flow that passed between the last two readings of a flowing line. A regulator
 * whose line has risen by its droop passes nothing: a torch shut for a few seconds, whose line falls back
 * before it can be called shut, is counted by that.
 */
export function openShare(plan: DropPlan, drop: DropState, t: number): number {
  const rising = drop.on === true && (drop.driftCount > 0 || drop.offCount > 0);
  const droop = knownDroopPa(drop);
  const level = drop.anchorPa;
  if (!rising || plan.tap === "hose" || droop === null || level === null) return 1;
  if (drop.lastSampleGap > WATCHED_S || !hasLine(drop, t)) return 1;
  // A line that has not fallen back by now is a needle turned down, told by its level, or a gas-off.
  if (t - drop.offT > BRIEF_S) return 1;
  const now = drop.linePa!;
  const before = drop.previous[0] ?? now;
  return 0.5 * (passedShare(before - level, droop) + passedShare(now - level, droop));
}

/** A line read each second dates a gas-on or gas-off to the reading that shows it: half a reading late, s. */
function halfStepS({ lastSampleGap }: DropState): number {
  return lastSampleGap > WATCHED_S ? 0 : 0.5 * lastSampleGap;
}

/** Share of the open torch's flow that still fills the hose at the reading that shows a gas-off. */
function presentShare(plan: DropPlan, drop: DropState): number {
  const droop = knownDroopPa(drop);
  if (plan.tap === "hose" || droop === null || drop.flowPa === null) return 1;
  return passedShare(drop.linePa! - drop.flowPa, droop);
}

/** Seconds of full flow to count where a gas-off at `offT` is seen only now: what was counted since is taken back. */
function offBefore(drop: DropState, from: number, offT: number): number {
  const uncounted = offT - from;
  if (uncounted >= 0) return uncounted;
  return offT === drop.offT ? -drop.climbS : uncounted;
}

/** Keeps what is counted of a line's climb, which may turn out to be a gas-off. */
function countClimb(drop: DropState, from: number, t: number, seconds: number): void {
  const climbing = drop.driftCount > 0 || drop.offCount > 0;
  const sinceS = t - Math.max(from, drop.offT);
  // A single precision lasts for seconds, and keeps the state short.
  drop.climbS =
    climbing && sinceS > 0 ? Math.fround(drop.climbS + (seconds * sinceS) / (t - from)) : 0;
}

/** What all drops that are on draw now, mol/s. */
export function drawnNow(plan: SupplyPlan, state: EngineState, t: number): number {
  return state.drops.reduce(
    (sum, drop, i) => (drop.on === true ? sum + dropMolPerS(plan, state, i, t) : sum),
    0,
  );
}

/** Moves the filter to `t` with what flowed since. */
export function moveFilter(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  dtS: number,
  wasOn: (boolean | null)[],
  changes: LineChange[],
): void {
  const { filter } = state;
  const from = filter.t;
  const flows = new Float64Array(plan.drops.length);
  let extra = 0;
  let extraVariance = 0;
  const unseen = dtS > 90;
  const told = changes.map((change, i) => change ?? arcChange(plan, state, i, t));
  plan.drops.forEach((dropPlan, i) => {
    const drop = state.drops[i]!;
    const q = dropMolPerS(plan, state, i, t);
    const change = told[i]!;
    let seconds = 0;
    if (change === null) {
      if (wasOn[i] === true) {
        seconds = unseen ? 0 : dtS * openShare(dropPlan, drop, t);
        countClimb(drop, from, t, seconds);
      }
      if (wasOn[i] === null) {
        extraVariance += staysUnseen(plan, state, i, t)
          ? drawnUnseenVariance(q, dtS)
          : unseenVariance(state, i, t, dtS, q);
      }
      if (wasOn[i] === true && dtS > 5) extraVariance += (0.3 * q * (dtS - 4)) ** 2;
    } else if (change.on) {
      seconds = Math.min(t - change.t + halfStepS(drop), 60);
      gasOn(state, i, change.t, wasOn[i] ?? null);
    } else {
      if (wasOn[i] === true) {
        seconds =
          change.t < t
            ? offBefore(drop, from, change.t)
            : dtS - halfStepS(drop) * (1 - presentShare(dropPlan, drop));
      }
      gasOff(state, i, change.t, wasOn[i] ?? null);
      if (wasOn[i] === true) startRefill(dropPlan, drop, change.t);
    }
    if (change !== null && changes[i] === null) {
      extraVariance += (arcTimes(dropPlan, state).sigmaS * q) ** 2 / 2;
      // What was looked for before the arc told is left.
      if (wasOn[i] === true) learnArc(drop, noGasRatio(state.candidates, i));
      state.candidates = state.candidates.filter((c) => c.drop !== i);
    }
    flows[i] = dtS > 0 ? (q * seconds) / dtS : 0;
    if (drop.on === true) {
      drop.learntS += Math.max(seconds, 0);
      drop.usedS = Math.min(drop.usedS + Math.max(seconds, 0), 1200);
      drop.hosePa = null;
    } else if (drop.hosePa !== null) {
      // A gas-off that a slow rise of the line showed late began before the reading last taken in.
      const since = change === null ? Math.max(from, drop.offSince ?? from) : change.t;
      const moles = refill(dropPlan, drop, Math.max(t - since, 0.5), q, filter.x[GAS]!);
      extra += moles;
      extraVariance += (0.3 * moles) ** 2;
    }
  });
  if (state.cylinder.valve === "closed" || state.reserve.since !== null) {
    flows.fill(0);
    extra = 0;
  }
  if (unseen && filter.started && state.cylinder.valve !== "closed") {
    // Nobody saw what was drawn meanwhile: content starts from what is read now.
    state.cylinder.settleUntil = t + 60;
    state.cylinder.knownFrom = t;
    state.candidates.length = 0;
    addVariance(filter, RHO, (0.3 * filter.x[RHO]! * Math.min(1, dtS / 3600)) ** 2);
  }
  if (state.cylinder.liquid) {
    drawLiquid(plan, state, t, dtS, flows, extra);
    return;
  }
  const open = state.cylinder.valve === "open";
  if (open) extra += state.leak.molPerS * Math.max(dtS, 0);
  // Gas that goes on or off unseen would look like draughts too.
  const seen = state.drops.every((drop) => hasLine(drop, t));
  if (seen) {
    walkLoop(plan.filter, filter, Math.max(dtS, 0));
    if (sizeAgrees(state)) learnDrift(filter, Math.max(dtS, 0));
  }
  // Where the cylinder alone tells of gas-on, a spell that was not seen looks like other air as well.
  if (state.drops.every((drop) => hasLine(drop, t))) followAir(filter, Math.max(dtS, 0));
  const step = predict(plan.filter, filter, t, flows, extra, extraVariance);
  if (step !== null) stepLeak(state.leak, step, open);
  if (step !== null && state.candidates.length > 0) {
    const nominal = plan.drops.map((_, i) => Math.exp(filter.x[FIRST_DROP + i]!));
    stepCandidates(state.candidates, step, nominal);
  }
}
