import { locale } from "../language/live-words.ts";
import { clockTime } from "./durations.ts";

const DAY_S = 86_400;

const kinds = {
  month: { month: "short" },
  monthAndYear: { month: "short", year: "numeric" },
  day: { day: "numeric", month: "short" },
  weekday: { weekday: "short", day: "numeric" },
  second: { hour: "2-digit", minute: "2-digit", second: "2-digit", hourCycle: "h23" },
} satisfies Record<string, Intl.DateTimeFormatOptions>;

const formats = new Map<string, Intl.DateTimeFormat>();

function say(kind: keyof typeof kinds, unixS: number, zone: string): string {
  const key = `${locale.value} ${zone} ${kind}`;
  let format = formats.get(key);
  if (!format) {
    format = new Intl.DateTimeFormat(locale.value, { ...kinds[kind], timeZone: zone });
    formats.set(key, format);
  }
  return format.format(unixS * 1000);
}

/**
 * What stands at a tick of the time axis: no finer than the step between ticks, and at midnight the
 * day: `Mar`, `Jan 2026`, `22 Nov`, `Sat 22`, `16:40`, `16:40:30`.
 *
 * @param stepS between two ticks
 * @param lengthS of the window
 */
export function tickLabel(unixS: number, stepS: number, lengthS: number, zone: string): string {
  if (stepS >= 28 * DAY_S) {
    const january = say("month", unixS, zone) === say("month", Date.UTC(2026, 0, 15) / 1000, zone);
    return say(january ? "monthAndYear" : "month", unixS, zone);
  }
  const day = lengthS > 8 * DAY_S ? "day" : "weekday";
  if (stepS >= DAY_S) return say(day, unixS, zone);
  if (stepS < 60) return say("second", unixS, zone);
  const clock = clockTime(unixS, zone);
  return clock === "00:00" ? say(day, unixS, zone) : clock;
}

/** Values to mark on an axis from zero to a round top, the top among them; never more than `most` steps. */
export function valueTicks(top: number, most: number): number[] {
  const power = 10 ** Math.floor(Math.log10(top) + 1e-9);
  const steps = [0.1, 0.2, 0.25, 0.4, 0.5, 0.6, 0.8, 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 10].map(
    (k) => k * power,
  );
  const step = steps.find((one) => {
    const count = top / one;
    return count <= most + 1e-6 && Math.abs(count - Math.round(count)) < 1e-6;
  });
  const count = step === undefined ? 1 : Math.round(top / step);
  return Array.from({ length: count + 1 }, (_, k) => Number(((top * k) / count).toPrecision(6)));
}
