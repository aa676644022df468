import { locale } from "../language/live-words.ts";
import { words } from "../language/words.ts";
import { fixed, TO } from "./numbers.ts";

/** From here on nobody reckons in hours. */
const DAYS_FROM_H = 96;

/**
 * Minutes of gas in words: `62 min`, `9 h 20`, `53 h`, `17 days`; rounded down, so that nobody is promised
 * a minute that is not there.
 */
export function minutesInWords(minutes: number): string {
  if (minutes < 1) return words.time.underOneMinute;
  if (minutes < 100) return words.time.minutes(Math.floor(minutes));
  const step = minutes < 300 ? 5 : 10;
  const whole = Math.floor(minutes / step) * step;
  const hours = Math.floor(whole / 60);
  if (hours >= DAYS_FROM_H) return words.time.days(Math.floor(hours / 24));
  if (hours >= 24) return words.time.hours(fixed(hours, 0));
  return words.time.hoursMinutes(hours, whole % 60);
}

/** Two bounds as one: `3 – 5 h`, `40 – 75 min`. */
export function minutesRangeInWords(low: number, high: number): string {
  if (high < 100) return words.time.minutesRange(Math.floor(low), Math.floor(high));
  const hoursLow = low / 60;
  const decimals = hoursLow < 2 ? 1 : 0;
  const a = fixed(Math.floor(hoursLow * 10 ** decimals) / 10 ** decimals, decimals);
  const b = fixed(high / 60, 0);
  return a === b ? words.time.hours(b) : words.time.hoursRange(a, b);
}

/** Bounds of an interval of minutes: `58 to 66 min`, `8 h 40 to 10 h 10`. */
export function minutesBoundsInWords(low: number, high: number): string {
  if (low >= 1 && high < 100) {
    return words.time.minutesBounds(Math.floor(low), Math.floor(high));
  }
  // Both in one unit: `2 days to 4 days`, not `64 h to 4 days`.
  const [lowH, highH] = [low / 60, high / 60];
  if (lowH >= 48 && highH >= DAYS_FROM_H) {
    const [lowDays, highDays] = [Math.floor(lowH / 24), Math.floor(highH / 24)];
    // Of one day: hours tell them apart.
    const told = (hours: number, days: number) =>
      lowDays === highDays ? words.time.hours(fixed(Math.floor(hours), 0)) : words.time.days(days);
    return words.left.bounds(told(lowH, lowDays), told(highH, highDays));
  }
  return words.left.bounds(minutesInWords(low), minutesInWords(high));
}

/** An age or a length of time in words: `2 s`, `3 min`, `2 h 05`, `4 days`. */
export function secondsInWords(seconds: number): string {
  const s = Math.max(0, Math.round(seconds));
  if (s < 100) return words.time.seconds(s);
  const minutes = Math.round(s / 60);
  if (minutes < 100) return words.time.minutes(minutes);
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return words.time.hoursMinutes(hours, minutes % 60);
  return words.time.days(Math.floor(hours / 24));
}

/** `2 s ago`. */
export function ageInWords(seconds: number): string {
  return words.time.ago(secondsInWords(seconds));
}

const clocks = new Map<string, Intl.DateTimeFormat>();

function formatter(zone: string, kind: "time" | "weekday" | "day" | "year"): Intl.DateTimeFormat {
  const key = `${locale.value} ${zone} ${kind}`;
  let format = clocks.get(key);
  if (!format) {
    const parts: Intl.DateTimeFormatOptions =
      kind === "time"
        ? { hour: "2-digit", minute: "2-digit", hourCycle: "h23" }
        : kind === "weekday"
          ? { weekday: "short" }
          : kind === "day"
            ? { day: "numeric", month: "short" }
            : { day: "numeric", month: "short", year: "numeric" };
    format = new Intl.DateTimeFormat(locale.value, { ...parts, timeZone: zone });
    clocks.set(key, format);
  }
  return format;
}

/** Clock time of a Unix second in the site's zone: `16:40`. */
export function clockTime(unixS: number, zone: string): string {
  return formatter(zone, "time").format(unixS * 1000);
}

/** A moment seen from now: `16:40`, `Thu 16:40`, `3 Nov`, `3 Nov 2025`. */
export function momentInWords(unixS: number, nowS: number, zone: string): string {
  const apartS = Math.abs(unixS - nowS);
  if (apartS > 300 * 86_400) return formatter(zone, "year").format(unixS * 1000);
  const day = formatter(zone, "day").format(unixS * 1000);
  if (day === formatter(zone, "day").format(nowS * 1000)) return clockTime(unixS, zone);
  if (apartS < 6 * 86_400) {
    return `${formatter(zone, "weekday").format(unixS * 1000)} ${clockTime(unixS, zone)}`;
  }
  return day;
}

/** Day and time, for a moment that is looked at closely: `3 Nov, 16:40`. */
export function dayAndTime(unixS: number, nowS: number, zone: string): string {
  const text = momentInWords(unixS, nowS, zone);
  const time = clockTime(unixS, zone);
  return text.includes(time) ? text : `${text}, ${time}`;
}

/** The day of a moment, where its hour would claim too much: `today`, `Thu`, `3 Nov`. */
export function dayInWords(unixS: number, nowS: number, zone: string): string {
  const day = formatter(zone, "day").format(unixS * 1000);
  if (day === formatter(zone, "day").format(nowS * 1000)) return words.time.today;
  const near = Math.abs(unixS - nowS) < 6 * 86_400;
  return near ? formatter(zone, "weekday").format(unixS * 1000) : momentInWords(unixS, nowS, zone);
}

/**
 * A moment to come, as closely as its interval allows: to ten minutes, to the hour, to the day. Rounded
 * down, so that nobody is promised time that is not there.
 *
 * @param spreadS width of the interval around it, s; null where it is not known
 */
export function aboutMoment(
  unixS: number,
  spreadS: number | null,
  nowS: number,
  zone: string,
): string {
  if (spreadS === null || spreadS > 24 * 3600) {
    // What may be over within hours is no matter of days.
    if (unixS - nowS > 24 * 3600) return dayInWords(unixS, nowS, zone);
  }
  const stepS = spreadS === null || spreadS > 3 * 3600 ? 3600 : 600;
  return momentInWords(Math.max(nowS, Math.floor(unixS / stepS) * stepS), nowS, zone);
}

/** Width of an interval of minutes, s; null where it has none. */
export function spreadS(minutes: { low?: number | null; high?: number | null }): number | null {
  const { low, high } = minutes;
  return typeof low === "number" && typeof high === "number" ? (high - low) * 60 : null;
}

/** From one moment to another, both in full; the day stands once where it is the same. */
export function spanInFull(fromS: number, toS: number, zone: string): string {
  const day = (unixS: number) => formatter(zone, "year").format(unixS * 1000);
  if (day(fromS) !== day(toS)) return `${momentInFull(fromS, zone)} – ${momentInFull(toS, zone)}`;
  return `${day(fromS)}, ${clockTime(fromS, zone)}${TO}${clockTime(toS, zone)}`;
}

/** Day and time in full, `3 Nov 2026, 16:40`: for what is printed, and read on another day. */
export function momentInFull(unixS: number, zone: string): string {
  return `${formatter(zone, "year").format(unixS * 1000)}, ${clockTime(unixS, zone)}`;
}
