import { type Kysely, type Selectable, sql, type Transaction } from "kysely";
import {
  HAS_GONE,
  type MessageStep,
  mayGoOn,
  type NewOutboxRow,
  type OutboxRow,
  type OutboxState,
  type RowWay,
} from "../notify/outbox.ts";
import { type PushSubscription, reachesPeople } from "../notify/settings.ts";
import type { AlarmDatabase, OutboxTable } from "./alarm-layout.ts";

/** What came of the attempts before. */
type Tried = Pick<OutboxRow, "attempts" | "firstAttempt" | "inFlight" | "lastError">;

/** Stores messages; one whose id is there already is left as it is. */
export async function insertOutbox(
  db: Pick<Kysely<AlarmDatabase>, "insertInto">,
  rows: readonly (NewOutboxRow & Partial<Tried>)[],
): Promise<void> {
  for (const row of rows) {
    await db
      .insertInto("outbox")
      .values({
        id: row.id,
        occurrence: row.occurrence,
        kind: row.kind,
        contact: row.contact,
        way: row.way.kind,
        way_detail: JSON.stringify(row.way),
        message: JSON.stringify(row.message),
        created: row.created,
        due: row.due,
        expires: row.expires,
        attempts: row.attempts ?? 0,
        first_attempt: row.firstAttempt ?? null,
        in_flight: row.inFlight ? 1 : 0,
        state: "waiting",
        delivered: null,
        last_error: row.lastError ?? null,
      })
      .onConflict((conflict) => conflict.column("id").doNothing())
      .execute();
  }
}

/** Carries out what was decided about messages of alarms, in its order. */
export async function writeMessages(
  trx: Transaction<AlarmDatabase>,
  steps: readonly MessageStep[],
): Promise<void> {
  for (const step of steps) {
    if (step.step === "cancel") {
      await trx
        .updateTable("outbox")
        .set({ state: "cancelled", last_error: step.why })
        .where("occurrence", "=", step.occurrence)
        .where("state", "=", "waiting")
        .where("attempts", "=", 0)
        .execute();
      continue;
    }
    const from = step.step === "hand-over" ? step.from : (step.rows[0]?.occurrence ?? "");
    const known = await trx
      .selectFrom("outbox")
      .select(["id", "state", "last_error"])
      .where("occurrence", "=", from)
      .execute();
    for (const row of step.rows) {
      // A ring that has gone over keeps its ids: they begin with the occurrence that rang first.
      const rest = row.id.slice(row.occurrence?.length ?? 0);
      await goOn(
        trx,
        row,
        known.find((one) => one.id.endsWith(rest)),
      );
    }
  }
}

/** Stores a message anew, or lets one that had been taken back go out after all. */
async function goOn(
  trx: Transaction<AlarmDatabase>,
  row: NewOutboxRow,
  known: { id: string; state: string; last_error: string | null } | undefined,
): Promise<void> {
  if (!known) return insertOutbox(trx, [row]);
  const again = known.state === "cancelled" && mayGoOn(known.last_error);
  await trx
    .updateTable("outbox")
    .set({
      occurrence: row.occurrence,
      ...(again
        ? {
            state: "waiting",
            message: JSON.stringify(row.message),
            due: row.due,
            expires: row.expires,
            last_error: null,
          }
        : {}),
    })
    .where("id", "=", known.id)
    .execute();
}

/** Messages on their way out, and the browsers that take push messages. */
export class OutboxStore {
  readonly #db: Kysely<AlarmDatabase>;

  constructor(db: Kysely<AlarmDatabase>) {
    this.#db = db;
  }

  async add(rows: readonly NewOutboxRow[]): Promise<void> {
    await this.#db.transaction().execute((trx) => insertOutbox(trx, rows));
  }

