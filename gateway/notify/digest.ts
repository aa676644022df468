import { findCondition } from "@leeward/shared-core/alarms/index.ts";
import type { AlarmJournalEntry } from "../alarms/states.ts";
import { clockText, localTime, secondsOf } from "./local-time.ts";
import type { Message } from "./outbox.ts";

/** More lines than this are only counted. */
const linesAtMost = 20;

/** Local date of the digest that is due now; null where none is, or `last` has been sent. */
export function digestDue(
  nowS: number,
  at: string | null,
  timeZone: string,
  last: string | null,
): string | null {
  if (at === null) return null;
  const { date, secondOfDay } = localTime(nowS, timeZone);
  return secondOfDay >= secondsOf(at) && date !== last ? date : null;
}

/** One message of what was raised since the last digest; null where nothing was. */
export function composeDigest(
  entries: readonly Pick<AlarmJournalEntry, "t" | "station" | "condition">[],
  context: {
    site: string;
    date: string;
    nowS: number;
    timeZone: string;
    publicUrl: string | null;
    nameOf: (station: string) => string;
  },
): Message | null {
  if (entries.length === 0) return null;
  const groups = new Map<string, { name: string; title: string; first: number; count: number }>();
  for (const { t, station, condition } of entries) {
    const key = `${station ?? ""}~${condition}`;
    const group = groups.get(key);
    if (group) group.count++;
    else {
      const name = station === null ? context.site : context.nameOf(station);
      const title = findCondition(condition)?.title ?? condition;
      groups.set(key, { name, title, first: t, count: 1 });
    }
  }
  const lines = [...groups.values()].map(({ name, title, first, count }) => {
    const times = count === 1 ? "" : `, ${count} times`;
    return `${name}: ${title} (${clockText(first, context.timeZone)}${times})`;
  });
  const more = lines.length > linesAtMost ? `\nand ${lines.length - linesAtMost} more` : "";
  return {
    id: `${context.site}~digest~${context.date}`,
    kind: "digest",
    site: context.site,
    station: null,
    occurrence: null,
    condition: null,
    priority: "low",
    line: `${context.site}: ${lines.length} thing${lines.length === 1 ? "" : "s"} to look at. ${lines[0]}`,
    body: `${lines.slice(0, linesAtMost).join("\n")}${more}`,
    link: context.publicUrl === null ? null : `${context.publicUrl.replace(/\/$/, "")}/alarms`,
    t: context.nowS,
    node: null,
  };
}
