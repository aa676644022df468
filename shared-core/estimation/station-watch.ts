import { arcCounts, believeArc, learnArc } from "./arc-gas.ts";
import {
  type Candidate,
  correctDial,
  correctToggle,
  doubtDate,
  joinDial,
  judge,
  levelThen,
  matchCandidates,
  startCandidate,
} from "./change-watch.ts";
import {
  addVariance,
  airChanged,
  doubtLoop,
  FIRST_DROP,
  GAS,
  RHO,
  SLOW,
  setVariance,
  variance,
} from "./cylinder-filter.ts";
import { type DropState, hasLine } from "./drop-state.ts";
import type { Update } from "./filter-update.ts";
import { relativeFlow, restrictionK } from "./line-flow.ts";
import { seeBreak, seeGasOff } from "./merged-spells.ts";
import { litresPerMol, type SupplyPlan } from "./plan.ts";
import {
  learnShare,
  lineAnswers,
  lineDenies,
  lineStandsStill,
  meanLevel,
  priorSlope,
  turnedBy,
  watchLevel,
} from "./re-dial.ts";
import { STEP_DATES, STEPS_SHOW, withinStepS } from "./reading-grid.ts";
import { watchRegulator } from "./regulator-change.ts";
import { learnSeat } from "./regulator-hold.ts";
import { forgetWarmLevel } from "./regulator-watch.ts";
import { mayBeReserve } from "./reserve-watch.ts";
import { isSilent } from "./silence.ts";
import { dayThatIsOver } from "./site-hours.ts";
import { addSpell, medianSpellS } from "./spells.ts";
import type { EngineState } from "./supply-state.ts";
import { LEARNT_SIGMA, noteLevel, weighTold } from "./told-watch.ts";
import { fallIsShared, staysUnseen } from "./unseen-drop.ts";

/** What the engine watches from sample to sample: changes of regime and reminders. */

/** Twice the log likelihood ratios that a change needs: about one false one in a million readings. */
const TOGGLE_ON_RATIO = 24;
const TOGGLE_OFF_RATIO = 16;
const DIAL_RATIO = 30;
const TOGGLE_WINDOW_S = 90;
/** Gas that went off unseen is looked for longer: each minute of it is counted as flow, and taken for a smaller one. */
const UNSEEN_OFF_S = 600;
const TOGGLE_CALM_S = 120;
/** Under an arc gas-off needs so many times as much, and gas-on as much less. */
const ARC_FOR_GAS = 1.5;
/** 1 sigma of when gas went on or off that only the cylinder showed, beside noise: what the model of heat and hysteresis misses, s. */
const DATED_S = 4;
/** What the cylinder alone says of a turned float must show for this long, s; without a line sensor within one spell of gas-on. */
const UNSEEN_DIAL_S = 180;
/** Gas-on for which it must show where there is a line that stands still, s. */
const STILL_DIAL_S = 150;
const STILL_DIAL_RATIO = 45;
/** A line speaks against a turned float by this, twice the log likelihood ratio. */
const DENIES = 2;
/** … by this much at least (logarithm): heat that the model misses looks like a smaller turn. */
const UNSEEN_DIAL_LOG = 0.15;
const UNSEEN_DIAL_RATIO = 22;
/** A fitted cylinder shows a float's turn from here on, s; before, from here on, only another size. */
const SETTLED_S = 900;
const FRESH_S = 240;
const OTHER_SIZE = 0.3;
/** A change that began this soon after a cylinder was fitted may be the cylinder's own, s. */
const FITTED_S = 3600;

