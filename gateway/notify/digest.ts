import { alarmLanguages } from "@leeward/shared-core/alarms/language/index.ts";
import type { Language } from "@leeward/shared-core/alarms/language/languages.ts";
import type { AlarmJournalEntry } from "../alarms/states.ts";
import { clockText, localTime, secondsOf } from "./local-time.ts";
import { shorten } from "./lock-screen.ts";
import { messageWords } from "./message-words.ts";
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

type DigestEntry = Pick<AlarmJournalEntry, "t" | "station" | "condition"> & {
  /** It had gone before anybody was told of it. */
  gone?: boolean;
};

/** One message of what was raised since the last digest; null where nothing was. */
export function composeDigest(
  entries: readonly DigestEntry[],
  context: {
    site: string;
    date: string;
    nowS: number;
    timeZone: string;
    publicUrl: string | null;
    nameOf: (station: string) => string;
    language?: Language | undefined;
  },
): Message | null {
  if (entries.length === 0) return null;
  const language = context.language ?? "en";
  const words = messageWords[language];
  const groups = new Map<
    string,
    { name: string; title: string; first: number; count: number; gone: boolean }
  >();
  for (const { t, station, condition, gone = false } of entries) {
    const key = `${station ?? ""}~${condition}~${gone}`;
    const group = groups.get(key);
    if (group) group.count++;
    else {
      const name = station === null ? context.site : context.nameOf(station);
      const title = alarmLanguages[language].titles[condition] ?? condition;
      groups.set(key, { name, title, first: t, count: 1, gone });
    }
  }
  const lines = [...groups.values()].map(({ name, title, first, count, gone }) => {
    const told = [
      clockText(first, context.timeZone),
      ...(count === 1 ? [] : [words.times(count)]),
      ...(gone ? [words.gone] : []),
    ];
    return `${name}: ${title} (${told.join(", ")})`;
  });
  const more = lines.length > linesAtMost ? `\n${words.more(lines.length - linesAtMost)}` : "";
  return {
    id: `${context.site}~digest~${context.date}`,
    kind: "digest",
    site: context.site,
    station: null,
    occurrence: null,
    condition: null,
    priority: "low",
    line: shorten(`${words.toLookAt(context.site, lines.length)} ${lines[0]}`),
    body: `${lines.slice(0, linesAtMost).join("\n")}${more}`,
    link: context.publicUrl === null ? null : `${context.publicUrl.replace(/\/$/, "")}/alarms`,
    t: context.nowS,
    language,
    node: null,
  };
}
