import { addVariance, FIRST_DROP } from "./cylinder-filter.ts";
import { BLED_PA, DROOP_SHARE, type DropState, KNOWN_GAPS } from "./drop-state.ts";
import type { DropPlan, SupplyPlan } from "./plan.ts";
import { levelMoves, levelScatter, meanLevel, startLevel } from "./re-dial.ts";
import { forgetWarmLevel } from "./regulator-watch.ts";
import type { EngineState } from "./supply-state.ts";

/**
 * Another regulator by its levels. It is changed behind a closed valve with the line bled, or while nobody
 * saw; afterwards where the line rests, where it flows and the gap between the two are other ones. A float
 * that was turned moves only where it flows, a screw moves both alike, another cylinder moves both by the
 * supply-pressure effect.
 */

/**
 * Levels as they stood when the valve was closed or sight of the line was lost (gauge Pa as the sensor read
 * them, zero included): idle as learnt, flowing, gap, the cylinder pressure that goes with them, the sensor's
 * zero then, and when that was, Unix s.
 */
export type HeldLevels = Float64Array;
const IDLE = 0;
const FLOWING = 1;
const GAP = 2;
const CYLINDER = 3;
const ZERO = 4;
const SINCE = 5;

/** From then on the plateau of a spell tells, s of gas-on, and so many readings of it. */
const PLATEAU_S = 12;
const PLATEAU_READINGS = 5;
/** Far more than a regulator's own scatter. */
const SIGMAS = 5;
/** An idle line warms and cools with the shop: 2 K, 1 sigma, share of its absolute pressure. */
const WARMTH = 0.007;
/** A line wanders by this within a spell, 1 sigma, Pa. */
const WANDER_PA = 200;
/** A gap that differs by less than this share may be the same regulator's. */
const SAME_GAP = 0.25;
/**
 * Where there is a screw, or nobody said, screw and float may have been set anew together: so far, as shares,
 * the gap then goes with the flow (common practice, no source).
 */
const SET_ANEW = { least: 0.55, most: 1.7 };
/** Another regulator whose device came with it: 1 sigma of the conductance's logarithm, where no description is better. */
const OTHER_DEVICE = 0.2;

/** Keeps the levels that are known now, for what comes when the line is seen under pressure again. */
export function holdLevels(plan: DropPlan, drop: DropState, t: number): void {
  const { idlePa, gapPa, gaps } = drop;
  const flowing = meanLevel(drop);
  if (drop.held !== null || plan.tap === "hose" || flowing === null) return;
  if (idlePa === null || idlePa < BLED_PA || gapPa === null || gaps < KNOWN_GAPS) return;
  drop.held = Float64Array.of(idlePa, flowing.pa, gapPa, flowing.cylinderPa, drop.zeroPa, t);
}

/**
 * Compares the levels of a flowing line with those that were held.
 *
 * @returns whether the line's level still waits for this to be settled
 */
