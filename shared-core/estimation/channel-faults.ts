import { FALLEN_OFF } from "../alarms/sensor-fault.ts";
import { FIRST_DROP, GAS, RHO, variance } from "./cylinder-filter.ts";
import { type DropState, hasLine } from "./drop-state.ts";
import type { PlacedSample } from "./engine.ts";
import { expectedPressurePa, loopWidth } from "./filter-update.ts";
import { loseLine } from "./line-fault.ts";
import type { SupplyPlan } from "./plan.ts";
import { hidesNoise, ownNoisePa, stepOf } from "./reading-grid.ts";
import type { EngineState } from "./supply-state.ts";

/** Channels in fault: what begins and ends a fault, and what nobody can tell while it lasts. */

/** Gas-on through which a reading may stay the same to the last digit, s. */
const STUCK_S = 300;
/** For so long after a time unseen the content starts from what is read, s. */
const SETTLES_S = 60;
/** A fault counts as gone when packs come without it for this long, s. */
const FAULT_FADES_S = 150;

/** A reading that stays while the cylinder should have fallen by this much, Pa, or so many sigma of its noise, tells nothing. */
const HELD_PA = 10_000;
const HELD_SIGMAS = 6;
/** A flow that may be so many of its sigma smaller, and noise of so many, are allowed for where whole steps hide a fall. */
const LESS_FLOW_SIGMAS = 1.6;
const HIDDEN_SIGMAS = 2;

/**
 * A cylinder reading that does not move by one step through minutes of gas-on is stuck. Long before that
 * sets the matter it says nothing of the flow: taken in, it would make the flow nothing. One that is told in
 * coarse steps stands still for minutes: it is stuck once the cylinder should have fallen by well over a step.
 *
 * @param molPerS what all drops draw while on
 * @returns whether this reading is to be left out
 */
export function watchStuck(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  readingPa: number,
  dtS: number,
  molPerS: number,
): boolean {
  const { cylinder, drops, filter } = state;
  if (readingPa !== cylinder.stuckPa) {
    if (isStuck(plan, state, molPerS)) seeAnew(plan, state, t, readingPa);
    cylinder.stuckPa = readingPa;
    cylinder.stuckS = 0;
    return false;
  }
  if (drops.some((drop) => drop.on === true)) cylinder.stuckS += Math.min(dtS, 20);
  if (cylinder.valve === "closed") return false;
  if (isStuck(plan, state, molPerS)) {
    takeFault(state, { channel: "cylinder-pressure/fault", t, value: "stuck" }, t, -1);
    return filter.started && !cylinder.liquid;
  }
  if (!filter.started || cylinder.liquid) return false;
  // Without a line sensor gas may as well have gone off unseen.
  if (cylinder.stuckS === 0 || !drops.every((drop) => hasLine(drop, t))) return false;
  const leastPa = isCoarse(plan, state)
    ? stepOf(state.grid, plan.filter.sensorRangePa)
    : stillPa(state);
  return fallUnseen(plan, state, molPerS) > leastPa;
}

/** Whether the reading has stood for so long, with so much drawn, that its sensor must be in fault. */
function isStuck(plan: SupplyPlan, state: EngineState, molPerS: number): boolean {
  const { cylinder, filter } = state;
  if (cylinder.stuckS < STUCK_S) return false;
  if (!isCoarse(plan, state)) return true;
  // What boils stands for hours within a coarse step.
  if (!filter.started || cylinder.liquid) return false;
  return fallUnseen(plan, state, molPerS) > hidden(plan, state);
}

/** Whether the cylinder's readings are told in steps that hide its noise: they stand still for a while. */
export function isCoarse(plan: SupplyPlan, { cylinder, grid }: EngineState): boolean {
  const stepPa = stepOf(grid, plan.filter.sensorRangePa);
  // A finer one hides less than what a reading that stands still is allowed for.
  return stepPa > HELD_PA / 2 && hidesNoise(stepPa, Math.sqrt(cylinder.noise));
}

/** By how much the pressure should have fallen while its reading stood, with what the wall warmed taken off, Pa. */
function fallUnseen(plan: SupplyPlan, state: EngineState, molPerS: number): number {
  const { cylinder, filter, grid } = state;
  const { gas, waterVolumeM3 } = plan.filter;
  const slope = gas.slope(filter.x[RHO]!, filter.x[GAS]!);
  const drawnPa = (slope * molPerS * cylinder.stuckS) / waterVolumeM3;
  if (!isCoarse(plan, state) || cylinder.wallK === null || grid.wallK === null) return drawnPa;
  const warmedK = cylinder.wallK - grid.wallK;
  return drawnPa - gas.heating(filter.x[RHO]!, filter.x[GAS]!) * warmedK;
}

