import type { DropState } from "./drop-state.ts";

/** Readings in a row off the reference level that make a turned float of it. */
const REF_READINGS = 8;

/**
 * Compares the flowing line with its reference level. More flow makes the regulator droop: with
 * `gapPa` from no flow to the learnt one, a step of the level tells the ratio of the flows.
 *
 * @returns ratio of the new to the old flow, or null
 */
export function watchLevel(state: DropState, t: number): number | null {
  if (state.on !== true || state.onSince === null || t - state.onSince < 10) return null;
  if (state.meanCount < 5) return null;
  if (state.refPa === null) {
    state.refPa = state.meanPa;
    state.refCount = 1;
    return null;
  }
  const step = state.meanPa - state.refPa;
  const gap = state.gapPa;
  const sigma = Math.sqrt(state.noise / state.meanCount);
  const least = Math.max(0.07 * (gap ?? 5e4), 5 * sigma, 0.004 * Math.abs(state.refPa), 800);
  state.refCount++;
  if (gap === null || state.gaps < 3 || state.refCount < 40 || Math.abs(step) < least) {
    state.refOff = 0;
    state.refPa += step / Math.min(state.refCount, 60);
    return null;
  }
  state.refOff++;
  if (state.refOff < REF_READINGS) return null;
  state.refOff = 0;
  state.refPa = state.meanPa;
  return Math.min(Math.max(1 - step / gap, 0.4), 2.5);
}
