import { nowS, timeZone } from "../api/store.ts";
import { conditionTitle } from "../display/alarm-text.ts";
import { momentInWords } from "../display/durations.ts";
import { alarmHref } from "../display/route.ts";
import { alarmsWords as text } from "../language/alarms-words.ts";
import { placeName } from "./alarm-card.tsx";
import type { JournalEntry } from "./alarms-api.ts";

/** Written down so much later than it happened, it is said, s. */
const LATE_S = 120;

/** What happened, in words; a kind that a newer gateway writes stands as it is. */
function kindOf(kind: string): string {
  const kinds: Readonly<Record<string, string>> = text.journal.kinds;
  return kinds[kind] ?? kind;
}

/** Entries of the alarm journal, as they came. */
export function JournalList({ entries, linked }: { entries: JournalEntry[]; linked?: boolean }) {
  const moment = (iso: string) => momentInWords(Date.parse(iso) / 1000, nowS.value, timeZone.value);
  return (
    <ol class="journal-list">
      {entries.map((entry, index) => {
        const title = conditionTitle(entry.condition);
        const lateS = (Date.parse(entry.recorded) - Date.parse(entry.time)) / 1000;
        return (
          <li key={`${entry.time} ${entry.kind} ${index}`} data-kind={entry.kind}>
            <time dateTime={entry.time}>{moment(entry.time)}</time>
            <span>
              {placeName(entry.station)}:{" "}
              {linked && entry.alarm ? <a href={alarmHref(entry.alarm)}>{title}</a> : title}{" "}
              <strong>{kindOf(entry.kind)}</strong>
              {entry.by && ` ${text.journal.by(entry.by)}`}
              {entry.note && ` ${text.note(noteOf(entry))}`}
              {lateS > LATE_S && <small> {text.journal.late(moment(entry.recorded))}</small>}
            </span>
          </li>
        );
      })}
    </ol>
  );
}

/** What explains it is noted by its id. */
function noteOf(entry: JournalEntry): string {
  return entry.kind === "suppressed" ? conditionTitle(entry.note ?? "") : (entry.note ?? "");
}
