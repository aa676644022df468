import type { SaidAlarm } from "@leeward/shared-core/alarms/language/said.ts";
import type { Priority } from "@leeward/shared-core/estimation/estimate.ts";

/** Words of IEC 62682 / ISA-18.2 for how one occurrence of an alarm stands with its operator. */
export type BaseState =
  | "normal"
  | "unacknowledged"
  | "acknowledged"
  | "returned-unacknowledged"
  | "latched-unacknowledged"
  | "latched-acknowledged";

/** What is shown: a person or another alarm may have taken it off the list of those that ring. */
export type AlarmState = BaseState | "shelved" | "suppressed-by-design" | "out-of-service";

/** One occurrence of a condition at a station, or at a whole site (`station` null). */
export interface Occurrence {
  id: string;
  site: string;
  /** Name of the station within its site. */
  station: string | null;
  condition: string;
  priority: Priority;
  /** When the condition became true, before its delay; Unix s. */
  since: number;
  /** Time of the line that brought it, and of the one that ended it; Unix s. */
  raised: number;
  cleared: number | null;
  state: BaseState;
  acknowledged: number | null;
  acknowledgedBy: string | null;
  note: string | null;
  /** Condition that explains it now. */
  suppressedBy: string | null;
  /** Known from late samples only: it does not ring until it is seen to hold still. */
  late: boolean;
  /** When it last rang; Unix s. */
  rang: number | null;
  title: string;
  advice: string;
  /** The same as keys and SI values, for readers with another language; null where not known. */
  said: SaidAlarm | null;
}

/** A condition of a station that a person has shelved or taken out of service. */
export interface Shelf {
  site: string;
  station: string | null;
  condition: string;
  kind: "shelved" | "out-of-service";
  since: number;
  /** Null: until a person ends it. */
  until: number | null;
  by: string;
  note: string;
}

/** What the alarm journal records. */
export type AlarmJournalKind =
  | "raised"
  | "rang"
  | "re-alarmed"
  | "priority-raised"
  | "acknowledged"
  | "returned"
  | "released"
  | "suppressed"
  | "unsuppressed"
  | "shelved"
  | "unshelved"
  | "out-of-service"
  | "in-service"
  | "found-afterwards";

export interface AlarmJournalEntry {
  /** When it happened, and when the gateway wrote it down; Unix s. */
  t: number;
  recorded: number;
  site: string;
  station: string | null;
  occurrence: string | null;
  condition: string;
  kind: AlarmJournalKind;
  priority: Priority | null;
  by: string | null;
  note: string | null;
}

/** State after the condition has gone: what still waits for a person. */
export function afterReturn(state: BaseState, latched: boolean): BaseState {
  const acknowledged = state === "acknowledged";
  if (latched) return acknowledged ? "latched-acknowledged" : "latched-unacknowledged";
  return acknowledged ? "normal" : "returned-unacknowledged";
}

/** State after a person has acknowledged; null where there is nothing to acknowledge. */
export function afterAcknowledge(state: BaseState): BaseState | null {
  switch (state) {
    case "unacknowledged":
      return "acknowledged";
    // The condition is gone: looking at it was what it waited for.
    case "returned-unacknowledged":
    case "latched-unacknowledged":
    case "latched-acknowledged":
      return "normal";
    default:
      return null;
  }
}

/** Key of what a shelf holds back. */
export function shelfKey(part: {
  site: string;
  station: string | null;
  condition: string;
}): string {
  return `${part.site}.${part.station ?? ""}~${part.condition}`;
}

/** What is shown of an occurrence. */
export function shownState(occurrence: Occurrence, shelf: Shelf | undefined): AlarmState {
  if (shelf) return shelf.kind;
  if (occurrence.suppressedBy !== null) return "suppressed-by-design";
  return occurrence.state;
}
