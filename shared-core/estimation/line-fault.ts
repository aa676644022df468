import type { DropState } from "./drop-state.ts";
import type { DropPlan } from "./plan.ts";

/** When a line sensor's readings are not to be believed. */

/** Good readings in a row after which a sensor that was in fault is believed again. */
const GOOD_READINGS = 3;
/** Equal readings that would come by chance this rarely mean that the sensor is stuck. */
const STUCK_CHANCE = 1e-9;
const STUCK_READINGS = 40;
const STUCK_S = 60;
/** Readings that must have shown how often a sensor repeats itself. */
const TAUGHT = 150;

/** The line's readings are not to be believed from here on. */
export function loseLine(state: DropState, fault: string): void {
  state.lineFault = fault;
  state.lineGood = 0;
  state.offCount = 0;
}

/** A reading that no fault comes with: after three of them the line is believed again. */
export function countGood(state: DropState): void {
  if (state.lineFault === null) return;
  state.lineGood++;
  if (state.lineGood < GOOD_READINGS) return;
  state.lineFault = null;
  state.previous.length = 0;
  state.meanCount = 0;
}

/** Fault that a reading (gauge Pa) shows by itself; null where it may be true. */
export function seenFault(
  plan: DropPlan,
  state: DropState,
  t: number,
  readingPa: number,
): "out-of-range" | "stuck" | null {
  const { lineRangePa, lineLimitPa } = plan;
  const stuck = watchRepeats(state, t, readingPa);
  if (lineRangePa === null) return stuck ? "stuck" : null;
  if (readingPa > 1.05 * lineRangePa || readingPa < -0.025 * lineRangePa - 2 * lineLimitPa) {
    return "out-of-range";
  }
  // An empty line may well read the same to the last digit.
  return stuck && readingPa > 0.02 * lineRangePa ? "stuck" : null;
}

/**
 * A sensor that lives trembles. How often it repeats a reading is learnt, with gas on and off
 * apart (flowing gas is louder); a run that this makes as good as impossible is no sensor.
 */
function watchRepeats(state: DropState, t: number, readingPa: number): boolean {
  const k = state.on === true ? 1 : 0;
  const same = readingPa === state.rawPa;
  state.rawPa = readingPa;
  if (!same) {
    state.sameCount = 0;
    state.sameSince = t;
  } else {
    state.sameCount++;
  }
  // A long run teaches nothing until it ends.
  const { repeats } = state;
  if (state.sameCount <= 5) {
    repeats[k + 2] = Math.min(repeats[k + 2]! + 1, 300);
    repeats[k] = repeats[k]! + ((same ? 1 : 0) - repeats[k]!) / repeats[k + 2]!;
  }
  if (state.sameCount < STUCK_READINGS || t - state.sameSince < STUCK_S) return false;
  if (repeats[k + 2]! < TAUGHT) return false;
  return Math.max(repeats[k]!, 0.02) ** state.sameCount < STUCK_CHANCE;
}
