import {
  AIR,
  BODY,
  FIRST_LOOP,
  gasTimeConstantS,
  LOOPS,
  RHO,
  ROOM,
  variance,
  WALL,
} from "./cylinder-filter.ts";
import { hasLine } from "./drop-state.ts";
import { classErrorPa, loopPlace, loopWidth, type Update } from "./filter-update.ts";
import { localTimeS, mayFlowUnseen } from "./habit.ts";
import { collect, correctLeak, endIdle, PAUSE_S, reckonLeak, takeIdle } from "./leak-watch.ts";
import type { SupplyPlan } from "./plan.ts";
import { probeIsOff } from "./probe-watch.ts";
import { roundingOfMean, stepOf } from "./reading-grid.ts";
import { plannedOff } from "./site-hours.ts";
import { medianSpellS } from "./spells.ts";
import type { EngineState } from "./supply-state.ts";
import { drawsUnseen, stepsHide } from "./unseen-drop.ts";

/** Without a line sensor the last gas-on must lie this far back before a loss is judged, s. */
const UNSEEN_SETTLE_S = 7200;
/** A probe strapped to the wall lags behind it by about this, s (common practice, no source). */
const PROBE_LAG_S = 40;
/** Part of the air that a strapped probe shows where the filter does not learn it, and 1 sigma of what is not learnt of it (common practice, no source). */
const AIR_SHARE = 0.05;
const AIR_SIGMA = 0.03;
/** The rounding of a coarse sensor is the same in so many blocks: what stands within a step stands for hours. */
const ALIKE = 24;

/** Standing loss: long idle spells tell of it, the whole mass balance reckons with it. */
export function watchLeak(plan: SupplyPlan, state: EngineState, t: number, update: Update): void {
  const { filter, leak, cylinder } = state;
  correctLeak(leak, update);
  const paused = leak.since !== null && t - leak.t > PAUSE_S;
  // Nobody saw what was drawn meanwhile, but with the main switch off nobody welds.
  const dark = paused && darkAsPlanned(plan, state, leak.t, t);
  if (paused && !dark) endIdle(leak);
  const idle =
    filter.warm &&
    !probeIsOff(state) &&
    !cylinder.liquid &&
    cylinder.valve === "open" &&
    (dark || cylinder.knownFrom === null || t > cylinder.knownFrom) &&
    state.drops.every((_, i) => idles(plan, state, i, t));
  if (!idle) {
    if (leak.since !== null) endIdle(leak);
    return;
  }
  if (cylinder.readingPa === null || cylinder.wallK === null) return;
  const mean = collect(leak, t, cylinder.wallK, {
    pa: cylinder.readingPa - classErrorPa(plan.filter, filter, cylinder.readingPa),
    bodyK: filter.bodyK,
    apartK: filter.x[ROOM]! - filter.x[WALL]!,
    loop: loopPlace(filter),
  });
  if (mean === null) return;
  leak.lagS = Math.max(gasTimeConstantS(plan.filter, filter) - PROBE_LAG_S, 20);
  const rho = plan.gas.densityAt(mean.pa + plan.filter.atmospherePa, mean.gasK, filter.x[RHO]!);
  if (!Number.isFinite(rho)) return;
  const volume = plan.filter.waterVolumeM3;
  const molPerPa = volume / plan.gas.slope(rho, mean.gasK);
  const molPerLpm = plan.gas.standardMolPerM3 / 60_000;
  const known = (i: number): number =>
    variance(filter, i) + (leak.error[i]! * leak.sigmaMolPerS) ** 2;
  const width = loopWidth(filter);
  const widthError = leak.error.subarray(FIRST_LOOP, FIRST_LOOP + LOOPS).reduce((a, b) => a + b, 0);
  const stepPa = stepOf(state.grid, plan.filter.sensorRangePa);
  const rounding = roundingOfMean(stepPa, Math.sqrt(cylinder.noise));
  const reading = {
    t,
    mol: rho * volume,
    noiseMol: Math.sqrt(cylinder.noise / mean.count + ALIKE * rounding) * molPerPa,
    molPerK: -plan.gas.heating(rho, mean.gasK) * molPerPa,
    molPerPa,
    draughtK: Math.sqrt(filter.driftVariance),
    rangePa: plan.filter.sensorRangePa,
    bodyK: mean.bodyK,
    apartK: mean.apartK,
    airShare: plan.filter.line ? filter.x[AIR]! : AIR_SHARE,
    airVariance: AIR_SIGMA ** 2,
    loop: mean.loop,
    coefficient: filter.x[BODY]!,
    coefficientVariance: known(BODY),
    halfWidth: width.pa,
    halfWidthVariance: width.variance + (widthError * leak.sigmaMolPerS) ** 2,
  };
  takeIdle(leak, reading, molPerLpm);
  const change = reckonLeak(leak, molPerLpm);
  if (change === 0) return;
  for (let i = 0; i < filter.x.length; i++) {
    filter.x[i] = filter.x[i]! + change * leak.error[i]!;
  }
}

/** A pause is looked at in steps of this, s: the switch is turned a little before or after its hour. */
const DARK_STEP_S = 900;

/** Whether a pause of the readings lies in the hours at which the station's power is off as planned. */
function darkAsPlanned(plan: SupplyPlan, state: EngineState, from: number, to: number): boolean {
  if (to - from < 3 * DARK_STEP_S) return false;
  for (let t = from + DARK_STEP_S; t <= to - DARK_STEP_S; t += DARK_STEP_S) {
    const off = plan.drops.every((_, i) =>
      plannedOff(plan, i, localTimeS(state.habits[i]!, plan.setup.timeZone, t)),
    );
    if (!off) return false;
  }
  return true;
}

/** Whether a drop surely draws nothing: without a line sensor spells may be too short to be seen. */
function idles(plan: SupplyPlan, state: EngineState, i: number, t: number): boolean {
  const drop = state.drops[i]!;
  if (drop.on !== false) return false;
  if (hasLine(drop, t)) return true;
  // Nobody sees its habit either: work at an unusual hour would look like a leak.
  if (drawsUnseen(plan, state, i, t) && stepsHide(plan, state, i)) return false;
  if (drop.offSince !== null && t - drop.offSince < UNSEEN_SETTLE_S) return false;
  return !mayFlow(plan, state, i, t);
}

/** Without a line sensor: gas may be on at this hour in spells too short to be seen. */
function mayFlow(plan: SupplyPlan, state: EngineState, i: number, t: number): boolean {
  const habit = state.habits[i]!;
  const local = localTimeS(habit, plan.setup.timeZone, t);
  return mayFlowUnseen(habit, local, medianSpellS(state.spells[i]!), 60);
}
