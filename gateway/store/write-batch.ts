import { createHash } from "node:crypto";
import { sql, type Transaction } from "kysely";
import type {
  BindingChange,
  DescriptionRecord,
  NewLogEntry,
  SeriesValue,
  WriteBatch,
} from "./store.ts";
import type { Database } from "./tables.ts";

type Trx = Transaction<Database>;

/** Widths of the sums kept beside raw samples, s. */
export const rollupWidths = [60, 3600] as const;

/** SQLite binds at most 32,766 values a statement; these stay well below. */
const rowsPerStatement = 400;

/** Ids of series, kept in memory: there are a dozen a station. */
export class SeriesIds {
  readonly #ids = new Map<string, number>();

  async get(trx: Trx, owner: string, name: string): Promise<number> {
    const key = `${owner}\n${name}`;
    const known = this.#ids.get(key);
    if (known !== undefined) return known;
    await trx
      .insertInto("series")
      .values({ owner, name })
      .onConflict((conflict) => conflict.doNothing())
      .execute();
    const { id } = await trx
      .selectFrom("series")
      .select("id")
      .where("owner", "=", owner)
      .where("name", "=", name)
      .executeTakeFirstOrThrow();
    this.#ids.set(key, id);
    return id;
  }

  clear(): void {
    this.#ids.clear();
  }
}

/** Writes one batch inside the transaction and returns the ids of its log entries, in order. */
export async function writeBatch(
  trx: Trx,
  batch: WriteBatch,
  seriesIds: SeriesIds,
): Promise<number[]> {
  const logIds = await writeLog(trx, batch.log ?? []);
  for (const { record, binding } of batch.descriptions ?? []) {
    await writeDescription(trx, record, binding);
  }
  await writeValues(trx, batch.values ?? [], seriesIds);
  for (const node of batch.nodes ?? []) {
    const row = {
      site: node.site,
      node: node.node,
      hardware: node.hardware,
      state: node.state,
      boot: node.boot,
      last_sample: node.lastSample,
      last_received: node.lastReceived,
      status: node.status === null ? null : JSON.stringify(node.status),
      latest: JSON.stringify(node.latest),
    };
    await trx.replaceInto("nodes").values(row).execute();
  }
  for (const part of chunks(batch.journal ?? [])) {
    const rows = part.map((entry) => {
      const detail = JSON.stringify(entry.detail);
      const identity = [entry.site, entry.station, entry.node, entry.kind, entry.t, detail];
      return { ...entry, detail, fingerprint: sha(JSON.stringify(identity)) };
    });
    await trx
      .insertInto("journal")
      .values(rows)
      .onConflict((conflict) => conflict.doNothing())
      .execute();
  }
  for (const part of chunks(batch.deadLetters ?? [])) {
    await trx.insertInto("dead_letters").values(part).execute();
  }
  for (const engine of batch.engines ?? []) {
    const row = {
      key: engine.key,
      setup: engine.setup,
      start_received: engine.startReceived,
      setup_log_id: engine.setupLogId,
      through_id: engine.throughId,
      every: engine.every,
      state: engine.state,
      placer: engine.placer,
    };
    await trx.replaceInto("engines").values(row).execute();
  }
  for (const row of batch.latest ?? []) await trx.replaceInto("latest").values(row).execute();
  for (const fact of batch.facts ?? []) await trx.replaceInto("facts").values(fact).execute();
  return logIds;
}

async function writeLog(trx: Trx, entries: readonly NewLogEntry[]): Promise<number[]> {
  const ids: number[] = [];
  for (const part of chunks(entries)) {
    const rows = part.map(({ pack: _, ...row }) => row);
    const inserted = await trx.insertInto("log").values(rows).returning("id").execute();
    // AUTOINCREMENT gives rising ids in the order of the rows; RETURNING promises no order.
    ids.push(...inserted.map((row) => row.id).sort((a, b) => a - b));
  }
  const packs = entries.flatMap(({ pack }, index) =>
    pack === null ? [] : [{ ...pack, log_id: ids[index]! }],
  );
  for (const part of chunks(packs)) {
    await trx
      .insertInto("packs")
      .values(part)
      .onConflict((conflict) => conflict.doNothing())
      .execute();
  }
  return ids;
}

