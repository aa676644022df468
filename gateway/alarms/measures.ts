import type { AlarmMeasures } from "@leeward/shared-core/api/alarms.ts";
import type { AlarmJournalEntry, Occurrence } from "./states.ts";

/**
 * Measures after IEC 62682 / ISA-18.2 over what was raised, beside benchmarks for one operator. No
 * edition was at hand: each figure says where it comes from.
 */

type Raised = Pick<AlarmJournalEntry, "t" | "site" | "station" | "condition" | "priority">;

/** Ten minutes; from memory. */
const periodS = 600;
/** A flood starts with more alarms than this in ten minutes; from memory. */
const floodStartsOver = 10;
/** It ends with fewer than this in ten minutes; from memory. */
const floodEndsUnder = 5;
/** Chattering: so many times within a minute; from memory. */
const chatterTimes = 3;
const chatterWithinS = 60;
/** Stale: standing for longer than a day; from memory. */
const staleAfterS = 86_400;
/** Alarms in ten minutes, on average; "about 1" is from memory. */
const meanMost = 1;
/** Share of ten-minute periods that are a flood; from memory. */
const overTenMost = 0.01;
/** So many stale alarms are too many; from memory. */
const staleTooMany = 5;
/**
 * Share of high priority. About 5 % of the *configured* alarms (trade summaries of ISA-18.2); twice
 * that of what rang still counts as met, for a shop rings little (common practice, no source).
 */
const highShareMost = 0.1;
const fromMemory = "ISA-18.2 / IEC 62682, from memory";
const iso = (t: number) => new Date(t * 1000).toISOString();

/** Stretches that begin with more than ten alarms in ten minutes and end with fewer than five. */
export function findFloods(
  times: readonly number[],
): { from: number; to: number; alarms: number }[] {
  const floods: { from: number; to: number; alarms: number }[] = [];
  let first = 0;
  let flood: { from: number; to: number; alarms: number } | null = null;
  for (let i = 0; i < times.length; i++) {
    const t = times[i]!;
    while (times[first]! <= t - periodS) first++;
    const within = i - first + 1;
    if (flood !== null && within < floodEndsUnder) {
      floods.push(flood);
      flood = null;
    }
    if (flood === null && within > floodStartsOver)
      flood = { from: times[first]!, to: t, alarms: within };
    else if (flood !== null) {
      flood.to = t;
      flood.alarms++;
    }
  }
  if (flood !== null) floods.push(flood);
  return floods;
}

/** Alarms that came three times within a minute, and how often they came in all. */
export function findChattering(
  raised: readonly Raised[],
): { station: string | null; condition: string; times: number }[] {
  return [...byPlace(raised).values()]
    .filter(({ times }) =>
      times.some(
        (t, i) => (times[i + chatterTimes - 1] ?? Number.POSITIVE_INFINITY) - t < chatterWithinS,
      ),
    )
    .map(({ station, condition, times }) => ({ station, condition, times: times.length }));
}

function byPlace(raised: readonly Raised[]) {
  const places = new Map<string, { station: string | null; condition: string; times: number[] }>();
  for (const { t, site, station, condition } of raised) {
    const id = station === null ? null : `${site}.${station}`;
    const key = `${id ?? site}~${condition}`;
    const place = places.get(key) ?? { station: id, condition, times: [] };
    place.times.push(t);
    places.set(key, place);
  }
  return places;
}

/** All measures of `raised` (rising in `t`, within `from` to `to`) and of what stands now. */
export function measureAlarms(
  raised: readonly Raised[],
  standing: readonly Pick<Occurrence, "site" | "station" | "condition" | "raised" | "cleared">[],
  span: { from: number; to: number },
): AlarmMeasures {
  const days = Math.max(1 / 24, (span.to - span.from) / 86_400);
  const periods = new Map<number, number>();
  for (const { t } of raised) {
    const period = Math.floor(t / periodS);
    periods.set(period, (periods.get(period) ?? 0) + 1);
  }
  const counts = [...periods.values()];
  const periodCount = (days * 86_400) / periodS;
  const overTenShare = counts.filter((count) => count > floodStartsOver).length / periodCount;
  const active = standing.filter((occurrence) => occurrence.cleared === null);
  const stale = active
    .filter((occurrence) => span.to - occurrence.raised > staleAfterS)
    .map(({ site, station, condition, raised: t }) => ({
      station: station === null ? null : `${site}.${station}`,
      condition,
      since: iso(t),
    }));
  const topTen = [...byPlace(raised).values()]
    .map(({ station, condition, times }) => ({
      station,
      condition,
      times: times.length,
      share: times.length / raised.length,
    }))
    .sort((a, b) => b.times - a.times)
    .slice(0, 10);
  const share = (priority: string) =>
    raised.length === 0
      ? 0
      : raised.filter((entry) => entry.priority === priority).length / raised.length;
  const chattering = findChattering(raised);
  const floods = findFloods(raised.map((entry) => entry.t));
  const mean = raised.length / periodCount;
  return {
    days,
    raised: raised.length,
    perDay: raised.length / days,
    perTenMinutes: { mean, most: Math.max(0, ...counts), overTenShare },
    floods: floods.map(({ from, to, alarms }) => ({ from: iso(from), to: iso(to), alarms })),
    chattering,
    stale,
    standing: active.length,
    priorityShare: { high: share("high"), medium: share("medium"), low: share("low") },
    topTen,
    benchmarks: [
      {
        key: "mean",
        source: fromMemory,
        what: "alarms per ten minutes, mean",
        aim: "about 1 or fewer",
        met: mean <= meanMost,
      },
      {
        key: "over-ten",
        source: fromMemory,
        what: "ten-minute periods with more than ten alarms",
        aim: "under 1 %",
        met: overTenShare < overTenMost,
      },
      {
        key: "chattering",
        source: fromMemory,
        what: "chattering alarms",
        aim: "none",
        met: chattering.length === 0,
      },
      {
        key: "stale",
        source: fromMemory,
        what: "stale alarms (over 24 h)",
        aim: "fewer than 5",
        met: stale.length < staleTooMany,
      },
      {
        key: "high-share",
        source: "trade summaries of ISA-18.2, of configured alarms",
        what: "high-priority share",
        aim: "about 5 %",
        met: share("high") <= highShareMost,
      },
    ],
  };
}
