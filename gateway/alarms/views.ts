import type {
  AlarmView,
  alarmJournalEntrySchema,
  PutAwayView,
} from "@leeward/shared-core/api/alarms.ts";
import type { z } from "zod";
import { type OccurrenceView, shelveLimitMin } from "./open-alarms.ts";
import type { AlarmJournalEntry, Shelf } from "./states.ts";

const iso = (t: number) => new Date(t * 1000).toISOString();
const isoOrNull = (t: number | null) => (t === null ? null : iso(t));

/** An occurrence as the API gives it. */
export function alarmView(occurrence: OccurrenceView): AlarmView {
  const { acknowledged, acknowledgedBy, shelf, station, site } = occurrence;
  return {
    id: occurrence.id,
    site,
    station: station === null ? null : `${site}.${station}`,
    condition: occurrence.condition,
    priority: occurrence.priority,
    state: occurrence.shown,
    active: occurrence.cleared === null,
    since: iso(occurrence.since),
    raised: iso(occurrence.raised),
    returned: isoOrNull(occurrence.cleared),
    acknowledged:
      acknowledged === null
        ? null
        : { at: iso(acknowledged), by: acknowledgedBy ?? "", note: occurrence.note },
    shelf:
      shelf === null
        ? null
        : { kind: shelf.kind, until: isoOrNull(shelf.until), by: shelf.by, note: shelf.note },
    suppressedBy: occurrence.suppressedBy,
    title: occurrence.title,
    advice: occurrence.advice,
    said: occurrence.said,
    shelveLimitMin: shelveLimitMin(occurrence.condition),
  };
}

/** What is put away while no alarm of it stands, as the API gives it. */
export function putAwayView(shelf: Shelf): PutAwayView {
  const { site, station, condition, kind, by, note } = shelf;
  return {
    site,
    station: station === null ? null : `${site}.${station}`,
    condition,
    kind,
    since: iso(shelf.since),
    until: isoOrNull(shelf.until),
    by,
    note,
  };
}

export function alarmJournalView(
  entry: AlarmJournalEntry,
): z.infer<typeof alarmJournalEntrySchema> {
  const { t, recorded, occurrence, station, ...rest } = entry;
  return {
    ...rest,
    time: iso(t),
    recorded: iso(recorded),
    station: station === null ? null : `${entry.site}.${station}`,
    alarm: occurrence,
  };
}