  /**
   * Messages whose time has come: by priority, those never tried before the others, the longest due
   * first; at most `toEach` to one destination (as `destinationOf` tells them).
   */
  async due(nowS: number, most: { toEach: number; inAll: number }): Promise<OutboxRow[]> {
    const ranked = this.#db
      .selectFrom("outbox")
      .selectAll()
      .select([
        sql<number>`CASE json_extract(message, '$.priority')
          WHEN 'high' THEN 0 WHEN 'medium' THEN 1 ELSE 2 END`.as("rank"),
        sql<string>`CASE way WHEN 'webhook' THEN json_extract(way_detail, '$.url')
          WHEN 'push' THEN 'push ' || contact ELSE way END`.as("destination"),
      ])
      .where("state", "=", "waiting")
      .where("due", "<=", nowS);
    const inLine = this.#db
      .selectFrom(ranked.as("ranked"))
      .selectAll()
      .select(
        sql<number>`row_number() OVER
          (PARTITION BY destination ORDER BY rank, attempts > 0, due)`.as("place"),
      );
    const rows = await this.#db
      .selectFrom(inLine.as("line"))
      .selectAll()
      .where("place", "<=", most.toEach)
      .orderBy("rank")
      .orderBy(sql`attempts > 0`)
      .orderBy("due")
      .limit(most.inAll)
      .execute();
    return rows.map(toRow);
  }

  /** When the next message falls due after `nowS`, Unix s; null where none does. */
  async nextDue(nowS: number): Promise<number | null> {
    const row = await this.#db
      .selectFrom("outbox")
      .select((select) => select.fn.min("due").as("due"))
      .where("state", "=", "waiting")
      .where("due", ">", nowS)
      .executeTakeFirst();
    return row?.due ?? null;
  }

  /** Notes an attempt before it is made. */
  async begin(id: string, nowS: number): Promise<void> {
    await this.#db
      .updateTable("outbox")
      .set((set) => ({
        attempts: set("attempts", "+", 1),
        first_attempt: set.fn.coalesce("first_attempt", set.val(nowS)),
        in_flight: 1,
      }))
      .where("id", "=", id)
      .execute();
  }

  /** Not now: it waits until `due`, and is given up as long after that as before. */
  async postpone(row: OutboxRow, due: number): Promise<void> {
    await this.#db
      .updateTable("outbox")
      .set({ due, expires: due + Math.max(0, row.expires - row.due) })
      .where("id", "=", row.id)
      .where("state", "=", "waiting")
      .execute();
  }

  async delivered(id: string, nowS: number): Promise<void> {
    await this.#finish(id, { state: "delivered", delivered: nowS, last_error: null });
  }

