import type { FlowSample } from "@leeward/shared-core/record/shielding.ts";
import { type Kysely, sql } from "kysely";
import type { BenchDatabase } from "../bench/bench-layout.ts";
import { BenchStore } from "../bench/bench-store.ts";
import type { RackDatabase } from "../rack/rack-layout.ts";
import { RackStore } from "../rack/rack-store.ts";
import type { AlarmDatabase } from "./alarm-layout.ts";
import { AlarmStore } from "./alarm-store.ts";
import type { EnrolmentDatabase } from "./enrolment-layout.ts";
import { EnrolmentStore } from "./enrolment-store.ts";
import { OutboxStore } from "./outbox-store.ts";
import { readFlow } from "./read-flow.ts";
import { readHistory } from "./read-history.ts";
import {
  type BindingRecord,
  type DeadLetterRecord,
  type DescriptionRecord,
  type EngineRecord,
  type GatewayStore,
  type HistoryQuery,
  type HistoryRows,
  type IdempotentAnswer,
  type JournalQuery,
  type JournalRecord,
  type LogEntry,
  type LogQuery,
  type NodeRecord,
  type PackKey,
  packKeyText,
  type RetentionLimits,
  type WriteBatch,
} from "./store.ts";
import type { Database } from "./tables.ts";
import { SeriesIds, writeBatch } from "./write-batch.ts";

/** The store in one SQLite file. */
export class SqliteStore implements GatewayStore {
  readonly #db: Kysely<Database>;
  readonly #seriesIds = new SeriesIds();
  readonly alarms: AlarmStore;
  readonly outbox: OutboxStore;
  readonly bench: BenchStore;
  readonly rack: RackStore;
  readonly enrolments: EnrolmentStore;

  constructor(db: Kysely<Database>) {
    this.#db = db;
    // The same connection, seen through the alarm tables only.
    const alarmTables = db as unknown as Kysely<AlarmDatabase>;
    this.alarms = new AlarmStore(alarmTables);
    this.outbox = new OutboxStore(alarmTables);
    this.rack = new RackStore(db as unknown as Kysely<RackDatabase>);
    this.bench = new BenchStore(db as unknown as Kysely<BenchDatabase>);
    this.enrolments = new EnrolmentStore(db as unknown as Kysely<EnrolmentDatabase>);
  }

