import { findCondition } from "@leeward/shared-core/alarms/index.ts";
import {
  type AlarmJournalEntry,
  type AlarmJournalKind,
  type AlarmState,
  type Occurrence,
  type Shelf,
  shelfKey,
  shownState,
} from "./states.ts";

/** An occurrence as it is shown. */
export interface OccurrenceView extends Occurrence {
  shown: AlarmState;
  shelf: Shelf | null;
}

/** `<site>.<station>`, or the site alone. */
export function placeOf(site: string, station: string | null): string {
  return station === null ? site : `${site}.${station}`;
}

export function rankOf(priority: Occurrence["priority"]): number {
  return { low: 0, medium: 1, high: 2 }[priority];
}

/** Longest time for which an alarm can be shelved, min: an hour for safety, else a shift. */
export function shelveLimitMin(condition: string): number {
  return findCondition(condition)?.alarmClass === "safety" ? 60 : 480;
}

/** A journal entry of what a person (or the end of a time) did to a condition of a place. */
export function entryOf(
  subject: { site: string; station: string | null; condition: string } & Partial<Occurrence>,
  kind: AlarmJournalKind,
  t: number,
  recorded: number,
  who: { by: string; note: string },
): AlarmJournalEntry {
  const { site, station, condition, id, priority } = subject;
  return {
    t,
    recorded,
    site,
    station,
    occurrence: id ?? null,
    condition,
    kind,
    priority: priority ?? null,
    by: who.by === "" ? null : who.by,
    note: who.note === "" ? null : who.note,
  };
}

/** Everything that is not normal, and what people have put away; at most one for each condition of a place. */
export class OpenAlarms {
  readonly #byId = new Map<string, Occurrence>();
  readonly #byPlace = new Map<string, Map<string, Occurrence>>();
  readonly #shelves = new Map<string, Shelf>();
  readonly #went = new Map<string, Occurrence>();

  keep(occurrence: Occurrence): void {
    this.#byId.set(occurrence.id, occurrence);
    const place = placeOf(occurrence.site, occurrence.station);
    const conditions = this.#byPlace.get(place) ?? new Map<string, Occurrence>();
    conditions.set(occurrence.condition, occurrence);
    this.#byPlace.set(place, conditions);
  }

  drop(occurrence: Occurrence): void {
    this.#byId.delete(occurrence.id);
    this.#byPlace.get(placeOf(occurrence.site, occurrence.station))?.delete(occurrence.condition);
  }

  dropPlace(place: string): void {
    for (const [key, { site, station }] of this.#shelves) {
      if (placeOf(site, station) === place) this.#shelves.delete(key);
    }
    for (const occurrence of this.at(place).values()) this.#byId.delete(occurrence.id);
    this.#byPlace.delete(place);
    for (const [key, { site, station }] of this.#went) {
      if (placeOf(site, station) === place) this.#went.delete(key);
    }
  }

  /** Keeps the last one of a condition of a place that rang and went by itself, asking nothing of anybody. */
  keepGone(occurrence: Occurrence): void {
    this.#went.set(shelfKey(occurrence), occurrence);
  }

  goneAt(part: { site: string; station: string | null; condition: string }) {
    return this.#went.get(shelfKey(part));
  }

  gone(): Iterable<Occurrence> {
    return this.#went.values();
  }

  get(id: string): Occurrence | undefined {
    return this.#byId.get(id);
  }

  /** Condition → occurrence of a place. */
  at(place: string): ReadonlyMap<string, Occurrence> {
    return this.#byPlace.get(place) ?? new Map();
  }

  all(): Iterable<Occurrence> {
    return this.#byId.values();
  }

  putAway(shelf: Shelf): void {
    this.#shelves.set(shelfKey(shelf), shelf);
  }

  takeBack(shelf: Shelf): void {
    this.#shelves.delete(shelfKey(shelf));
  }

  shelfOf(part: { site: string; station: string | null; condition: string }): Shelf | undefined {
    return this.#shelves.get(shelfKey(part));
  }

  shelves(): Shelf[] {
    return [...this.#shelves.values()];
  }

  /** What is put away while nothing of it stands, the latest first. */
  putAwayUnseen(): Shelf[] {
    return this.shelves()
      .filter((shelf) => !this.at(placeOf(shelf.site, shelf.station)).has(shelf.condition))
      .sort((a, b) => b.since - a.since || (shelfKey(a) < shelfKey(b) ? -1 : 1));
  }

  view(occurrence: Occurrence): OccurrenceView {
    const shelf = this.shelfOf(occurrence);
    return { ...occurrence, shown: shownState(occurrence, shelf), shelf: shelf ?? null };
  }

  /** The loudest and newest first. */
  list(): OccurrenceView[] {
    return [...this.#byId.values()]
      .map((occurrence) => this.view(occurrence))
      .sort(
        (a, b) =>
          rankOf(b.priority) - rankOf(a.priority) || b.since - a.since || (a.id < b.id ? -1 : 1),
      );
  }
}