function stillPa({ cylinder }: EngineState): number {
  return Math.max(HELD_PA, HELD_SIGMAS * Math.sqrt(cylinder.noise));
}

/** So much of a fall coarse steps may hide, with the sensor's hysteresis and a flow that is less than thought, Pa. */
function hidden(plan: SupplyPlan, state: EngineState): number {
  const { cylinder, filter, grid } = state;
  const stepPa = stepOf(grid, plan.filter.sensorRangePa);
  const loop = loopWidth(filter);
  const turnPa = 2 * (loop.pa + Math.sqrt(loop.variance));
  const noisePa = ownNoisePa(stepPa, Math.sqrt(cylinder.noise));
  const mostPa = stepPa + turnPa + HIDDEN_SIGMAS * noisePa;
  let flowVariance = 0;
  state.drops.forEach((_, i) => {
    flowVariance = Math.max(flowVariance, variance(filter, FIRST_DROP + i));
  });
  return Math.max(stillPa(state), mostPa * Math.exp(LESS_FLOW_SIGMAS * Math.sqrt(flowVariance)));
}

/** A reading that came late is the one at which the cylinder's sensor has stood for a while. */
export function isHeldReading(state: EngineState, readingPa: number): boolean {
  return state.cylinder.stuckS > 0 && readingPa === state.cylinder.stuckPa;
}

/** What a first reading after a time unseen may lie beside what is expected, Pa and share of it. */
const ANEW_PA = 3e5;
const ANEW_SHARE = 0.1;

/**
 * The cylinder is read again after a time unseen: its heat, and the line's level beside it, were not followed.
 * A reading that drawing does not explain is left to the rules for closed valves and changed cylinders.
 */
function seeAnew(plan: SupplyPlan, state: EngineState, t: number, readingPa: number): void {
  const { cylinder, filter } = state;
  if (cylinder.valve === "closed" || cylinder.liquid || !filter.started) return;
  const expected = expectedPressurePa(plan.filter, filter);
  if (Math.abs(readingPa - expected) > Math.max(ANEW_PA, ANEW_SHARE * expected)) return;
  // What it stood at was no reading before this one.
  cylinder.readingPa = readingPa;
  cylinder.settleUntil = t + SETTLES_S;
  cylinder.knownFrom = t;
  state.candidates.length = 0;
}

/** A fault is repeated in every pack while it lasts; where it no longer is, the channel is well. */
export function endFaults(state: EngineState, t: number): void {
  if (state.faults.length === 0) return;
  state.faults = state.faults.filter(({ channel, fault, lastT, drop }) => {
    // What is seen here lasts until it is seen to be over.
    if (t - lastT <= FAULT_FADES_S || (fault === FALLEN_OFF && lastT > 0)) return true;
    state.events.forEach((list, i) => {
      if (drop < 0 || drop === i) list.push({ t, event: "sensor-ok", channel });
    });
    return false;
  });
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

/** What the cylinder's pressure is in while its node is silent. */
export const NODE_SILENT = "node-silent";

/** The cylinder's node is silent while a drop's is not: its reading is old, and that is said. */
export function loseCylinder(state: EngineState, t: number): void {
  if (state.cylinder.readingT === null) return;
  takeFault(state, { channel: "cylinder-pressure/fault", t, value: NODE_SILENT }, t, -1);
}

/** The cylinder's node is heard again: what it says now is no fault of its silence. */
export function hearCylinder(state: EngineState, t: number): void {
  for (const one of state.faults) {
    if (one.fault === NODE_SILENT) one.lastT = t - FAULT_FADES_S - 1;
  }
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

/**
 * Variance that `dtS` without knowledge of a drop's regime adds to the content, mol². While nothing
 * is read at all the error grows with the time, not with its root: nobody sees what is drawn.
 *
 * @param molPerS flow of the drop when on
 */
export function unseenVariance(
  state: EngineState,
  i: number,
  t: number,
  dtS: number,
  molPerS: number,
): number {
  const { heldT } = state.cylinder;
  if (heldT === null || !isBlind(state, i, t)) return (0.3 * molPerS * Math.min(dtS, 60)) ** 2;
  const heldS = Math.max(t - heldT, dtS);
  return (0.3 * molPerS) ** 2 * (heldS ** 2 - (heldS - dtS) ** 2);
}

export function loseSight(state: EngineState, t: number): void {
  state.drops.forEach((drop, i) => {
    if (drop.on === null || !isBlind(state, i, t)) return;
    drop.on = null;
    drop.onSince = null;
    drop.hosePa = null;
  });
}
