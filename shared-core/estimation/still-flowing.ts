import { type DropState, KNOWN_GAPS } from "./drop-state.ts";
import type { DropPlan } from "./plan.ts";

/**
 * A gas-off that was none. A needle turned down while gas flows raises the line at once, as a
 * gas-off does; but a line whose gas is off goes on to the level that it rests at, within seconds,
 * and a turned one stands still half-way.
 */

/** For how long after a gas-off the line may still be on its way, s. */
export const RISING_S = 30;
/** Readings of one plateau, no further apart than this, that make a line that stands still. */
export const STANDING_READINGS = 8;
const STANDING_GAP_S = 3;
/** So far below its rest (share of the whole rise) that a later gas-off still shows as a rise. */
const SHORT_OF_REST = 0.45;

/**
 * Where the line rests after a gas-off, gauge Pa; null while that is not known. Not above the last
 * flowing level by more than it ever rose: a screw that was turned, or a fuller cylinder, lowers both.
 */
function restPa(state: DropState): number | null {
  const { idlePa, flowPa, gapPa } = state;
  if (idlePa === null || flowPa === null || gapPa === null) return idlePa;
  return Math.min(idlePa, flowPa + gapPa);
}

/** The line is on its way up after a gas-off, or stands where a turned needle would hold it. */
export function belowRest(plan: DropPlan, state: DropState, t: number): boolean {
  // A fixed hole is no needle: nobody turns it down.
  if (plan.device.document?.kind === "orifice-gauge") return false;
  if (plan.tap === "hose" || state.on !== false || state.offSince === null) return false;
  const rest = restPa(state);
  if (state.gapPa === null || state.gaps < KNOWN_GAPS || rest === null) return false;
  return t - state.offSince <= RISING_S && state.meanPa < rest - 0.2 * state.gapPa;
}

/**
 * Whether the gas that was taken to be off flows on, with a needle turned down.
 *
 * @param t time of the line's latest reading, which the state's plateau holds
 */
export function stillFlows(plan: DropPlan, state: DropState, t: number): boolean {
  if (!belowRest(plan, state, t) || state.flowPa === null) return false;
  if (state.meanCount < STANDING_READINGS || state.lastSampleGap > STANDING_GAP_S) return false;
  // A slow rise drags its mean behind it.
  const drag = Math.abs((state.linePa ?? 0) - state.meanPa);
  if (drag > Math.max(1.5 * Math.sqrt(state.noise), 150)) return false;
  const gap = state.gapPa!;
  const above = state.meanPa - state.flowPa;
  return above > 0.2 * gap && restPa(state)! - state.meanPa > SHORT_OF_REST * gap;
}
