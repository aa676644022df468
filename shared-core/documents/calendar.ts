import { z } from "zod";

/** Local time of day, such as `18:30`; `24:00` ends a day. */
export const timeOfDaySchema = z
  .string()
  .regex(/^([01]\d|2[0-3]):[0-5]\d$|^24:00$/, "must be a time of day, such as 18:30");

/**
 * A stretch of the week by local time, on each of `days` (1 Monday to 7 Sunday; every day where
 * absent). One that ends before it begins goes on into the next day.
 */
export const weeklySpanSchema = z.strictObject({
  days: z.array(z.int().min(1).max(7)).min(1).optional(),
  from: timeOfDaySchema,
  to: timeOfDaySchema,
});
export type WeeklySpan = z.infer<typeof weeklySpanSchema>;

function secondsOf(time: string): number {
  return 3600 * Number(time.slice(0, 2)) + 60 * Number(time.slice(3));
}

/** Day of the week from 1 (Monday) to 7 of a local time in s since 1970 (a Thursday). */
function dayOf(localS: number): number {
  return ((((Math.floor(localS / 86_400) + 3) % 7) + 7) % 7) + 1;
}

/**
 * End (local s) of the span that `localS` lies in; null where it lies in none.
 * @param localS local time as seconds since 1970-01-01 0:00 local
 */
export function spanEndS(spans: readonly WeeklySpan[], localS: number): number | null {
  let end: number | null = null;
  const midnight = Math.floor(localS / 86_400) * 86_400;
  for (const { days, from, to } of spans) {
    const fromS = secondsOf(from);
    const toS = secondsOf(to);
    const lengthS = toS > fromS ? toS - fromS : toS + 86_400 - fromS;
    for (const start of [midnight + fromS, midnight - 86_400 + fromS]) {
      if (days !== undefined && !days.includes(dayOf(start))) continue;
      if (localS < start || localS >= start + lengthS) continue;
      end = Math.max(end ?? 0, start + lengthS);
    }
  }
  return end;
}

/** Whether a local time lies in one of the spans. */
export function inSpan(spans: readonly WeeklySpan[], localS: number): boolean {
  return spanEndS(spans, localS) !== null;
}

/**
 * The latest end of a span at or before `localS`, and the next start after it (local s), both within
 * a day and the length of a span; null where there is none.
 */
export function endAndNextStart(
  spans: readonly WeeklySpan[],
  localS: number,
): { ended: number | null; next: number | null } {
  let ended: number | null = null;
  let next: number | null = null;
  const midnight = Math.floor(localS / 86_400) * 86_400;
  for (const { days, from, to } of spans) {
    const fromS = secondsOf(from);
    const toS = secondsOf(to);
    const lengthS = toS > fromS ? toS - fromS : toS + 86_400 - fromS;
    for (const day of [-2, -1, 0, 1]) {
      const start = midnight + day * 86_400 + fromS;
      if (days !== undefined && !days.includes(dayOf(start))) continue;
      const end = start + lengthS;
      if (end <= localS) ended = Math.max(ended ?? end, end);
      if (start > localS) next = Math.min(next ?? start, start);
    }
  }
  return { ended, next };
}
