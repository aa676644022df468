import { findCondition } from "@leeward/shared-core/alarms/index.ts";
import type { ActiveAlarm } from "@leeward/shared-core/estimation/estimate.ts";
import { explainedBy, HAS_GONE } from "../notify/outbox.ts";
import type { AlarmBatch, AlarmStore } from "../store/alarm-store.ts";
import {
  entryOf,
  type OccurrenceView,
  OpenAlarms,
  placeOf,
  rankOf,
  shelveLimitMin,
} from "./open-alarms.ts";
import { PendingBatch } from "./pending-batch.ts";
import { quietAfterRingS, type RingOptions, Rings } from "./rings.ts";
import {
  type AlarmJournalKind,
  afterAcknowledge,
  afterReturn,
  type Occurrence,
  type Shelf,
} from "./states.ts";

/** A line older than this at its receipt comes from late samples: it does not ring by itself, s. */
const lateAfterS = 120;
/** Progress of a quiet station is written this often, s. */
const progressEveryS = 300;

/** Alarms of one line of a station. */
export interface AlarmLine {
  t: number;
  alarms: readonly ActiveAlarm[];
  /** What others explain, beyond what a condition suppresses always. */
  suppressed?: readonly { condition: string; by: string }[];
}

export type PersonResult =
  | { ok: true; occurrence: OccurrenceView }
  | { ok: false; code: "not-found" | "nothing-to-do" | "limit"; message: string };

export interface LifeCycleOptions extends Pick<RingOptions, "plan" | "supplyOf"> {
  store: AlarmStore;
  /** Called after each write: messages may wait, and the list may have changed. */
  onWritten: (changed: readonly OccurrenceView[]) => void;
  onError: (error: unknown) => void;
}

/**
 * Life cycle of alarms after IEC 62682 / ISA-18.2. Deadband, delays and suppression ran in the
 * core; here people come in. Every decision is in memory at once and in the store, in order,
 * within one transaction each; `settled` resolves when the store has them.
 */
export class AlarmLifeCycle {
  readonly #options: LifeCycleOptions;
  readonly #open = new OpenAlarms();
  readonly #through = new Map<string, number>();
  readonly #progressWritten = new Map<string, number>();
  readonly #pending = new PendingBatch();
  readonly #rings: Rings;
  #writing: Promise<void> = Promise.resolve();
  #scheduled = false;

  constructor(options: LifeCycleOptions) {
    this.#options = options;
    const { plan, supplyOf } = options;
    this.#rings = new Rings({ open: this.#open, pending: this.#pending, plan, supplyOf });
  }

  /** Reads what stood when the gateway last ran. Call before the first line. */
  async load(): Promise<void> {
    const { store } = this.#options;
    for (const occurrence of await store.openOccurrences()) this.#open.keep(occurrence);
    for (const gone of await store.wentLately(quietAfterRingS)) this.#open.keepGone(gone);
    for (const shelf of await store.shelves()) this.#open.putAway(shelf);
    for (const [station, t] of await store.progress()) this.#through.set(station, t);
  }

  /**
   * Takes the alarms of one line of a station. Lines come in the order of `t`; one that is not
   * newer than what was taken before is a repeat after a restart and is left out.
   */
  take(site: string, station: string, line: AlarmLine, nowS: number): void {
    const place = `${site}.${station}`;
    const through = this.#through.get(place);
    if (through !== undefined && line.t <= through) return;
    this.#through.set(place, line.t);
    if (line.alarms.length > 0 || this.#open.at(place).size > 0) {
      this.#compare(site, station, line, nowS);
    }
    if (this.#pending.urgent || line.t - (this.#progressWritten.get(place) ?? 0) > progressEveryS) {
      this.#pending.progress(place, line.t);
      this.#progressWritten.set(place, line.t);
      this.#schedule();
    }
  }

  /**
   * Takes what the gateway itself found of a station between two lines, `condition`. The rest of the
   * latest line is as it was, unless the station is silent: then its silence is judged anew.
   */
  beside(site: string, station: string, condition: string, line: AlarmLine, nowS: number): void {
    const silent = [...line.alarms, ...(line.suppressed ?? [])].some(
      (one) => one.condition === "node-silent",
    );
    this.#compare(site, station, line, nowS, silent ? null : condition);
    this.#schedule();
  }

  /** What stands at a station by its latest line holds now, however late that line came: it rings if it has not. */
  stillHolds(site: string, station: string, alarms: readonly ActiveAlarm[], nowS: number): void {
    const open = this.#open.at(placeOf(site, station));
    for (const alarm of alarms) {
      const occurrence = open.get(alarm.condition);
      if (!occurrence?.late || occurrence.cleared !== null) continue;
      this.#goOn(occurrence, alarm, nowS, false, nowS);
    }
    this.#schedule();
  }

