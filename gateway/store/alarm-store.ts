import { saidAlarmSchema } from "@leeward/shared-core/alarms/language/said.ts";
import type { AlarmSpell } from "@leeward/shared-core/api/alarm-spells.ts";
import type { Insertable, Kysely, Selectable, Transaction } from "kysely";
import type { AlarmJournalEntry, Occurrence, Shelf } from "../alarms/states.ts";
import type { MessageStep } from "../notify/outbox.ts";
import type { AlarmDatabase, AlarmJournalTable, AlarmOccurrenceTable } from "./alarm-layout.ts";
import { writeMessages } from "./outbox-store.ts";

/** One transaction's worth of what the life cycle has decided. */
export interface AlarmBatch {
  occurrences: Occurrence[];
  shelves: Shelf[];
  removedShelves: Pick<Shelf, "site" | "station" | "condition">[];
  journal: AlarmJournalEntry[];
  /** Station id → time of its newest line taken. */
  progress: Map<string, number>;
  messages: MessageStep[];
}

/** Alarms in the store: one transaction for each batch, so that a message never misses its alarm. */
export class AlarmStore {
  readonly #db: Kysely<AlarmDatabase>;

  constructor(db: Kysely<AlarmDatabase>) {
    this.#db = db;
  }

  async openOccurrences(): Promise<Occurrence[]> {
    const rows = await this.#db
      .selectFrom("alarm_occurrences")
      .selectAll()
      .where("open", "=", 1)
      .execute();
    return rows.map(toOccurrence);
  }

  /** Low alarms that rang last and went by themselves: they may come back before they ring anew. */
  async wentLately(withinS: number): Promise<Occurrence[]> {
    const rows = await this.#db
      .selectFrom("alarm_occurrences")
      .selectAll()
      .where("open", "=", 0)
      .where("priority", "=", "low")
      .where("acknowledged", "is", null)
      .where("rang", ">", (inner) =>
        inner
          .selectFrom("alarm_occurrences as each")
          .select((one) => one(one.fn.max("each.rang"), "-", withinS).as("from")),
      )
      .orderBy("rang")
      .execute();
    return rows.map(toOccurrence);
  }

  async occurrence(id: string): Promise<Occurrence | null> {
    const row = await this.#db
      .selectFrom("alarm_occurrences")
      .selectAll()
      .where("id", "=", id)
      .executeTakeFirst();
    return row ? toOccurrence(row) : null;
  }

  /** Occurrences at a station that held at some time from `from` to `to`, rising. */
  async occurrencesBetween(
    site: string,
    station: string,
    from: number,
    to: number,
  ): Promise<Occurrence[]> {
    const rows = await this.#db
      .selectFrom("alarm_occurrences")
      .selectAll()
      .where("site", "=", site)
      .where("station", "=", station)
      .where("since", "<", to)
      .where((where) => where.or([where("cleared", "is", null), where("cleared", ">", from)]))
      .orderBy("since")
      .execute();
    return rows.map(toOccurrence);
  }

  async shelves(): Promise<Shelf[]> {
    const rows = await this.#db.selectFrom("alarm_shelves").selectAll().execute();
    return rows.map((row) => ({ ...row, station: row.station === "" ? null : row.station }));
  }

  async progress(): Promise<Map<string, number>> {
    const rows = await this.#db.selectFrom("alarm_progress").selectAll().execute();
    return new Map(rows.map((row) => [row.station, row.through]));
  }

  async write(batch: AlarmBatch): Promise<void> {
    await this.#db.transaction().execute((trx) => writeAlarms(trx, batch));
  }

  /** Newest first. */
  async journal(query: { from: number; to: number; limit: number }): Promise<AlarmJournalEntry[]> {
    const rows = await this.#db
      .selectFrom("alarm_journal")
      .selectAll()
      .where("t", ">=", query.from)
      .where("t", "<=", query.to)
      .orderBy("t", "desc")
      .orderBy("id", "desc")
      .limit(query.limit)
      .execute();
    return rows.map(toJournalEntry);
  }

  /** All that was noted of one occurrence, newest first. */
  async journalOf(occurrence: string): Promise<AlarmJournalEntry[]> {
    const rows = await this.#db
      .selectFrom("alarm_journal")
      .selectAll()
      .where("occurrence", "=", occurrence)
      .orderBy("t", "desc")
      .orderBy("id", "desc")
      .limit(500)
      .execute();
    return rows.map(toJournalEntry);
  }

  /** Spells in which an alarm stood at a station, oldest first; those that another explains left out. */
  async spells(query: {
    site: string;
    station: string;
    from: number;
    to: number;
  }): Promise<AlarmSpell[]> {
    const rows = await this.#db
      .selectFrom("alarm_occurrences")
      .select(["condition", "priority", "title", "since", "cleared"])
      .where("site", "=", query.site)
      .where("station", "=", query.station)
      .where("since", "<", query.to)
      .where((where) => where.or([where("cleared", "is", null), where("cleared", ">", query.from)]))
      .where("suppressed_by", "is", null)
      .orderBy("since")
      .limit(2000)
      .execute();
    return rows.map(({ since, cleared, priority, ...row }) => ({
      ...row,
      priority: priority as AlarmSpell["priority"],
      from: since,
      to: cleared,
    }));
  }