/** Gas on, gas off and re-dials that only the cylinder's pressure shows. */
export function watchChanges(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  update: Update,
): void {
  const { candidates, filter } = state;
  matchCandidates(
    candidates,
    update,
    plan.filter,
    filter,
    state.drops.map((drop) => drop.on === true),
  );
  // Heat that is not followed yet looks like a flow that changed: then only a line tells of turned floats.
  // What another drop may have drawn unseen is no turned float either.
  const follows =
    !(state.drops.every((drop) => hasLine(drop, t)) && airChanged(filter)) &&
    !fallIsShared(plan, state, t);
  if (!follows) state.candidates = state.candidates.filter((c) => c.kind !== "dial");
  plan.drops.forEach((_, i) => {
    const drop = state.drops[i]!;
    if (!hasLine(drop, t)) watchToggle(plan, state, i, t);
    else if (state.candidates.some((c) => c.kind === "toggle" && c.drop === i)) {
      // The line tells again: what was looked for without it is left.
      state.candidates = state.candidates.filter((c) => c.kind === "dial" || c.drop !== i);
    }
    const known = state.cylinder.knownFrom;
    // A fresh cylinder settles for some minutes; what it does then is no turned float. Where its
    // content or size was told, another size than told shows sooner.
    const settlesS = state.told.fillRho === null ? SETTLED_S : FRESH_S;
    if (
      follows &&
      drop.on === true &&
      feeds(plan, state, i) &&
      (known === null || t - known > settlesS)
    ) {
      watchDial(plan, state, i, t);
      // What a conductance moves by while it is still being learnt is no turned float.
      const learnt = isLearnt(state, i);
      if (learnt && drop.learntS - state.dialStarts[i]! >= 15) {
        state.dialStarts[i] = drop.learntS;
        startCandidate(state.candidates, filter, t, i, "dial", drop.learntS, meanLevel(drop));
      }
    }
  });
}

/** No line sensor: the cylinder's pressure alone says when gas flows. */
export function watchToggle(plan: SupplyPlan, state: EngineState, i: number, t: number): void {
  const drop = state.drops[i]!;
  const { candidates, filter } = state;
  const on = drop.on === true;
  let best: Candidate | null = null;
  // After a gas-off the loop turns and the gas warms: a reading that stands still proves less.
  const offS = drop.offSince === null ? Number.POSITIVE_INFINITY : t - drop.offSince;
  const withinS = withinStepS(plan, state, i);
  const windowS = (on ? UNSEEN_OFF_S : TOGGLE_WINDOW_S) + STEPS_SHOW * withinS;
  let ratio = on ? TOGGLE_OFF_RATIO : TOGGLE_ON_RATIO * (1 + Math.exp(-offS / TOGGLE_CALM_S));
  // An arc burns in gas: it speaks for as much.
  const arc = drop.arc === true && arcCounts(state, i, t);
  if (arc) ratio *= on ? ARC_FOR_GAS : 1 / ARC_FOR_GAS;
  for (const candidate of candidates) {
    if (candidate.kind !== "toggle" || candidate.drop !== i) continue;
    // Slow drifts of the model look like a small flow: only what comes up soon counts.
    if (t - candidate.t > windowS) continue;
    const judged = on ? judge(candidate, -1, -0.85) : judge(candidate, 0.5, 2);
    if (judged.ratio > ratio) {
      ratio = judged.ratio;
      best = candidate;
    }
  }
  if (best !== null && staysUnseen(plan, state, i, t)) {
    // A fall that no drop explains: whose it is cannot be told.
    state.drops.forEach((one, k) => {
      if (staysUnseen(plan, state, k, t)) one.idleSince = t;
    });
    state.candidates = candidates.filter((c) => c.kind === "dial");
  } else if (best !== null) {
    doubtDate(filter, candidates, best, Math.hypot(DATED_S, STEP_DATES * withinS));
    correctToggle(plan.filter, filter, best, on ? -1 : 1);
    const before = drop.on;
    const breaks = state.breaks[i]!;
    if (on) {
      if (arc) learnArc(drop, ratio);
      seeGasOff(breaks, t, best.t);
      gasOff(state, i, best.t, before);
      // Of a silent node's drop the cylinder shows long spells; that nothing is drawn, it does not.
      if (isSilent(plan, state, i)) drop.on = null;
    } else {
      if (drop.offSince !== null) seeBreak(breaks, best.t - drop.offSince);
      believeArc(drop);
      gasOn(state, i, best.t, before);
    }
    // A line that is believed again is judged against the level of the regime that it is in now.
    if (drop.lineT !== null) drop.anchorPa = drop.on ? drop.flowPa : drop.idlePa;
    // When the spell began and ended is known to half a minute: over several short ones that error
    // alone looks like a turned float, so that each spell is judged by itself.
    state.candidates = candidates.filter((c) => c.drop !== i);
  } else {
    if (drop.on === null && filter.updates > 12 && !isSilent(plan, state, i)) drop.on = false;
    state.candidates = candidates.filter(
      (c) => c.kind === "dial" || c.drop !== i || t - c.t <= windowS,
    );
  }
  startCandidate(state.candidates, filter, t, i, "toggle", drop.learntS);
}