  /** Raises or ends an alarm of the whole site (`nobody-reachable`), by the gateway's own knowledge. */
  site(site: string, alarms: readonly ActiveAlarm[], nowS: number): void {
    this.#compare(site, null, { t: nowS, alarms }, nowS);
    this.#schedule();
  }

  /** Lets time pass: shelves end. */
  tick(nowS: number): void {
    for (const shelf of this.#open.shelves()) {
      if (shelf.until !== null && shelf.until <= nowS)
        this.#unshelve(shelf, shelf.until, nowS, null);
    }
    this.#schedule();
  }

  /** Everything that is not normal, the loudest and newest first. */
  list(): OccurrenceView[] {
    return this.#open.list();
  }

  /** What people have put away while no alarm of it stands: nothing in `list` tells of it. */
  putAway(): Shelf[] {
    return this.#open.putAwayUnseen();
  }

  /** A person has seen it. Ends its escalation; a latched or returned one becomes normal. */
  async acknowledge(id: string, by: string, note: string, nowS: number): Promise<PersonResult> {
    const occurrence = this.#open.get(id);
    if (!occurrence) return notFound(id);
    const next = afterAcknowledge(occurrence.state);
    if (next === null) {
      return nothing(`it is ${occurrence.state}, acknowledged by ${occurrence.acknowledgedBy}`);
    }
    const kind: AlarmJournalKind =
      occurrence.state === "latched-acknowledged" ? "released" : "acknowledged";
    occurrence.state = next;
    occurrence.acknowledged = nowS;
    occurrence.acknowledgedBy = by;
    occurrence.note = note === "" ? occurrence.note : note;
    this.#pending.occurrence(occurrence);
    this.#pending.note(occurrence, kind, nowS, nowS, { by, note });
    this.#pending.cancel(id, `acknowledged by ${by}`);
    const view = this.#open.view(occurrence);
    if (next === "normal") this.#open.drop(occurrence);
    await this.settled();
    return { ok: true, occurrence: view };
  }

  /** Takes the condition of this station off the list for a time; it comes back by itself. */
  async shelve(
    id: string,
    who: { by: string; note: string; minutes: number },
    nowS: number,
  ): Promise<PersonResult> {
    const occurrence = this.#open.get(id);
    if (!occurrence) return notFound(id);
    const most = shelveLimitMin(occurrence.condition);
    if (!(who.minutes >= 1 && who.minutes <= most)) {
      return {
        ok: false,
        code: "limit",
        message: `minutes is ${who.minutes}; this alarm can be shelved for 1 to ${most} minutes`,
      };
    }
    return this.#putAway(occurrence, "shelved", nowS + who.minutes * 60, who, nowS);
  }

  /** Ends a shelf, or puts the condition back into service. */
  async unshelve(id: string, by: string, nowS: number): Promise<PersonResult> {
    const occurrence = this.#open.get(id);
    if (!occurrence) return notFound(id);
    const shelf = this.#open.shelfOf(occurrence);
    if (!shelf) return nothing("it is neither shelved nor out of service");
    this.#unshelve(shelf, nowS, nowS, by);
    await this.settled();
    return { ok: true, occurrence: this.#open.view(occurrence) };
  }

  /** The same by place and condition, also where no alarm of it stands; false where nothing is put away there. */
  async putBack(
    part: { site: string; station: string | null; condition: string },
    by: string,
    nowS: number,
  ): Promise<boolean> {
    const shelf = this.#open.shelfOf(part);
    if (!shelf) return false;
    this.#unshelve(shelf, nowS, nowS, by);
    await this.settled();
    return true;
  }

  /** Maintenance: the condition of this station is out of service until a person puts it back. */
  async takeOutOfService(
    id: string,
    who: { by: string; note: string },
    nowS: number,
  ): Promise<PersonResult> {
    const occurrence = this.#open.get(id);
    if (!occurrence) return notFound(id);
    return this.#putAway(occurrence, "out-of-service", null, who, nowS);
  }

  /** Forgets the demo's made-up stations. */
  async forgetVirtual(site: string, stations: readonly string[]): Promise<void> {
    for (const station of stations) {
      const place = `${site}.${station}`;
      this.#open.dropPlace(place);
      this.#through.delete(place);
      this.#progressWritten.delete(place);
    }
    await this.settled();
    await this.#options.store.forgetVirtual(site, stations);
  }

  /** Resolves once everything decided so far is in the store. */
  settled(): Promise<void> {
    this.#write();
    return this.#writing;
  }

  #compare(
    site: string,
    station: string | null,
    line: AlarmLine,
    nowS: number,
    only: string | null = null,
  ): void {
    const late = nowS - line.t > lateAfterS;
    const open = this.#open.at(placeOf(site, station));
    const present = new Set<string>();
    for (const alarm of line.alarms) {
      if (only !== null && only !== alarm.condition) continue;
      present.add(alarm.condition);
      const occurrence = open.get(alarm.condition);
      if (!occurrence) this.#raise(site, station, alarm, line.t, late, nowS);
      else if (occurrence.cleared !== null) this.#reAlarm(occurrence, alarm, line.t, late, nowS);
      else this.#goOn(occurrence, alarm, line.t, late, nowS);
    }
    // In an order that does not hang on how they were kept: a restart must not change the journal.
    const standing = [...open.values()].sort((a, b) => (a.condition < b.condition ? -1 : 1));
    for (const occurrence of standing) {
      if (occurrence.cleared !== null || present.has(occurrence.condition)) continue;
      if (only !== null && only !== occurrence.condition) continue;
      this.#missing(occurrence, line, nowS);
    }
  }