export function watchRegulator(
  plan: SupplyPlan,
  state: EngineState,
  i: number,
  t: number,
): boolean {
  const drop = state.drops[i]!;
  const dropPlan = plan.drops[i]!;
  const { held, idlePa, onSince, level } = drop;
  if (held === null || drop.on !== true || onSince === null) return false;
  // A line that others draw from as well shows their flow in its gap.
  if (level === null || !hasOwnRegulator(plan, i)) {
    drop.held = null;
    return false;
  }
  // Where it rests now was not seen yet.
  if (idlePa === null || idlePa < BLED_PA || idlePa === held[IDLE]!) return false;
  const zero = drop.zeroPa - held[ZERO]!;
  const moved = levelMoves(dropPlan, level, held[CYLINDER]!, state.cylinder.readingPa ?? 0);
  const spread = Math.hypot(Math.sqrt(2 * levelScatter(level)), WANDER_PA);
  const warmth = WARMTH * (held[IDLE]! + dropPlan.atmospherePa);
  const idleStep = idlePa + zero - held[IDLE]! - moved.pa;
  if (Math.abs(idleStep) < SIGMAS * Math.hypot(spread, warmth, moved.sigma)) {
    drop.held = null;
    return false;
  }
  if (t - onSince < PLATEAU_S || drop.meanCount < PLATEAU_READINGS) return true;
  drop.held = null;
  const flowing = held[FLOWING]! + moved.pa;
  const flowStep = drop.meanPa + zero - flowing;
  if (Math.abs(flowStep) < SIGMAS * Math.hypot(spread, moved.sigma)) return false;
  const gap = idlePa - drop.meanPa;
  const passes = (flowing + flowStep + dropPlan.atmospherePa) / (flowing + dropPlan.atmospherePa);
  if (sameGap(dropPlan, held[GAP]!, gap, passes, SIGMAS * Math.hypot(spread, warmth))) return false;
  renewRegulator(plan, state, i, Math.max(drop.idleSince, held[SINCE]!));
  drop.idlePa = idlePa;
  drop.flowPa = drop.meanPa;
  drop.gapPa = gap;
  drop.gaps = 1;
  startLevel(dropPlan, drop, drop.meanPa, state.cylinder.readingPa ?? 0);
  drop.refPa = drop.meanPa;
  drop.refCount = 1;
  return false;
}

/**
 * Whether a gap may be the same regulator's. What passes the device goes with the delivery, and the gap with it.
 *
 * @param passes new over old absolute level of the flowing line
 * @param unsure Pa
 */
function sameGap(plan: DropPlan, before: number, now: number, passes: number, unsure: number) {
  // A line that rests no higher than it flows was not seen at rest.
  if (now < unsure && now < before * SAME_GAP) return true;
  const { least, most } = plan.regulator?.adjust === "preset" ? { least: 1, most: 1 } : SET_ANEW;
  const margin = Math.max(unsure, SAME_GAP * before);
  const low = before * least * Math.min(passes, 1) - margin;
  return now > low && now < before * most * Math.max(passes, 1) + margin;
}

function hasOwnRegulator(plan: SupplyPlan, i: number): boolean {
  return plan.drops.length === 1 || plan.drops[i]!.station.regulator !== undefined;
}

/** Another regulator was described: what was learnt of the one before is forgotten. */
export function describeRegulators(
  before: SupplyPlan,
  now: SupplyPlan,
  state: EngineState,
  t: number,
): void {
  now.drops.forEach((drop, i) => {
    const old = before.drops[i]?.regulator ?? null;
    // One that was described for the first time is the one that has been there.
    if (old === null || drop.regulator === null) return;
    if (JSON.stringify(old) === JSON.stringify(drop.regulator)) return;
    renewRegulator(now, state, i, t);
  });
}

/** Forgets what belonged to the regulator before; content, sensors and habits stay. */
function renewRegulator(plan: SupplyPlan, state: EngineState, i: number, t: number): void {
  const drop = state.drops[i]!;
  const dropPlan = plan.drops[i]!;
  state.events[i]!.push({ t, event: "regulator-replaced" });
  drop.held = null;
  drop.idlePa = null;
  drop.flowPa = null;
  drop.gapPa = null;
  drop.gaps = 0;
  drop.level = null;
  drop.refPa = null;
  drop.refOff = 0;
  drop.refCount = 0;
  drop.turn = null;
  drop.droopShare = [...DROOP_SHARE];
  drop.seatPa = null;
  drop.falseClimbs = 0;
  forgetWarmLevel(state.watches[i]!.body);
  state.candidates = state.candidates.filter((c) => c.drop !== i);
  state.dialStarts[i] = 0;
  // A meter is a part of its own; any other device may sit in the regulator's outlet.
  if (dropPlan.device.document?.kind === "metered") return;
  const variance = Math.min(OTHER_DEVICE, dropPlan.priorSigma) ** 2;
  addVariance(state.filter, FIRST_DROP + i, variance);
  state.told.spread[i] = state.told.spread[i]! + variance;
  drop.learntS = 0;
}
