import { type Kysely, sql } from "kysely";
import type { HistoryPart, HistoryQuery, HistoryRows } from "./store.ts";
import type { Database } from "./tables.ts";

/** Bucket widths of raw samples that read well on a time axis, s. */
const rawBuckets = [1, 2, 5, 10, 15, 30];

/** Where a query's buckets come from, and how wide they are. */
export function chooseBucket(query: HistoryQuery): { bucketS: number; width: 0 | 60 | 3600 } {
  const wanted = (query.to - query.from) / Math.max(1, query.points);
  if (wanted <= 30 && query.from >= query.rawFrom) {
    return { bucketS: rawBuckets.find((bucket) => bucket >= wanted) ?? 30, width: 0 };
  }
  if (wanted <= 1800 && query.from >= query.minutesFrom) {
    return { bucketS: Math.max(1, Math.ceil(wanted / 60)) * 60, width: 60 };
  }
  return { bucketS: Math.max(1, Math.ceil(wanted / 3600)) * 3600, width: 3600 };
}

interface BucketRow {
  t: number;
  min: number;
  mean: number;
  max: number;
}

/** Min, mean and max per bucket of each series, and the silences. */
export async function readHistory(db: Kysely<Database>, query: HistoryQuery): Promise<HistoryRows> {
  const { bucketS, width } = chooseBucket(query);
  const series: HistoryRows["series"] = new Map();
  for (const { name, parts } of query.series) {
    const rows: BucketRow[] = [];
    for (const part of parts) rows.push(...(await readPart(db, name, part, bucketS, width)));
    if (rows.length === 0) continue;
    const merged = mergeBuckets(rows);
    series.set(name, {
      t: merged.map((row) => row.t),
      min: merged.map((row) => row.min),
      mean: merged.map((row) => row.mean),
      max: merged.map((row) => row.max),
    });
  }
  return { bucketS, series, gaps: await readGaps(db, query, width) };
}

async function readPart(
  db: Kysely<Database>,
  name: string,
  part: HistoryPart,
  bucketS: number,
  width: 0 | 60 | 3600,
): Promise<BucketRow[]> {
  const found = await db
    .selectFrom("series")
    .select("id")
    .where("owner", "=", part.owner)
    .where("name", "=", name)
    .executeTakeFirst();
  if (!found) return [];
  // Unix seconds times 1: a real column divided by an integer stays real, the cast cuts it off.
  if (width === 0) {
    const result = await sql<BucketRow>`
      SELECT CAST(t / ${bucketS} AS INTEGER) * ${bucketS} AS t,
        min(value) AS min, avg(value) AS mean, max(value) AS max
      FROM samples WHERE series_id = ${found.id} AND t >= ${part.from} AND t < ${part.to}
      GROUP BY 1 ORDER BY 1`.execute(db);
    return result.rows;
  }
  const result = await sql<BucketRow>`
    SELECT t / CAST(${bucketS} AS INTEGER) * CAST(${bucketS} AS INTEGER) AS t,
      min(min) AS min, sum(sum) / sum(weight) AS mean, max(max) AS max
    FROM rollups WHERE series_id = ${found.id} AND width = ${width}
      AND t >= ${Math.floor(part.from / width) * width} AND t < ${part.to}
    GROUP BY 1 ORDER BY 1`.execute(db);
  return result.rows;
}

/** Two bindings may meet inside one bucket. */
function mergeBuckets(rows: BucketRow[]): BucketRow[] {
  rows.sort((a, b) => a.t - b.t);
  const merged: BucketRow[] = [];
  for (const row of rows) {
    const last = merged.at(-1);
    if (last && last.t === row.t) {
      last.min = Math.min(last.min, row.min);
      last.max = Math.max(last.max, row.max);
      last.mean = (last.mean + row.mean) / 2;
    } else merged.push({ ...row });
  }
  return merged;
}

async function readGaps(
  db: Kysely<Database>,
  query: HistoryQuery,
  width: 0 | 60 | 3600,
): Promise<HistoryRows["gaps"]> {
  const silenceS = Math.max(query.presence.silenceS, 2 * width);
  const gaps: HistoryRows["gaps"] = [];
  let lastT = query.from;
  for (const part of [...query.presence.parts].sort((a, b) => a.from - b.from)) {
    const ids = await db
      .selectFrom("series")
      .select("id")
      .where("owner", "=", part.owner)
      .execute();
    if (ids.length === 0) continue;
    const list = sql.join(ids.map(({ id }) => id));
    const source =
      width === 0
        ? sql`SELECT DISTINCT t FROM samples WHERE series_id IN (${list}) AND t >= ${part.from} AND t < ${part.to}`
        : sql`SELECT DISTINCT t FROM rollups WHERE series_id IN (${list}) AND width = ${width} AND t >= ${part.from} AND t < ${part.to}`;
    const result = await sql<{ before: number | null; t: number; last: number }>`
      SELECT before, t, last FROM (
        SELECT t, lag(t) OVER (ORDER BY t) AS before, max(t) OVER () AS last FROM (${source}))
      WHERE before IS NULL OR t - before > ${silenceS} ORDER BY t`.execute(db);
    for (const row of result.rows) {
      const from = row.before === null ? lastT : row.before + width;
      if (row.t - from > silenceS) gaps.push({ from, to: row.t });
    }
    const last = result.rows[0]?.last;
    if (last !== undefined) lastT = Math.max(lastT, last + width);
  }
  if (query.to - lastT > silenceS) gaps.push({ from: lastT, to: query.to });
  return gaps;
}