  /**
   * Times at which alarms rang or came back, rising: what the measures are made of.
   *
   * @param by when it happened (`t`), from `from` on; or when it was written down, after `from`: what
   *   comes late is then in no span twice, and in one
   */
  async annunciations(
    from: number,
    to: number,
    by: "t" | "recorded" = "t",
  ): Promise<
    Pick<
      AlarmJournalEntry,
      "t" | "recorded" | "site" | "station" | "condition" | "priority" | "occurrence"
    >[]
  > {
    const rows = await this.#db
      .selectFrom("alarm_journal")
      .selectAll()
      .where("kind", "in", ["raised", "re-alarmed"])
      .where(by, by === "t" ? ">=" : ">", from)
      .where(by, "<=", to)
      .orderBy("t")
      .execute();
    return rows.map(toJournalEntry);
  }

  /** Forgets the demo's made-up stations, journal included. */
  async forgetVirtual(site: string, stations: readonly string[]): Promise<void> {
    if (stations.length === 0) return;
    const ids = stations.map((station) => ({ station: `${site}.${station}` }));
    await this.#db.transaction().execute(async (trx) => {
      await trx
        .insertInto("alarm_virtual")
        .values(ids)
        .onConflict((conflict) => conflict.doNothing())
        .execute();
      await trx
        .deleteFrom("outbox")
        .where("occurrence", "in", (inner) =>
          inner
            .selectFrom("alarm_occurrences")
            .select("id")
            .where("site", "=", site)
            .where("station", "in", [...stations]),
        )
        .execute();
      for (const table of ["alarm_occurrences", "alarm_shelves", "alarm_journal"] as const) {
        await trx
          .deleteFrom(table)
          .where("site", "=", site)
          .where("station", "in", [...stations])
          .execute();
      }
      await trx
        .deleteFrom("alarm_progress")
        .where(
          "station",
          "in",
          ids.map((row) => row.station),
        )
        .execute();
      await trx
        .deleteFrom("alarm_virtual")
        .where(
          "station",
          "in",
          ids.map((row) => row.station),
        )
        .execute();
    });
  }
}

async function writeAlarms(trx: Transaction<AlarmDatabase>, batch: AlarmBatch): Promise<void> {
  for (const occurrence of batch.occurrences) {
    await trx.replaceInto("alarm_occurrences").values(toRow(occurrence)).execute();
  }
  for (const shelf of batch.shelves) {
    const row = { ...shelf, station: shelf.station ?? "" };
    await trx.replaceInto("alarm_shelves").values(row).execute();
  }
  for (const { site, station, condition } of batch.removedShelves) {
    await trx
      .deleteFrom("alarm_shelves")
      .where("site", "=", site)
      .where("station", "=", station ?? "")
      .where("condition", "=", condition)
      .execute();
  }
  if (batch.journal.length > 0) {
    const rows: Insertable<AlarmJournalTable>[] = batch.journal.map((entry) => ({ ...entry }));
    for (let at = 0; at < rows.length; at += 100) {
      await trx
        .insertInto("alarm_journal")
        .values(rows.slice(at, at + 100))
        .execute();
    }
  }
  for (const [station, through] of batch.progress) {
    await trx.replaceInto("alarm_progress").values({ station, through }).execute();
  }
  await writeMessages(trx, batch.messages);
}

function toRow(occurrence: Occurrence): AlarmOccurrenceTable {
  const { acknowledgedBy, suppressedBy, late, said, ...rest } = occurrence;
  return {
    ...rest,
    acknowledged_by: acknowledgedBy,
    suppressed_by: suppressedBy,
    late: late ? 1 : 0,
    said: said === null ? null : JSON.stringify(said),
    open: occurrence.state === "normal" ? 0 : 1,
  };
}

function toOccurrence(row: AlarmOccurrenceTable): Occurrence {
  const { acknowledged_by, suppressed_by, late, said, open: _, ...rest } = row;
  return {
    ...rest,
    priority: rest.priority as Occurrence["priority"],
    state: rest.state as Occurrence["state"],
    acknowledgedBy: acknowledged_by,
    suppressedBy: suppressed_by,
    late: late === 1,
    said: said === null ? null : saidAlarmSchema.parse(JSON.parse(said)),
  };
}

function toJournalEntry(row: Selectable<AlarmJournalTable>): AlarmJournalEntry {
  const { id: _, ...entry } = row;
  return {
    ...entry,
    kind: entry.kind as AlarmJournalEntry["kind"],
    priority: entry.priority as AlarmJournalEntry["priority"],
  };
}