/** A step of the flowing line's level: the float was turned. */
export function watchStep(plan: SupplyPlan, state: EngineState, i: number, t: number): void {
  const drop = state.drops[i]!;
  const { filter, cylinder } = state;
  if (plan.drops[i]!.tap !== "hose" && wasRest(drop)) takeForRest(plan, state, i, t);
  if (!feeds(plan, state, i) || cylinder.valve !== "open") {
    drop.refOff = 0;
    if (cylinder.valve === "open" && cylinder.readingPa !== null) {
      learnSeat(plan.drops[i]!, drop, cylinder.readingPa, drop.meanPa);
    }
    return;
  }
  const dropPlan = plan.drops[i]!;
  if (cylinder.knownFrom !== null && t - cylinder.knownFrom < 60) drop.refPa = null;
  if (dropPlan.tap === "hose") return;
  if (cylinder.lastSwap !== null && drop.onSince !== null && t - drop.onSince >= 10) {
    noteLevel(state.told, i, drop, cylinder.readingPa ?? 0, priorSlope(dropPlan).sigma);
  }
  if (watchRegulator(plan, state, i, t)) return;
  watchTurn(state, i);
  const step = watchLevel(dropPlan, drop, t, cylinder.readingPa ?? 0);
  if (step === null) return;
  const turned = turnedBy(dropPlan, drop, step.stepPa, lpmBefore(plan, state, i, step.stepPa));
  if (turned === null) {
    addVariance(filter, FIRST_DROP + i, 0.02 ** 2);
    return;
  }
  const unannounced = drop.turn !== null && !drop.turn.announced ? drop.turn.log : null;
  // Line and cylinder together: what the filter has mistaken since for heat is put right with it.
  const near = state.candidates.filter(
    (c) => c.t >= lastHeld(drop, step.t) && c.t - step.t < NEAR_STEP_S,
  );
  const joined = joinDial(near, i, turned.log, turned.sigma);
  const log = unannounced ?? joined?.candidate.before ?? filter.x[FIRST_DROP + i]!;
  drop.turn = {
    t: step.t,
    step: step.stepPa / (drop.gapPa ?? 1),
    log,
    onS: 0,
    announced: turned.sure || !isLearnt(state, i),
  };
  if (joined === null) {
    filter.x[FIRST_DROP + i] = filter.x[FIRST_DROP + i]! + turned.log;
    addVariance(filter, FIRST_DROP + i, turned.sigma ** 2);
  } else {
    correctDial(filter, joined.candidate, joined.size, joined.variance);
    addVariance(filter, FIRST_DROP + i, 0.02 ** 2);
  }
  // In the next minute the cylinder's sensor turns in its hysteresis and its gas warms anew: what it
  // says of the new flow counts for less.
  addVariance(filter, SLOW, (TURNED_SLOW * plan.filter.sensorRangePa) ** 2);
  // The line shows this turn: it says nothing against what was told of the cylinder.
  state.told.before[i] = state.told.before[i]! + (joined?.size ?? turned.log);
  state.told.spread[i] = state.told.spread[i]! + turned.sigma ** 2;
  state.candidates = state.candidates.filter((c) => c.drop !== i);
  if (turned.sure) {
    reDialled(state, i, { t: step.t, ratio: Math.exp(filter.x[FIRST_DROP + i]! - log) });
  }
}

/** Flow at the level before a step that has just been taken, L/min. */
function lpmBefore(plan: SupplyPlan, state: EngineState, i: number, stepPa: number): number {
  const drop = state.drops[i]!;
  const { x } = state.filter;
  const relative = relativeFlow(plan.drops[i]!, drop.meanPa - stepPa, restrictionK(drop, x[GAS]!));
  const volume = Math.exp(state.told.volumeLog);
  return Math.exp(x[FIRST_DROP + i]!) * relative * volume * 60 * litresPerMol(plan);
}

