import type { Quantiles, RemainingEstimate } from "@leeward/shared-core/estimation/estimate.ts";
import { minutesInWords, minutesRangeInWords } from "./durations.ts";
import { DASH } from "./numbers.ts";

export interface TimeLeft {
  /** `62 min`, or `3 – 5 h` where the interval is too wide for one figure, or a dash. */
  text: string;
  /** Minutes, null where unknown. */
  median: number | null;
  low: number | null;
  high: number | null;
  why: string | null;
}

/** Upper over lower bound from which one figure would claim too much. */
const WIDE = 1.5;

/** The smaller of the time at the present flow and the time at the flow the weld needs. */
export function smallerRemaining(remaining: RemainingEstimate): Quantiles {
  const now = remaining.gasOnMinutes;
  const target = remaining.atTargetMinutes;
  if (now.median === null) return target.median === null ? now : target;
  if (target.median === null) return now;
  return target.median < now.median ? target : now;
}

/** Gas-on time left, as shown. */
export function timeLeft(remaining: RemainingEstimate): TimeLeft {
  const { median, low, high, why } = smallerRemaining(remaining);
  if (median === null) {
    return { text: DASH, median: null, low: null, high: null, why: why ?? null };
  }
  const bounds = { low: low ?? null, high: high ?? null };
  const wide =
    low !== undefined &&
    high !== undefined &&
    low !== null &&
    high !== null &&
    high >= 10 &&
    high > WIDE * Math.max(low, 1);
  return {
    text: wide ? minutesRangeInWords(low, high) : minutesInWords(median),
    median,
    ...bounds,
    why: null,
  };
}
