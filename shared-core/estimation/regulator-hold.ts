import { BACK_PRESSURE_PA } from "./device.ts";
import type { DropState } from "./drop-state.ts";
import { shape } from "./line-flow.ts";
import type { DropPlan } from "./plan.ts";

/** What the regulator does as flow and cylinder pressure change, as this station shows it. */

/** Of the gauge pressure at the present flow, before anything is known of the regulator. */
const USUAL_DROOP = 0.03;

/**
 * Fall of the line for each L/min more, Pa: from the bench test; else from the difference between
 * idle and flowing, less the part that is lock-up; else 3 % of the line's pressure at this flow
 * (common practice, no source).
 */
export function droopPaPerLpm(
  plan: DropPlan,
  state: DropState,
  linePa: number,
  lpm: number,
): number {
  const tested = plan.device.fit?.droopPaPerLpm ?? null;
  if (tested !== null) return Math.max(tested.value, 0);
  if (!(lpm > 0)) return 0;
  if (plan.tap !== "hose" && state.gapPa !== null && state.gaps >= 2) {
    return (state.droopShare[0] * state.gapPa) / lpm;
  }
  return (USUAL_DROOP * Math.max(linePa, 0)) / lpm;
}

/** Flow that counts as held: nine tenths of the target. */
const HELD = 0.9;
/** Wide open a seat of about 1.5 mm costs this for each L/min of argon, Pa (estimate, no source). */
const SEAT_PA_PER_LPM = 0.05e5;

/**
 * Cylinder pressure (gauge Pa) below which the regulator cannot hold 90 % of the target: the line
 * pressure at which a setting that is right now passes 90 %, and the seat's own drop above it. A line
 * that sags by the supply-pressure effect does not raise it: the device can be opened further, so
 * the gas below is not lost, and the sag shows in the line's pressure, the flow and `dialTo`.
 */
export function holdPressurePa(plan: DropPlan, state: DropState, targetLpm: number): number {
  const seat = state.seatPa ?? SEAT_PA_PER_LPM * targetLpm;
  const least = BACK_PRESSURE_PA + seat;
  if (plan.tap === "hose") return least;
  const line = state.refPa ?? state.flowPa ?? plan.deliveryPa;
  if (line === null) return least;
  let held = heldLines.get(plan);
  if (held?.line !== line) {
    held = { line, pa: lineFor(plan, line, HELD) };
    heldLines.set(plan, held);
  }
  return Math.max(least, held.pa + seat);
}

/** Asked with each reading, for a line that moves seldom: the last answer of each restriction. */
const heldLines = new WeakMap<DropPlan, { line: number; pa: number }>();

/** Line pressure at which the restriction passes this share of what it passes at `linePa`. */
function lineFor(plan: DropPlan, linePa: number, share: number): number {
  const goal = share * shape(plan, linePa);
  let low = 0;
  let high = linePa;
  for (let k = 0; k < 40; k++) {
    const middle = (low + high) / 2;
    if (shape(plan, middle) < goal) low = middle;
    else high = middle;
  }
  return high;
}

/** The seat is wide open where the line stands this far below its usual level. */
const WIDE_OPEN = 0.95;
const SEAT_GAIN = 0.05;
/** More than this is no open seat, Pa. */
const MOST_SEAT_PA = 3e5;

/** Learns the wide-open seat's drop where a nearly empty cylinder shows it. */
export function learnSeat(
  plan: DropPlan,
  state: DropState,
  cylinderPa: number,
  levelPa: number,
): void {
  // The expected level stands still while the cylinder no longer feeds the line well.
  const usual = state.refPa ?? plan.deliveryPa;
  if (plan.tap === "hose" || state.on !== true || usual === null || state.meanCount < 5) return;
  const drop = Math.min(cylinderPa - levelPa, MOST_SEAT_PA);
  if (levelPa > WIDE_OPEN * usual || cylinderPa > 1.3 * usual + 3e5 || !(drop > 0)) return;
  state.seatPa = state.seatPa === null ? drop : state.seatPa + SEAT_GAIN * (drop - state.seatPa);
}