/** Slow error of the cylinder's sensor just after a turn, 1 sigma, share of its range. */
const TURNED_SLOW = 0.0002;
/** A step that the line shows is dated to this, s. */
const NEAR_STEP_S = 20;

/** When the old level was last seen, at the end of the spell before where a spell began with the new one. */
function lastHeld(drop: DropState, t: number): number {
  const began = drop.onSince !== null && t - drop.onSince < NEAR_STEP_S ? drop.offSince : null;
  return (began ?? t) - NEAR_STEP_S;
}

/** Gas-on seconds for which the cylinder is given to tell what a step of the line was. */
const TURN_S = 900;

/** A small step of the line counts as a turned float where the cylinder's fall agrees. */
function watchTurn(state: EngineState, i: number): void {
  const drop = state.drops[i]!;
  const { turn } = drop;
  if (turn === null || drop.on !== true) return;
  if (!turn.announced && airChanged(state.filter)) {
    // Other air moves a line a little too, and what the cylinder says beside it is its warmth.
    drop.turn = null;
    return;
  }
  turn.onS += Math.min(drop.lastSampleGap, 20);
  const change = state.filter.x[FIRST_DROP + i]! - turn.log;
  const sigma = Math.sqrt(variance(state.filter, FIRST_DROP + i));
  // Line and cylinder agree on the direction: two sigma of the one are enough beside the other.
  const agree = turn.step * change < 0;
  if (!turn.announced && agree && Math.abs(change) > Math.max(0.06, 2.2 * sigma)) {
    turn.announced = true;
    reDialled(state, i, { t: turn.t, ratio: Math.exp(change) });
  }
  if (turn.onS < TURN_S) return;
  learnShare(drop, turn.step, change, sigma);
  drop.turn = null;
}

/** A step down of the line by so much of its gap may be a float that was opened, or a rest at a lower delivery. */
const REST_STEP = 0.3;
/** The line of an opened torch plunges by at least so much of its gap. */
const PLUNGE = 0.6;

/**
 * A line that was taken for a flowing one's, its float just opened, plunges as only that of an idle torch
 * does: the delivery was turned down as the gas went off.
 */
function wasRest(drop: DropState): boolean {
  const { turn, on, onSince, meanCount, meanPa, linePa, gapPa } = drop;
  if (turn === null || on !== true || onSince === null) return false;
  if (turn.step > -REST_STEP || turn.t < onSince || meanCount < 5) return false;
  return gapPa !== null && linePa !== null && meanPa - linePa > PLUNGE * gapPa;
}

/** Takes the turned float back: gas was off from then on, and goes on now. */
function takeForRest(plan: SupplyPlan, state: EngineState, i: number, t: number): void {
  const drop = state.drops[i]!;
  const { filter, told } = state;
  const turn = drop.turn!;
  const c = FIRST_DROP + i;
  // What was counted as drawn meanwhile was not: the cylinder's next readings say what is there.
  const counted = Math.exp(filter.x[c]!) * Math.max(t - turn.t, 0);
  addVariance(filter, RHO, (counted / plan.filter.waterVolumeM3) ** 2);
  told.before[i] = told.before[i]! - (filter.x[c]! - turn.log);
  filter.x[c] = turn.log;
  // What the turn left open is closed again.
  if (drop.usedS >= FIRST_USE_S && variance(filter, c) > LEARNT_SIGMA ** 2) {
    setVariance(filter, c, LEARNT_SIGMA ** 2);
  }
  drop.idlePa = drop.meanPa;
  drop.anchorPa = drop.linePa;
  drop.anchorCount = 1;
  drop.meanCount = 0;
  drop.refPa = null;
  drop.turn = null;
  drop.lastReDial = null;
  state.candidates = state.candidates.filter((one) => one.drop !== i);
  gasOff(state, i, turn.t, true);
  gasOn(state, i, t, false);
}

export function reDialled(
  state: EngineState,
  i: number,
  reDial: { t: number; ratio: number },
): void {
  const drop = state.drops[i]!;
  drop.lastReDial = reDial;
  forgetWarmLevel(state.watches[i]!.body);
  drop.learntS = 0;
  state.dialStarts[i] = 0;
  state.events[i]!.push({
    t: reDial.t,
    event: "re-dial",
    ratio: Number(reDial.ratio.toFixed(3)),
  });
  state.candidates = state.candidates.filter((c) => c.drop !== i);
}

