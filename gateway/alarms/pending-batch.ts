import type { MessageStep, NewOutboxRow } from "../notify/outbox.ts";
import type { AlarmBatch } from "../store/alarm-store.ts";
import type { AlarmJournalEntry, AlarmJournalKind, Occurrence, Shelf } from "./states.ts";

/** What the life cycle has decided and the store has not yet. */
export class PendingBatch {
  #occurrences = new Map<string, Occurrence>();
  #shelves: Shelf[] = [];
  #removedShelves: AlarmBatch["removedShelves"] = [];
  #journal: AlarmJournalEntry[] = [];
  #progress = new Map<string, number>();
  #messages: MessageStep[] = [];
  #urgent = false;

  /** True once something other than the progress of a station waits. */
  get urgent(): boolean {
    return this.#urgent;
  }

  occurrence(occurrence: Occurrence): void {
    this.#urgent = true;
    this.#occurrences.set(occurrence.id, occurrence);
  }

  note(
    occurrence: Occurrence,
    kind: AlarmJournalKind,
    t: number,
    recorded: number,
    who: { by?: string; note?: string } = {},
  ): void {
    this.#urgent = true;
    this.#journal.push({
      t,
      recorded,
      site: occurrence.site,
      station: occurrence.station,
      occurrence: occurrence.id,
      condition: occurrence.condition,
      kind,
      priority: occurrence.priority,
      by: who.by ?? null,
      note: who.note ?? null,
    });
  }

  shelf(shelf: Shelf, entry: AlarmJournalEntry): void {
    this.#urgent = true;
    this.#shelves.push(shelf);
    this.#journal.push(entry);
  }

  removeShelf(shelf: Shelf, entry: AlarmJournalEntry): void {
    this.#urgent = true;
    this.#removedShelves.push(shelf);
    this.#journal.push(entry);
  }

  progress(stationId: string, through: number): void {
    this.#progress.set(stationId, through);
  }

  send(rows: readonly NewOutboxRow[]): void {
    this.#urgent = true;
    if (rows.length > 0) this.#messages.push({ step: "send", rows });
  }

  cancel(occurrence: string, why: string): void {
    this.#urgent = true;
    this.#messages.push({ step: "cancel", occurrence, why });
  }

  handOver(from: string, to: string, rows: readonly NewOutboxRow[]): void {
    this.#urgent = true;
    this.#messages.push({ step: "hand-over", from, to, rows });
  }

  /** Everything that waits, as it is now; the batch is empty afterwards. */
  drain(): AlarmBatch {
    const batch: AlarmBatch = {
      // Copies: an occurrence may change again while the store writes.
      occurrences: [...this.#occurrences.values()].map((occurrence) => ({ ...occurrence })),
      shelves: this.#shelves,
      removedShelves: this.#removedShelves,
      journal: this.#journal,
      progress: this.#progress,
      messages: this.#messages,
    };
    this.#occurrences = new Map();
    this.#shelves = [];
    this.#removedShelves = [];
    this.#journal = [];
    this.#progress = new Map();
    this.#messages = [];
    this.#urgent = false;
    return batch;
  }

  /** Puts back what could not be written, before what came meanwhile. */
  restore(batch: AlarmBatch): void {
    const later = this.drain();
    for (const occurrence of [...batch.occurrences, ...later.occurrences]) {
      this.#occurrences.set(occurrence.id, occurrence);
    }
    this.#shelves = [...batch.shelves, ...later.shelves];
    this.#removedShelves = [...batch.removedShelves, ...later.removedShelves];
    this.#journal = [...batch.journal, ...later.journal];
    this.#progress = new Map([...batch.progress, ...later.progress]);
    this.#messages = [...batch.messages, ...later.messages];
    this.#urgent = true;
  }
}
