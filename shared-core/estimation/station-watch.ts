import {
  type Candidate,
  correctDial,
  correctToggle,
  judge,
  matchCandidates,
  startCandidate,
} from "./change-watch.ts";
import {
  addVariance,
  BODY,
  FIRST_DROP,
  gasTimeConstantS,
  LOOP,
  RHO,
  type Update,
  variance,
} from "./cylinder-filter.ts";
import { type DropState, hasLine } from "./drop-state.ts";
import type { PlacedSample } from "./engine.ts";
import { endIdle, takeIdle } from "./leak-watch.ts";
import { loseLine } from "./line-fault.ts";
import type { SupplyPlan } from "./plan.ts";
import { watchLevel } from "./re-dial.ts";
import { addSpell } from "./spells.ts";
import type { EngineState } from "./supply-state.ts";

/** What the engine watches from sample to sample: changes of regime, leaks, faults, reminders. */

/** Twice the log likelihood ratios that a change needs: about one false one in a million readings. */
const TOGGLE_ON_RATIO = 24;
const TOGGLE_OFF_RATIO = 16;
const DIAL_RATIO = 30;
const TOGGLE_WINDOW_S = 90;
/** Gas-on through which a reading may stay the same to the last digit, s. */
const STUCK_S = 300;
/** A fault counts as gone when packs come without it for this long, s. */
const FAULT_FADES_S = 150;

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
  plan.drops.forEach((_, i) => {
    const drop = state.drops[i]!;
    if (!hasLine(drop, t)) watchToggle(plan, state, i, t);
    const known = state.cylinder.knownFrom;
    // A fresh cylinder settles for some minutes; what it does then is no turned float.
    if (drop.on === true && feeds(plan, state, i) && (known === null || t - known > 900)) {
      watchDial(state, i);
      if (drop.learntS - state.dialStarts[i]! >= 15) {
        state.dialStarts[i] = drop.learntS;
        startCandidate(candidates, filter, t, i, "dial");
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
  let ratio = on ? TOGGLE_OFF_RATIO : TOGGLE_ON_RATIO;
  for (const candidate of candidates) {
    if (candidate.kind !== "toggle" || candidate.drop !== i) continue;
    // Slow drifts of the model look like a small flow: only what comes up soon counts.
    if (t - candidate.t > TOGGLE_WINDOW_S) continue;
    const judged = on ? judge(candidate, -1, -0.85) : judge(candidate, 0.5, 2);
    if (judged.ratio > ratio) {
      ratio = judged.ratio;
      best = candidate;
    }
  }
  if (best !== null) {
    correctToggle(plan.filter, filter, best, on ? -1 : 1);
    const before = drop.on;
    if (on) gasOff(state, i, best.t, before);
    else gasOn(state, i, best.t, before);
    // A line that is believed again is judged against the level of the regime that it is in now.
    if (drop.lineT !== null) drop.anchorPa = drop.on ? drop.flowPa : drop.idlePa;
    state.candidates = candidates.filter((c) => c.kind === "dial" || c.drop !== i);
  } else {
    if (drop.on === null && filter.updates > 12) drop.on = false;
    state.candidates = candidates.filter((c) => c.kind === "dial" || t - c.t <= TOGGLE_WINDOW_S);
  }
  startCandidate(state.candidates, filter, t, i, "toggle");
}

/** A step of the flowing line's level: the float was turned. */
export function watchStep(plan: SupplyPlan, state: EngineState, i: number, t: number): void {
  const drop = state.drops[i]!;
  const { filter, cylinder } = state;
  if (!feeds(plan, state, i) || cylinder.valve !== "open") {
    drop.refOff = 0;
    return;
  }
  if (cylinder.knownFrom !== null && t - cylinder.knownFrom < 300) drop.refPa = null;
  const ratio = watchLevel(drop, t);
  if (ratio === null || plan.drops[i]!.tap === "hose") return;
  const log = Math.log(ratio);
  filter.x[FIRST_DROP + i] = filter.x[FIRST_DROP + i]! + log;
  addVariance(filter, FIRST_DROP + i, (0.5 * log) ** 2 + 0.02 ** 2);
  reDialled(state, i, { t: Math.max(t - 10, drop.onSince ?? t), ratio });
}

export function reDialled(
  state: EngineState,
  i: number,
  reDial: { t: number; ratio: number },
): void {
  const drop = state.drops[i]!;
  drop.lastReDial = reDial;
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

/** A float turned to another reading: the cylinder empties faster or slower than it should. */
export function watchDial(state: EngineState, i: number): void {
  const { filter } = state;
  // A conductance that is still being learnt cannot be seen to change.
  if (variance(filter, FIRST_DROP + i) > 0.06 ** 2) return;
  let best: Candidate | null = null;
  let ratio = DIAL_RATIO;
  let size = 0;
  for (const candidate of state.candidates) {
    if (candidate.kind !== "dial" || candidate.drop !== i) continue;
    const judged = judge(candidate, -2.5, 1.5);
    if (judged.ratio > ratio && Math.abs(judged.size) > 0.07) {
      ratio = judged.ratio;
      size = judged.size;
      best = candidate;
    }
  }
  if (best === null) return;
  correctDial(filter, best, size);
  addVariance(filter, FIRST_DROP + i, 0.02 ** 2);
  reDialled(state, i, { t: best.t, ratio: Math.exp(size) });
}

export function gasOn(state: EngineState, i: number, t: number, before: boolean | null): void {
  const drop = state.drops[i]!;
  drop.on = true;
  drop.offSince = null;
  drop.hosePa = null;
  // Behind a closed valve a line is bled: no gas-on spell.
  drop.onSince = state.cylinder.valve === "closed" ? null : t;
  if (drop.onSince === null) return;
  drop.spells++;
  if (before === false) addVariance(state.filter, FIRST_DROP + i, 0.003 ** 2);
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

export function watchLeak(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  readingPa: number | null,
): void {
  const { filter, leak, cylinder } = state;
  const idle = state.drops.every((drop) => drop.on === false) && cylinder.valve === "open";
  if (!idle || !filter.started || !filter.warm || cylinder.liquid) {
    if (leak.since !== null) endIdle(leak);
    return;
  }
  if (readingPa === null || cylinder.wallK === null) return;
  // The gas follows the wall with its own time constant.
  const dt = leak.gasK === null ? 0 : Math.min(Math.max(t - leak.t, 0), 600);
  const lag = Math.max(gasTimeConstantS(plan.filter, filter), 20);
  leak.gasK =
    leak.gasK === null
      ? cylinder.wallK
      : leak.gasK + (cylinder.wallK - leak.gasK) * (1 - Math.exp(-dt / lag));
  // What is known of the sensor's own habits is taken off first.
  const { x } = filter;
  const known = x[BODY]! * filter.bodyK + x[LOOP]! * filter.loop;
  const absolute = readingPa - known + plan.filter.atmospherePa;
  const rho = plan.gas.densityAt(absolute, leak.gasK, filter.x[RHO]!);
  if (!Number.isFinite(rho)) return;
  const slope = plan.gas.slope(rho, leak.gasK);
  takeIdle(leak, {
    t,
    rho,
    rhoPerK: -plan.gas.heating(rho, leak.gasK) / slope,
    noise: Math.sqrt(cylinder.noise) / slope,
    rangeRho: plan.filter.sensorRangePa / slope,
  });
}

/** A cylinder reading that does not move by one step through minutes of gas-on is stuck. */
export function watchStuck(state: EngineState, t: number, readingPa: number, dtS: number): void {
  const { cylinder, drops } = state;
  if (readingPa !== cylinder.stuckPa) {
    cylinder.stuckPa = readingPa;
    cylinder.stuckS = 0;
    return;
  }
  if (drops.some((drop) => drop.on === true)) cylinder.stuckS += Math.min(dtS, 20);
  if (cylinder.stuckS < STUCK_S || cylinder.valve === "closed") return;
  takeFault(state, { channel: "cylinder-pressure/fault", t, value: "stuck" }, t, -1);
}

/** A fault is repeated in every pack while it lasts; where it no longer is, the channel is well. */
export function endFaults(state: EngineState, t: number): void {
  if (state.faults.length === 0) return;
  state.faults = state.faults.filter(({ channel, lastT, drop }) => {
    if (t - lastT <= FAULT_FADES_S) return true;
    state.events.forEach((list, i) => {
      if (drop < 0 || drop === i) list.push({ t, event: "sensor-ok", channel });
    });
    return false;
  });
}

/** Once an evening: a line that nobody uses any more still stands under pressure. */
export function remind(state: EngineState, i: number, t: number, localS: number): void {
  const drop = state.drops[i]!;
  const hour = (((localS / 3600) % 24) + 24) % 24;
  const day = Math.floor(localS / 86_400);
  if (drop.on !== false || drop.offSince === null || t - drop.offSince < 3600) return;
  if (hour < 14 || drop.lastReminderDay === day || !hasLine(drop, t)) return;
  if ((drop.linePa ?? 0) < 0.5e5) return;
  drop.lastReminderDay = day;
  state.events[i]!.push({ t, event: "line-left-under-pressure" });
}

export function takeFault(state: EngineState, sample: PlacedSample, t: number, drop: number): void {
  if (typeof sample.value !== "string") return;
  const channel = sample.channel.slice(0, -"/fault".length);
  const ofCylinder = channel.startsWith("cylinder");
  if (ofCylinder !== drop < 0) return;
  if (drop >= 0) forget(state.drops[drop]!, channel, sample.value);
  const known = state.faults.find((fault) => fault.channel === channel && fault.drop === drop);
  if (known !== undefined) {
    known.lastT = t;
    return;
  }
  state.faults.push({ channel, fault: sample.value, since: t, lastT: t, drop });
  state.events.forEach((list, i) => {
    if (drop < 0 || drop === i)
      list.push({ t, event: "sensor-fault", channel, fault: sample.value as string });
  });
}

/** What a channel in fault said last is not the present any more. */
function forget(drop: DropState, channel: string, fault: string): void {
  if (channel === "line-pressure") loseLine(drop, fault);
  if (channel === "regulator-temperature") drop.regulatorK = null;
  if (channel === "ambient-temperature") drop.ambientK = null;
  if (channel === "arc") drop.arc = null;
}

/** Neither line nor cylinder pressure is read: nobody can tell whether gas flows. */
export function isBlind(state: EngineState, i: number, t: number): boolean {
  const { faults, cylinder } = state;
  if (hasLine(state.drops[i]!, t)) return false;
  return (
    cylinder.readingT !== null &&
    faults.some(({ channel, drop }) => drop < 0 && channel === "cylinder-pressure")
  );
}

export function loseSight(state: EngineState, t: number): void {
  state.drops.forEach((drop, i) => {
    if (drop.on === null || !isBlind(state, i, t)) return;
    drop.on = null;
    drop.onSince = null;
    drop.hosePa = null;
  });
}
