/** Times of day in a site's time zone. Error: an unknown zone throws a RangeError. */

const formats = new Map<string, Intl.DateTimeFormat>();

function formatOf(timeZone: string): Intl.DateTimeFormat {
  const known = formats.get(timeZone);
  if (known) return known;
  const made = new Intl.DateTimeFormat("en-GB", {
    timeZone,
    hourCycle: "h23",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
  });
  formats.set(timeZone, made);
  return made;
}

/** Local date (`2026-03-29`) and seconds since local midnight. */
export function localTime(unixS: number, timeZone: string): { date: string; secondOfDay: number } {
  const parts = formatOf(timeZone).formatToParts(unixS * 1000);
  const value = (type: string) => parts.find((part) => part.type === type)?.value ?? "00";
  return {
    date: `${value("year")}-${value("month")}-${value("day")}`,
    secondOfDay:
      Number(value("hour")) * 3600 + Number(value("minute")) * 60 + Number(value("second")),
  };
}

/** Local clock time, such as `14:05`. */
export function clockText(unixS: number, timeZone: string): string {
  const { secondOfDay } = localTime(unixS, timeZone);
  const hours = String(Math.floor(secondOfDay / 3600)).padStart(2, "0");
  return `${hours}:${String(Math.floor(secondOfDay / 60) % 60).padStart(2, "0")}`;
}

/** Seconds since midnight of `22:00`. */
export function secondsOf(clockTime: string): number {
  const [hours, minutes] = clockTime.split(":").map(Number);
  return (hours ?? 0) * 3600 + (minutes ?? 0) * 60;
}

/** When the quiet hours that hold at `unixS` end, Unix s; null where none hold. */
export function quietUntil(
  unixS: number,
  quiet: { from: string; to: string } | null,
  timeZone: string,
): number | null {
  if (quiet === null || quiet.from === quiet.to) return null;
  const now = localTime(unixS, timeZone).secondOfDay;
  const from = secondsOf(quiet.from);
  const to = secondsOf(quiet.to);
  const inside = from < to ? now >= from && now < to : now >= from || now < to;
  if (!inside) return null;
  const end = unixS + ((to - now + 86_400) % 86_400);
  // In a night that changes to or from summer time the clock shows an hour more or less then.
  const behind = (t: number) => {
    const off = localTime(t, timeZone).secondOfDay - to;
    return off > 43_200 ? off - 86_400 : off < -43_200 ? off + 86_400 : off;
  };
  const ahead = behind(end);
  const corrected = end - ahead;
  if (ahead <= 0 || behind(corrected) >= 0) return corrected;
  // The clock skips the end itself: quiet until the moment of the jump.
  let [before, after] = [corrected, end];
  while (after - before > 1) {
    const middle = Math.floor((before + after) / 2);
    if (behind(middle) < 0) before = middle;
    else after = middle;
  }
  return after;
}