/** Whether the cylinder still stands well above the line: below that the flow falls by itself. */
export function feeds(plan: SupplyPlan, state: EngineState, i: number): boolean {
  const { cylinder, drops } = state;
  const line = Math.max(drops[i]!.flowPa ?? 0, plan.drops[i]!.deliveryPa ?? 3e5);
  return cylinder.readingPa !== null && cylinder.readingPa > 1.3 * line + 3e5;
}

/** Gas-on seconds in which the heat between gas and wall, and with it the first flow, becomes known. */
const FIRST_USE_S = 300;

/** A conductance that is still being learnt cannot be seen to change. */
function isLearnt(state: EngineState, i: number): boolean {
  return (
    variance(state.filter, FIRST_DROP + i) <= LEARNT_SIGMA ** 2 &&
    state.drops[i]!.usedS >= FIRST_USE_S
  );
}

/** A float turned to another reading: the cylinder empties faster or slower than it should. */
export function watchDial(plan: SupplyPlan, state: EngineState, i: number, t: number): void {
  const { filter } = state;
  if (!isLearnt(state, i) || mayBeReserve(plan, state.cylinder.readingPa)) return;
  let best: Candidate | null = null;
  let size = 0;
  const known = state.cylinder.knownFrom;
  const leastSettled = known !== null && t - known < SETTLED_S ? OTHER_SIZE : 0.07;
  const leastS = hasLine(state.drops[i]!, t)
    ? 0
    : UNSEEN_DIAL_S + 2 * STEPS_SHOW * withinStepS(plan, state, i);
  const least = leastS > 0 ? Math.max(leastSettled, UNSEEN_DIAL_LOG) : leastSettled;
  let ratio = leastS > 0 ? UNSEEN_DIAL_RATIO : DIAL_RATIO;
  // Short welds that follow each other closely merge: their mean says nothing of the float.
  if (leastS > medianSpellS(state.spells[i]!)) return;
  // A line that is about to show a step tells more of it: it is waited for.
  const { lastSwap } = state.cylinder;
  const answers = leastS === 0 && lineAnswers(state.drops[i]!, t);
  // Gas that has just gone off looks like a float turned down until it is noticed.
  const offRatio = leastS > 0 ? toggledOff(state.candidates, i) : 0;
  for (const candidate of state.candidates) {
    if (candidate.kind !== "dial" || candidate.drop !== i || t - candidate.t < leastS) continue;
    const judged = judge(candidate, -2.5, 1.5);
    // The line does not answer: then the cylinder has to say so for as long, and as clearly, as it
    // must alone.
    const onS = state.drops[i]!.learntS - candidate.from;
    if (onS < STILL_DIAL_S && answers) continue;
    // A fitted cylinder of another size moves no line: there the cylinder is the only witness.
    const fitted = lastSwap !== null && candidate.t - lastSwap < FITTED_S;
    const shown = fitted
      ? t - candidate.t >= UNSEEN_DIAL_S
      : onS >= STILL_DIAL_S && judged.ratio >= STILL_DIAL_RATIO;
    const unclear = !shown || Math.abs(judged.size) < UNSEEN_DIAL_LOG;
    if (unclear && lineStandsStill(state.drops[i]!, t, judged.size, t - candidate.t)) continue;
    const denied =
      leastS > 0 || fitted
        ? 0
        : lineDenies(
            plan.drops[i]!,
            state.drops[i]!,
            judged.size,
            levelThen(candidate),
            candidate.t,
          );
    // A line that speaks against it asks for as much as one that stands still.
    if (denied < -DENIES && !shown) continue;
    if (judged.ratio + denied - offRatio > ratio && Math.abs(judged.size) > least) {
      ratio = judged.ratio + denied - offRatio;
      size = judged.size;
      best = candidate;
    }
  }
  if (best === null) return;
  const { turn } = state.drops[i]!;
  correctDial(filter, best, size);
  // What the filter has followed of the turn meanwhile is part of it: the size that is still missing
  // must not be counted on top in full.
  const now = filter.x[FIRST_DROP + i]!;
  // The level it has now belongs to the new flow: it is no second step.
  state.drops[i]!.refPa = null;
  addVariance(filter, FIRST_DROP + i, 0.02 ** 2);
  if (lastSwap !== null && best.t - lastSwap > FITTED_S) {
    // Turned while this cylinder hung here: that says nothing of its size.
    state.told.before[i] = state.told.before[i]! + now - best.before;
    state.told.spread[i] = state.told.spread[i]! + 1 / Math.max(best.weight, 1);
  } else if (lastSwap !== null && weighTold(plan, state, t, 0)) {
    // A cylinder of another size than told looks just like it.
    state.candidates = state.candidates.filter((c) => c.drop !== i);
    return;
  }
  if (turn !== null && !turn.announced) {
    turn.announced = true;
    reDialled(state, i, { t: turn.t, ratio: Math.exp(now - turn.log) });
  } else reDialled(state, i, { t: best.t, ratio: Math.exp(now - best.before) });
}