  async write(batch: WriteBatch): Promise<{ logIds: number[] }> {
    try {
      const logIds = await this.#db
        .transaction()
        .execute((trx) => writeBatch(trx, batch, this.#seriesIds));
      return { logIds };
    } catch (error) {
      // Ids that the undone transaction had given out are void.
      this.#seriesIds.clear();
      throw error;
    }
  }

  async knownPacks(keys: readonly PackKey[]): Promise<Map<string, string[]>> {
    const known = new Map<string, string[]>();
    for (let start = 0; start < keys.length; start += 300) {
      const part = keys.slice(start, start + 300);
      const rows = await this.#db
        .selectFrom("packs")
        .select(["owner", "boot", "seq", "hash"])
        .where((where) =>
          where.or(
            part.map((key) => where.and({ owner: key.owner, boot: key.boot, seq: key.seq })),
          ),
        )
        .execute();
      for (const row of rows) {
        const text = packKeyText(row);
        known.set(text, [...(known.get(text) ?? []), row.hash]);
      }
    }
    return known;
  }

  async storedSequence(owner: string, boot: number, from: number): Promise<number[]> {
    const rows = await this.#db
      .selectFrom("packs")
      .select("seq")
      .distinct()
      .where("owner", "=", owner)
      .where("boot", "=", boot)
      .where("seq", ">=", from)
      .orderBy("seq")
      .execute();
    return rows.map((row) => row.seq);
  }

  async readLog(query: LogQuery): Promise<LogEntry[]> {
    let select = this.#db
      .selectFrom("log")
      .selectAll()
      .where("id", ">", query.afterId)
      .orderBy("id")
      .limit(query.limit);
    if (query.of !== null) {
      const { site, nodes, stations } = query.of;
      if (nodes.length === 0 && stations.length === 0) return [];
      select = select
        .where("site", "=", site)
        .where((where) =>
          where.or([
            ...(nodes.length > 0 ? [where("node", "in", [...nodes])] : []),
            ...(stations.length > 0 ? [where("station", "in", [...stations])] : []),
          ]),
        );
    }
    if (query.fromReceived !== undefined) {
      select = select.where("received", ">=", query.fromReceived);
    }
    if (query.toReceived !== undefined) select = select.where("received", "<=", query.toReceived);
    return select.execute();
  }

  async logHead(): Promise<{ id: number; received: number }> {
    const row = await this.#db
      .selectFrom("log")
      .select((select) => [select.fn.max("id").as("id"), select.fn.max("received").as("received")])
      .executeTakeFirst();
    return { id: row?.id ?? 0, received: row?.received ?? 0 };
  }

  async nodes(): Promise<NodeRecord[]> {
    const rows = await this.#db.selectFrom("nodes").selectAll().execute();
    return rows.map((row) => ({
      site: row.site,
      node: row.node,
      hardware: row.hardware,
      state: row.state as NodeRecord["state"],
      boot: row.boot,
      lastSample: row.last_sample,
      lastReceived: row.last_received,
      status: row.status === null ? null : (JSON.parse(row.status) as NodeRecord["status"]),
      latest: JSON.parse(row.latest) as NodeRecord["latest"],
    }));
  }

  async descriptions(): Promise<DescriptionRecord[]> {
    const rows = await this.#db.selectFrom("descriptions").selectAll().orderBy("version").execute();
    return rows.map((row) => ({
      site: row.site,
      kind: row.kind,
      name: row.name,
      version: row.version,
      validFrom: row.valid_from,
      document: JSON.parse(row.document) as DescriptionRecord["document"],
    }));
  }

  async bindings(): Promise<BindingRecord[]> {
    const rows = await this.#db
      .selectFrom("bindings")
      .selectAll()
      .orderBy("valid_from")
      .orderBy("id")
      .execute();
    return rows.map((row) => ({
      site: row.site,
      node: row.node,
      owner: row.owner,
      validFrom: row.valid_from,
      validTo: row.valid_to,
    }));
  }

  async journal(query: JournalQuery): Promise<JournalRecord[]> {
    let select = this.#db
      .selectFrom("journal")
      .selectAll()
      .where("t", ">=", query.from)
      .where("t", "<=", query.to)
      .orderBy("t", "desc")
      .orderBy("id", "desc")
      .limit(query.limit);
    if (query.site !== undefined) select = select.where("site", "=", query.site);
    if (query.station !== undefined) select = select.where("station", "=", query.station);
    if (query.kinds !== undefined) select = select.where("kind", "in", [...query.kinds]);
    const rows = await select.execute();
    return rows.map(({ fingerprint: _, ...row }) => ({
      ...row,
      detail: JSON.parse(row.detail) as Record<string, unknown>,
    }));
  }

  async deadLetters(query: { limit: number; before?: number }): Promise<DeadLetterRecord[]> {
    let select = this.#db
      .selectFrom("dead_letters")
      .selectAll()
      .orderBy("id", "desc")
      .limit(query.limit);
    if (query.before !== undefined) select = select.where("id", "<", query.before);
    return select.execute();
  }

  async deadLetterCount(): Promise<number> {
    const row = await this.#db
      .selectFrom("dead_letters")
      .select((select) => select.fn.countAll<number>().as("count"))
      .executeTakeFirstOrThrow();
    return Number(row.count);
  }

  async engines(): Promise<EngineRecord[]> {
    const rows = await this.#db.selectFrom("engines").selectAll().execute();
    return rows.map((row) => ({
      key: row.key,
      setup: row.setup,
      startReceived: row.start_received,
      setupLogId: row.setup_log_id,
      throughId: row.through_id,
      every: row.every,
      state: row.state,
      placer: row.placer,
    }));
  }

  async latestEstimates(): Promise<Map<string, string>> {
    const rows = await this.#db.selectFrom("latest").select(["station", "estimate"]).execute();
    return new Map(rows.map((row) => [row.station, row.estimate]));
  }

  async removeEngine(key: string): Promise<void> {
    await this.#db.deleteFrom("engines").where("key", "=", key).execute();
  }

  async idempotentAnswer(key: string): Promise<IdempotentAnswer | null> {
    const row = await this.#db
      .selectFrom("idempotency")
      .select(["request", "status", "response"])
      .where("key", "=", key)
      .executeTakeFirst();
    return row ?? null;
  }

  async saveIdempotentAnswer(
    key: string,
    answer: IdempotentAnswer,
    createdS: number,
  ): Promise<void> {
    await this.#db
      .insertInto("idempotency")
      .values({ key, ...answer, created: createdS })
      .onConflict((conflict) => conflict.doNothing())
      .execute();
  }

  history(query: HistoryQuery): Promise<HistoryRows> {
    return readHistory(this.#db, query);
  }

  flowSamples(owner: string, from: number, to: number): Promise<FlowSample[]> {
    return readFlow(this.#db, owner, from, to);
  }

  async fact(key: string): Promise<string | null> {
    const row = await this.#db
      .selectFrom("facts")
      .select("value")
      .where("key", "=", key)
      .executeTakeFirst();
    return row?.value ?? null;
  }

  async saveFact(key: string, value: string): Promise<void> {
    await this.#db.replaceInto("facts").values({ key, value }).execute();
  }

  async prune(limits: RetentionLimits): Promise<number> {
    const { rawBefore, minutesBefore } = limits;
    const deletions = [
      sql`DELETE FROM samples WHERE t < ${rawBefore}`,
      sql`DELETE FROM words WHERE t < ${rawBefore}`,
      sql`DELETE FROM packs WHERE log_id IN (SELECT id FROM log WHERE received < ${rawBefore} AND kind <> 'setup')`,
      sql`DELETE FROM log WHERE received < ${rawBefore} AND kind <> 'setup'`,
      sql`DELETE FROM rollups WHERE width = 60 AND t < ${minutesBefore}`,
      sql`DELETE FROM idempotency WHERE created < ${rawBefore}`,
    ];
    let gone = 0;
    for (const deletion of deletions) {
      const result = await deletion.execute(this.#db);
      gone += Number(result.numAffectedRows ?? 0);
    }
    return gone;
  }

  async forget(site: string, stations: readonly string[], nodes: readonly string[]): Promise<void> {
    const owners = [
      ...stations.map((station) => `station:${site}.${station}`),
      ...nodes.map((node) => `node:${site}/${node}`),
    ];
    await this.#db.transaction().execute(async (trx) => {
      for (const table of ["samples", "words", "rollups"] as const) {
        await trx
          .deleteFrom(table)
          .where("series_id", "in", (inner) =>
            inner.selectFrom("series").select("id").where("owner", "in", owners),
          )
          .execute();
      }
      await trx
        .deleteFrom("packs")
        .where("log_id", "in", (inner) =>
          inner
            .selectFrom("log")
            .select("id")
            .where("site", "=", site)
            .where("node", "in", [...nodes]),
        )
        .execute();
      for (const table of ["log", "journal"] as const) {
        await trx
          .deleteFrom(table)
          .where("site", "=", site)
          .where((where) =>
            where.or([where("node", "in", [...nodes]), where("station", "in", [...stations])]),
          )
          .execute();
      }
      await trx
        .deleteFrom("nodes")
        .where("site", "=", site)
        .where("node", "in", [...nodes])
        .execute();
      await trx
        .deleteFrom("bindings")
        .where("site", "=", site)
        .where(
          "owner",
          "in",
          stations.map((station) => `station:${station}`),
        )
        .execute();
      await trx
        .deleteFrom("descriptions")
        .where("site", "=", site)
        .where("kind", "=", "station")
        .where("name", "in", [...stations])
        .execute();
      const ids = stations.map((station) => `${site}.${station}`);
      await trx.deleteFrom("engines").where("key", "in", ids).execute();
      await trx.deleteFrom("latest").where("station", "in", ids).execute();
    });
    await this.alarms.forgetVirtual(site, stations);
  }

  close(): Promise<void> {
    return this.#db.destroy();
  }
}