  #raise(
    site: string,
    station: string | null,
    alarm: ActiveAlarm,
    t: number,
    late: boolean,
    nowS: number,
  ): void {
    // A low one is over once it has gone; one that comes and goes is still one, and rings once.
    const lately = this.#rings.lately({ site, station, condition: alarm.condition }, nowS);
    if (lately && !late && alarm.priority === "low") {
      this.#open.keep(lately);
      this.#reAlarm(lately, alarm, t, late, nowS);
      return;
    }
    const occurrence: Occurrence = {
      id: `${placeOf(site, station)}~${alarm.condition}~${Math.round(t * 1000).toString(36)}`,
      site,
      station,
      condition: alarm.condition,
      priority: alarm.priority,
      since: alarm.since,
      raised: t,
      cleared: null,
      state: "unacknowledged",
      acknowledged: null,
      acknowledgedBy: null,
      note: null,
      suppressedBy: null,
      late,
      rang: null,
      title: alarm.title ?? alarm.condition,
      advice: alarm.advice ?? "",
      said: alarm.said ?? null,
    };
    this.#open.keep(occurrence);
    this.#pending.occurrence(occurrence);
    this.#pending.note(occurrence, "raised", t, nowS);
    if (!late) this.#rings.ring(occurrence, nowS);
  }

  /** It had gone but still waited for a person: the same occurrence goes on. */
  #reAlarm(occurrence: Occurrence, alarm: ActiveAlarm, t: number, late: boolean, nowS: number) {
    occurrence.cleared = null;
    // Whoever had seen it took it for gone: it rings as a new one would.
    if (occurrence.acknowledged !== null) occurrence.rang = null;
    unacknowledge(occurrence);
    occurrence.late = late;
    this.#retell(occurrence, alarm);
    occurrence.priority = alarm.priority;
    this.#pending.occurrence(occurrence);
    this.#pending.note(occurrence, "re-alarmed", t, nowS);
    if (!late) this.#rings.ring(occurrence, nowS);
  }

  #goOn(occurrence: Occurrence, alarm: ActiveAlarm, t: number, late: boolean, nowS: number): void {
    this.#retell(occurrence, alarm);
    // Late lines do not ring: it stays explained until it is seen to hold, and goes on from there.
    const unexplained = occurrence.suppressedBy !== null && !late;
    // What only its off-delay keeps is over: late as it is, it stays found afterwards.
    const caughtUp = occurrence.late && !late && !alarm.ending;
    if (unexplained) {
      occurrence.suppressedBy = null;
      this.#pending.occurrence(occurrence);
      this.#pending.note(occurrence, "unsuppressed", t, nowS);
    }
    if (occurrence.priority !== alarm.priority) {
      const rises = rankOf(alarm.priority) > rankOf(occurrence.priority);
      occurrence.priority = alarm.priority;
      this.#pending.occurrence(occurrence);
      if (rises) {
        // More urgent than what was acknowledged: a person must hear of it again.
        unacknowledge(occurrence);
        occurrence.rang = null;
        this.#pending.note(occurrence, "priority-raised", t, nowS);
      }
    }
    if (caughtUp) {
      occurrence.late = false;
      this.#pending.occurrence(occurrence);
    }
    if (late || occurrence.late) return;
    if (caughtUp || unexplained || occurrence.rang === null) {
      this.#rings.ring(occurrence, nowS, unexplained);
    }
  }

  /** Its condition is not among the active ones any more: explained by another, or over. */
  #missing(occurrence: Occurrence, line: AlarmLine, nowS: number): void {
    const by =
      line.suppressed?.find(({ condition }) => condition === occurrence.condition)?.by ??
      line.alarms.find((alarm) =>
        findCondition(alarm.condition)?.suppresses.includes(occurrence.condition),
      )?.condition;
    if (by !== undefined) {
      if (occurrence.suppressedBy === by) return;
      const first = occurrence.suppressedBy === null;
      occurrence.suppressedBy = by;
      this.#pending.occurrence(occurrence);
      if (first) {
        this.#pending.note(occurrence, "suppressed", line.t, nowS, { note: by });
        this.#pending.cancel(occurrence.id, explainedBy(by));
      }
      return;
    }
    occurrence.cleared = line.t;
    occurrence.suppressedBy = null;
    this.#pending.occurrence(occurrence);
    this.#pending.cancel(occurrence.id, HAS_GONE);
    if (occurrence.late) {
      occurrence.state = "normal";
      this.#pending.note(occurrence, "found-afterwards", line.t, nowS);
    } else {
      const latched = findCondition(occurrence.condition)?.latched ?? false;
      occurrence.state = afterReturn(occurrence.state, latched);
      // A low-priority alarm that has gone by itself asks nothing of anybody.
      if (!latched && occurrence.priority === "low") occurrence.state = "normal";
      this.#pending.note(occurrence, "returned", line.t, nowS);
    }
    if (occurrence.state !== "normal") return;
    this.#open.drop(occurrence);
    if (occurrence.priority === "low" && occurrence.acknowledged === null) {
      this.#open.keepGone(occurrence);
    }
  }

  async #putAway(
    occurrence: Occurrence,
    kind: Shelf["kind"],
    until: number | null,
    who: { by: string; note: string },
    nowS: number,
  ): Promise<PersonResult> {
    const { site, station, condition } = occurrence;
    const { by, note } = who;
    const shelf: Shelf = { site, station, condition, kind, since: nowS, until, by, note };
    this.#open.putAway(shelf);
    this.#pending.shelf(shelf, entryOf(occurrence, kind, nowS, nowS, who));
    this.#pending.cancel(occurrence.id, `${kind} by ${who.by}`);
    await this.settled();
    return { ok: true, occurrence: this.#open.view(occurrence) };
  }

  #unshelve(shelf: Shelf, t: number, nowS: number, by: string | null): void {
    this.#open.takeBack(shelf);
    const occurrence = this.#open.at(placeOf(shelf.site, shelf.station)).get(shelf.condition);
    const kind = shelf.kind === "shelved" ? "unshelved" : "in-service";
    const who = { by: by ?? "", note: by === null ? "its time was over" : "" };
    this.#pending.removeShelf(shelf, entryOf(occurrence ?? shelf, kind, t, nowS, who));
    if (!occurrence || occurrence.cleared !== null) return;
    unacknowledge(occurrence);
    occurrence.rang = null;
    this.#pending.occurrence(occurrence);
    if (!occurrence.late) this.#rings.ring(occurrence, nowS);
  }

  #retell(occurrence: Occurrence, alarm: ActiveAlarm): void {
    if (alarm.title !== undefined) occurrence.title = alarm.title;
    if (alarm.advice !== undefined) occurrence.advice = alarm.advice;
    occurrence.said = alarm.said ?? null;
  }

  /** Occurrences that a batch changed, each once, as they are now. */
  #changedBy(batch: AlarmBatch): OccurrenceView[] {
    const changed = new Map(batch.occurrences.map((one) => [one.id, one]));
    for (const shelf of [...batch.shelves, ...batch.removedShelves]) {
      const place = placeOf(shelf.site, shelf.station);
      const occurrence = this.#open.at(place).get(shelf.condition);
      if (occurrence) changed.set(occurrence.id, occurrence);
    }
    return [...changed.values()].map((one) => this.#open.view(one));
  }

  /** Writes soon: what the lines of one moment decide goes into one transaction. */
  #schedule(): void {
    if (this.#scheduled) return;
    this.#scheduled = true;
    queueMicrotask(() => this.#write());
  }

  #write(): void {
    this.#scheduled = false;
    const batch = this.#pending.drain();
    const empty =
      batch.journal.length +
        batch.occurrences.length +
        batch.messages.length +
        batch.progress.size ===
      0;
    if (empty) return;
    this.#writing = this.#writing
      .then(() => this.#options.store.write(batch))
      .then(() => {
        if (batch.journal.length + batch.messages.length > 0)
          this.#options.onWritten(this.#changedBy(batch));
      })
      .catch((error: unknown) => {
        // The disk refused it: it is kept and goes with the next write.
        this.#pending.restore(batch);
        this.#options.onError(error);
      });
  }
}

/** Nobody has seen it as it is now. */
function unacknowledge(occurrence: Occurrence): void {
  occurrence.state = "unacknowledged";
  occurrence.acknowledged = null;
  occurrence.acknowledgedBy = null;
  occurrence.note = null;
}

function notFound(id: string): PersonResult {
  return { ok: false, code: "not-found", message: `there is no open alarm ${id}` };
}

function nothing(message: string): PersonResult {
  return { ok: false, code: "nothing-to-do", message };
}
