import type { Answer } from "./client.ts";

/** What a page shows of what it asked for last, and how old that is. */
export interface KeptAnswer<T> {
  /** The last value that came, now or before; null where there is none. */
  value: T | null;
  /** When it came, Unix s of this device. */
  cameS: number | null;
  /** The gateway did not answer when asked last: the value is old, and nothing of it is news. */
  old: boolean;
  /** What was answered last; null before the first answer. */
  answer: Answer<T> | null;
}

export const nothingKept = { value: null, cameS: null, old: false, answer: null };

/** After an answer came at `nowS`: a failure leaves the value that was there, as an old one. */
export function afterAnswer<T>(
  before: KeptAnswer<T>,
  answer: Answer<T>,
  nowS: number,
): KeptAnswer<T> {
  return answer.ok
    ? { value: answer.value, cameS: nowS, old: false, answer }
    : { ...before, old: true, answer };
}

/** With what this device kept of an earlier time, where nothing newer is there. */
export function withRecalled<T>(
  before: KeptAnswer<T>,
  kept: { value: unknown; keptS: number } | null,
  fits: (value: unknown) => value is T,
): KeptAnswer<T> {
  return before.value === null && before.old && kept && fits(kept.value)
    ? { ...before, value: kept.value, cameS: kept.keptS }
    : before;
}
