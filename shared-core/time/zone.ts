/**
 * Local times of a site: days, weeks and months begin at its own midnight, clock changes counted.
 * `zone` is an IANA name; an unknown one throws a RangeError.
 */

const formats = new Map<string, Intl.DateTimeFormat>();

function formatOf(zone: string): Intl.DateTimeFormat {
  const known = formats.get(zone);
  if (known) return known;
  const made = new Intl.DateTimeFormat("en-GB", {
    timeZone: zone,
    hourCycle: "h23",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
  });
  formats.set(zone, made);
  return made;
}

/** Local date and clock time as if it were UTC, Unix s: what the wall clock there shows. */
function wallS(unixS: number, zone: string): number {
  const parts = formatOf(zone).formatToParts(unixS * 1000);
  const value = (type: string) => Number(parts.find((part) => part.type === type)?.value ?? 0);
  const days = Date.UTC(value("year"), value("month") - 1, value("day")) / 1000;
  return days + value("hour") * 3600 + value("minute") * 60 + value("second");
}

/**
 * Unix seconds at which the wall clock shows `wall`. Of a time that comes twice (autumn) the first;
 * of one that never comes (spring) the same distance after the jump.
 */
function unixOfWall(wall: number, zone: string): number {
  const before = wall - (wallS(wall - 86_400, zone) - (wall - 86_400));
  if (wallS(before, zone) === wall) return before;
  const after = wall - (wallS(wall + 86_400, zone) - (wall + 86_400));
  return wallS(after, zone) === wall ? after : before;
}

/** `2026-03-29T14:05` there; what an input of date and time takes. */
export function localMinute(unixS: number, zone: string): string {
  return new Date(Math.floor(wallS(Math.floor(unixS), zone) / 60) * 60_000)
    .toISOString()
    .slice(0, 16);
}

/** The local day of a moment, `2026-03-29`; such days compare as texts. */
export function localDay(unixS: number, zone: string): string {
  return localMinute(unixS, zone).slice(0, 10);
}

/** Unix seconds of `2026-03-29T14:05` there; null where it is no time. */
export function unixOfLocal(text: string, zone: string): number | null {
  const match = /^(\d{4})-(\d{2})-(\d{2})(?:T(\d{2}):(\d{2})(?::(\d{2}))?)?$/.exec(text);
  if (!match) return null;
  const [year, month, day, hour, minute, second] = match.slice(1).map((part) => Number(part ?? 0));
  const wall =
    Date.UTC(year!, month! - 1, day!) / 1000 + hour! * 3600 + minute! * 60 + (second ?? 0);
  const back = new Date(wall * 1000);
  if (back.getUTCDate() !== day || back.getUTCMonth() !== month! - 1) return null;
  return unixOfWall(wall, zone);
}

export type Period = "day" | "week" | "month";

/** Wall time at which the period that holds `wall` begins; weeks begin on Monday (ISO 8601). */
function periodStart(wall: number, period: Period): number {
  const date = new Date(wall * 1000);
  const [year, month, day] = [date.getUTCFullYear(), date.getUTCMonth(), date.getUTCDate()];
  if (period === "month") return Date.UTC(year, month, 1) / 1000;
  const back = period === "week" ? (date.getUTCDay() + 6) % 7 : 0;
  return Date.UTC(year, month, day - back) / 1000;
}

/** Unix seconds at which the local day, week or month that holds `unixS` begins. */
export function startOf(unixS: number, period: Period, zone: string): number {
  return unixOfWall(periodStart(wallS(Math.floor(unixS), zone), period), zone);
}

/** Unix seconds at which the period `steps` later (or earlier) begins. */
export function stepFrom(unixS: number, period: Period, steps: number, zone: string): number {
  const start = periodStart(wallS(Math.floor(unixS), zone), period);
  const date = new Date(start * 1000);
  const [year, month, day] = [date.getUTCFullYear(), date.getUTCMonth(), date.getUTCDate()];
  const wall =
    period === "month"
      ? Date.UTC(year, month + steps, 1)
      : Date.UTC(year, month, day + steps * (period === "week" ? 7 : 1));
  return unixOfWall(wall / 1000, zone);
}