/** Twice the log likelihood ratio of gas that has gone off unnoticed, at least 0. */
function toggledOff(candidates: readonly Candidate[], drop: number): number {
  let most = 0;
  for (const candidate of candidates) {
    if (candidate.kind === "toggle" && candidate.drop === drop) {
      most = Math.max(most, judge(candidate, -1, -0.85).ratio);
    }
  }
  return most;
}

/** Walk of a conductance from spell to spell without a line sensor, 1 sigma. */
const UNSEEN_WALK = 0.003;

export function gasOn(state: EngineState, i: number, t: number, before: boolean | null): void {
  const drop = state.drops[i]!;
  const idleS = before === false ? t - (drop.offSince ?? t - 3600) : 0;
  if (idleS > 0 && hasLine(drop, t)) doubtLoop(state.filter, idleS);
  drop.on = true;
  drop.offSince = null;
  drop.hosePa = null;
  // Behind a closed valve a line is bled: no gas-on spell.
  drop.onSince = state.cylinder.valve === "closed" ? null : t;
  if (drop.onSince === null) return;
  if (drop.lastReminderDay > 0) drop.secondReminder ??= "due";
  drop.spells++;
  // Without a line sensor each spell is a mean over breaks of its own that pass unseen.
  if (before === false && !hasLine(drop, t)) {
    addVariance(state.filter, FIRST_DROP + i, UNSEEN_WALK ** 2);
  }
  state.events[i]!.push({ t, event: "gas-on" });
}

export function gasOff(state: EngineState, i: number, t: number, before: boolean | null): void {
  const drop = state.drops[i]!;
  const started = drop.onSince;
  drop.on = false;
  drop.onSince = null;
  drop.offSince = t;
  if (before === true && started !== null) {
    state.events[i]!.push({ t, event: "gas-off" });
  }
  if (before === true && started !== null) addSpell(state.spells[i]!, t - started);
}

/**
 * In the evening: a line that nobody uses any more still stands under pressure. Once a day, and once
 * more if gas was on meanwhile: the first may have come in a break.
 *
 * @param localS local time as seconds since 1970-01-01 0:00 local
 * @param forecast where heat alone should bring it, gauge Pa; null where that cannot be said
 */
export function remind(
  plan: SupplyPlan,
  state: EngineState,
  i: number,
  t: number,
  localS: number,
  forecast: () => number | null,
): void {
  const drop = state.drops[i]!;
  if (drop.on !== false || drop.offSince === null) return;
  if (t - Math.max(drop.offSince, drop.idleSince) < 3600) return;
  if (!hasLine(drop, t) || (drop.linePa ?? 0) < 0.5e5) return;
  const day = dayThatIsOver(plan.setup.site?.calendar?.shifts ?? [], localS);
  if (day === null) return;
  const again = drop.lastReminderDay === day;
  if (again && drop.secondReminder !== "due") return;
  drop.lastReminderDay = day;
  drop.secondReminder = again ? "given" : null;
  const forecastPa = forecast();
  state.events[i]!.push({
    t,
    event: "line-left-under-pressure",
    ...(forecastPa === null ? {} : { forecastPa: Math.round(forecastPa) }),
  });
}