  /** Somebody has it; each of `left` waits by itself from now on. */
  async deliveredInPart(id: string, nowS: number, left: readonly OutboxRow[]): Promise<void> {
    await this.#db.transaction().execute(async (trx) => {
      await insertOutbox(trx, left);
      await trx
        .updateTable("outbox")
        .set({ state: "delivered", delivered: nowS, last_error: null, in_flight: 0 })
        .where("id", "=", id)
        .execute();
    });
  }

  /** `unknown`: it may have arrived all the same, so that the next attempt is marked as a repeat. */
  async retry(id: string, due: number, error: string, unknown: boolean): Promise<void> {
    await this.#finish(id, { due, last_error: error }, unknown);
  }

  async failed(id: string, error: string): Promise<void> {
    await this.#finish(id, { state: "failed", last_error: error });
  }

  /** Newest first. */
  async list(query: {
    limit: number;
    ids?: readonly string[];
    state?: OutboxState;
  }): Promise<OutboxRow[]> {
    let select = this.#db
      .selectFrom("outbox")
      .selectAll()
      .orderBy("created", "desc")
      .limit(query.limit);
    if (query.ids) select = select.where("id", "in", [...query.ids]);
    if (query.state) select = select.where("state", "=", query.state);
    return (await select.execute()).map(toRow);
  }

  /** Alarms that had gone before any message of them was sent, of those rung since `fromS`. */
  async unheard(fromS: number): Promise<Set<string>> {
    const rows = await this.#db
      .selectFrom("outbox")
      .select(["occurrence", "state", "last_error", "attempts"])
      .where("kind", "=", "alarm")
      .where("created", ">=", fromS)
      .execute();
    const heard = (row: (typeof rows)[number]) =>
      row.state !== "cancelled" || row.last_error !== HAS_GONE || row.attempts > 0;
    const left = new Set(rows.map((row) => row.occurrence ?? ""));
    for (const row of rows) if (heard(row)) left.delete(row.occurrence ?? "");
    return left;
  }

  /**
   * Messages to people that were made after anything last arrived, and have not: tried at least
   * `attempts` times, or refused for good. And when the oldest of them was first tried, Unix s. A
   * test says to whoever pressed it how it went.
   */
  async trouble(attempts: number): Promise<{ stuck: number; oldest: number | null }> {
    const arrived = await this.#db
      .selectFrom("outbox")
      .select((select) => select.fn.max("delivered").as("last"))
      .where("state", "=", "delivered")
      .where("way", "in", reachesPeople)
      .executeTakeFirst();
    const stuck = await this.#db
      .selectFrom("outbox")
      .select((select) => [
        select.fn.countAll<number>().as("count"),
        select.fn.min("first_attempt").as("oldest"),
      ])
      .where((where) =>
        where.or([
          where("state", "=", "failed"),
          where.and([where("state", "=", "waiting"), where("attempts", ">=", attempts)]),
        ]),
      )
      .where("attempts", ">", 0)
      .where("kind", "<>", "test")
      .where("way", "in", reachesPeople)
      .where("created", ">", arrived?.last ?? 0)
      .executeTakeFirstOrThrow();
    return { stuck: Number(stuck.count), oldest: stuck.oldest };
  }

  /** Forgets messages that are settled and older; returns how many. */
  async prune(before: number): Promise<number> {
    const result = await this.#db
      .deleteFrom("outbox")
      .where("state", "<>", "waiting")
      .where("created", "<", before)
      .executeTakeFirst();
    return Number(result.numDeletedRows);
  }

  async subscriptions(): Promise<PushSubscription[]> {
    const rows = await this.#db.selectFrom("push_subscriptions").selectAll().execute();
    return rows.map((row) => ({
      ...(JSON.parse(row.subscription) as Omit<PushSubscription, "id" | "contact">),
      id: row.id,
      contact: row.contact,
    }));
  }

  async saveSubscription(subscription: PushSubscription, createdS: number): Promise<void> {
    const { id, contact, ...rest } = subscription;
    await this.#db
      .replaceInto("push_subscriptions")
      .values({ id, contact, subscription: JSON.stringify(rest), created: createdS })
      .execute();
  }

  async removeSubscription(id: string): Promise<void> {
    await this.#db.deleteFrom("push_subscriptions").where("id", "=", id).execute();
  }

  async #finish(id: string, change: Partial<OutboxTable>, unknown = false): Promise<void> {
    await this.#db
      .updateTable("outbox")
      .set({ ...change, in_flight: unknown ? 1 : 0 })
      .where("id", "=", id)
      .execute();
  }
}

function toRow(row: Selectable<OutboxTable>): OutboxRow {
  return {
    id: row.id,
    occurrence: row.occurrence,
    kind: row.kind as OutboxRow["kind"],
    contact: row.contact,
    way: JSON.parse(row.way_detail) as RowWay,
    message: JSON.parse(row.message) as OutboxRow["message"],
    created: row.created,
    due: row.due,
    expires: row.expires,
    attempts: row.attempts,
    firstAttempt: row.first_attempt,
    inFlight: row.in_flight === 1,
    state: row.state as OutboxState,
    delivered: row.delivered,
    lastError: row.last_error,
  };
}