/** A new version; its node's binding moves with it where the node is another than before. */
async function writeDescription(
  trx: Trx,
  record: DescriptionRecord,
  binding: BindingChange | null,
): Promise<void> {
  const { site, kind, name, version, validFrom, document } = record;
  const row = { site, kind, name, version, valid_from: validFrom };
  await trx
    .insertInto("descriptions")
    .values({ ...row, document: JSON.stringify(document) })
    .execute();
  if (binding === null) return;
  await trx
    .updateTable("bindings")
    .set({ valid_to: binding.validFrom })
    .where("site", "=", binding.site)
    .where("owner", "=", binding.owner)
    .where("valid_to", "is", null)
    .execute();
  if (binding.node === null) return;
  await trx
    .insertInto("bindings")
    .values({
      site: binding.site,
      node: binding.node,
      owner: binding.owner,
      valid_from: binding.validFrom,
      valid_to: null,
    })
    .execute();
}

interface Sum {
  weight: number;
  sum: number;
  min: number;
  max: number;
}

/** Only values that were not there yet count in the sums, so that nothing is counted twice. */
async function writeValues(
  trx: Trx,
  values: readonly SeriesValue[],
  seriesIds: SeriesIds,
): Promise<void> {
  const numbers: { series_id: number; t: number; value: number }[] = [];
  const words: { series_id: number; t: number; word: string }[] = [];
  const weights = new Map<string, number>();
  for (const { owner, name, t, value, weight } of values) {
    const seriesId = await seriesIds.get(trx, owner, name);
    if (typeof value === "string") words.push({ series_id: seriesId, t, word: value });
    else numbers.push({ series_id: seriesId, t, value });
    if (weight !== undefined) weights.set(`${seriesId}|${t}`, weight);
  }
  const sums = new Map<string, Sum>();
  for (const part of chunks(numbers)) {
    const fresh = await trx
      .insertInto("samples")
      .values(part)
      .onConflict((conflict) => conflict.doNothing())
      .returning(["series_id", "t", "value"])
      .execute();
    for (const { series_id, t, value } of fresh) {
      const weight = weights.get(`${series_id}|${t}`) ?? 1;
      for (const width of rollupWidths) {
        addToSum(sums, `${series_id}|${width}|${Math.floor(t / width) * width}`, value, weight);
      }
    }
  }
  for (const part of chunks(words)) {
    await trx
      .insertInto("words")
      .values(part)
      .onConflict((conflict) => conflict.doNothing())
      .execute();
  }
  const rows = [...sums].map(([key, sum]) => {
    const [series_id, width, t] = key.split("|").map(Number) as [number, number, number];
    return { series_id, width, t, ...sum };
  });
  for (const part of chunks(rows)) {
    await trx
      .insertInto("rollups")
      .values(part)
      .onConflict((conflict) =>
        conflict.columns(["series_id", "width", "t"]).doUpdateSet({
          weight: sql`rollups.weight + excluded.weight`,
          sum: sql`rollups.sum + excluded.sum`,
          min: sql`min(rollups.min, excluded.min)`,
          max: sql`max(rollups.max, excluded.max)`,
        }),
      )
      .execute();
  }
}

function addToSum(sums: Map<string, Sum>, key: string, value: number, weight: number): void {
  const sum = sums.get(key);
  if (sum) {
    sum.weight += weight;
    sum.sum += value * weight;
    sum.min = Math.min(sum.min, value);
    sum.max = Math.max(sum.max, value);
  } else {
    sums.set(key, { weight, sum: value * weight, min: value, max: value });
  }
}

function chunks<T>(rows: readonly T[]): T[][] {
  const parts: T[][] = [];
  for (let start = 0; start < rows.length; start += rowsPerStatement) {
    parts.push(rows.slice(start, start + rowsPerStatement));
  }
  return parts;
}

function sha(text: string): string {
  return createHash("sha256").update(text).digest("base64url");
}
