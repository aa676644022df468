import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { withGaps } from "../../../gateway/live/history.ts";
import { chooseBucket } from "../../../gateway/store/read-history.ts";
import type { GatewayStore } from "../../../gateway/store/store.ts";
import { openStore, t0, temporaryFolder } from "../support.ts";

const owner = "node:north/n-07";
const name = "line-pressure";

function ask(
  store: GatewayStore,
  span: { from: number; to: number; points: number; rawFrom?: number; minutesFrom?: number },
) {
  const { from, to } = span;
  return store.history({
    rawFrom: 0,
    minutesFrom: 0,
    ...span,
    series: [{ name, parts: [{ owner, from, to }] }],
    presence: { parts: [{ owner, from, to }], silenceS: 60 },
  });
}

describe("history", () => {
  it("chooses raw samples, minutes or hours by the width of a point", () => {
    const query = (spanS: number, points: number, rawFrom = 0) =>
      chooseBucket({
        from: t0,
        to: t0 + spanS,
        points,
        rawFrom,
        minutesFrom: 0,
        series: [],
        presence: { parts: [], silenceS: 60 },
      });
    expect(query(600, 600)).toEqual({ bucketS: 1, width: 0 });
    expect(query(3600, 600)).toEqual({ bucketS: 10, width: 0 });
    expect(query(86_400, 600)).toEqual({ bucketS: 180, width: 60 });
    expect(query(365 * 86_400, 600)).toEqual({ bucketS: 54_000, width: 3600 });
    // Raw samples are gone: minutes answer.
    expect(query(600, 600, t0 + 1)).toEqual({ bucketS: 60, width: 60 });
  });

  it("keeps the extremes at every width, in whatever order samples come (property)", async () => {
    const sample = fc.record({
      dt: fc.integer({ min: 0, max: 7199 }),
      value: fc.integer({ min: -1000, max: 1_000_000 }),
    });
    await fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(sample, { selector: (one) => one.dt, minLength: 1, maxLength: 60 }),
        fc.integer({ min: 1, max: 5 }),
        async (samples, parts) => {
          const store = await openStore(temporaryFolder());
          for (let part = 0; part < parts; part++) {
            const values = samples
              .filter((_, index) => index % parts === part)
              .map(({ dt, value }) => ({ owner, name, t: t0 + dt, value }));
            await store.write({ values });
            // A repeat changes nothing, not even where it claims another value.
            await store.write({ values: values.map((one) => ({ ...one, value: 5e6 })) });
          }
          const all = samples.map((one) => one.value);
          const total = all.reduce((sum, value) => sum + value, 0);
          for (const points of [1, 2, 120, 7200]) {
            const { series } = await ask(store, { from: t0, to: t0 + 7200, points });
            const columns = series.get(name)!;
            expect(Math.min(...columns.min)).toBe(Math.min(...all));
            expect(Math.max(...columns.max)).toBe(Math.max(...all));
            expect(columns.t).toEqual([...columns.t].sort((a, b) => a - b));
          }
          const hour = await ask(store, { from: t0, to: t0 + 7200, points: 1 });
          const column = hour.series.get(name)!;
          if (column.t.length === 1) expect(column.mean[0]).toBeCloseTo(total / all.length, 6);
          await store.close();
        },
      ),
      { numRuns: 8 },
    );
  });

  it("weighs rows by the seconds they stand for", async () => {
    const store = await openStore();
    await store.write({
      values: [
        { owner, name, t: t0, value: 0, weight: 15 },
        { owner, name, t: t0 + 15, value: 10, weight: 1 },
      ],
    });
    const { series } = await ask(store, { from: t0, to: t0 + 60 * 100, points: 100 });
    expect(series.get(name)?.mean[0]).toBeCloseTo(10 / 16, 12);
  });

  it("lists silences at the beginning, inside and at the end", async () => {
    const store = await openStore();
    const times = [300, 301, 302, 500, 501];
    await store.write({ values: times.map((dt) => ({ owner, name, t: t0 + dt, value: 1 })) });
    const raw = await ask(store, { from: t0, to: t0 + 900, points: 900 });
    expect(raw.gaps).toEqual([
      { from: t0, to: t0 + 300 },
      { from: t0 + 302, to: t0 + 500 },
      { from: t0 + 501, to: t0 + 900 },
    ]);
  });

  it("puts one null into each gap between two values", () => {
    const columns = {
      t: [0, 10, 200, 210],
      min: [1, 1, 1, 1],
      mean: [2, 2, 2, 2],
      max: [3, 3, 3, 3],
    };
    const gapped = withGaps(columns, { gaps: [{ from: 11, to: 199 }], bucketS: 10 });
    expect(gapped.t).toEqual([0, 10, 105, 200, 210]);
    expect(gapped.mean).toEqual([2, 2, null, 2, 2]);
    const open = withGaps(columns, { gaps: [{ from: 215, to: 900 }], bucketS: 10 });
    expect(open.t).toEqual([0, 10, 200, 210, 220]);
    expect(open.max.at(-1)).toBeNull();
  });

  it("deletes what is too old, and answers from the sums then", async () => {
    const store = await openStore();
    await store.write({
      values: [
        { owner, name, t: t0 - 30 * 86_400, value: 7 },
        { owner, name, t: t0, value: 9 },
      ],
    });
    const gone = await store.prune({ rawBefore: t0 - 86_400, minutesBefore: t0 - 40 * 86_400 });
    expect(gone).toBe(1);
    const old = await ask(store, {
      from: t0 - 31 * 86_400,
      to: t0 - 29 * 86_400,
      points: 100,
      rawFrom: t0 - 86_400,
      minutesFrom: t0 - 40 * 86_400,
    });
    expect(old.series.get(name)?.mean).toEqual([7]);
  });
});

describe("the store", () => {
  it("opens again with all it had, its layout migrated once", async () => {
    const folder = temporaryFolder();
    const first = await openStore(folder);
    await first.saveFact("a", "b");
    await first.close();
    const second = await openStore(folder);
    expect(await second.fact("a")).toBe("b");
    expect(await second.fact("c")).toBeNull();
  });

  it("undoes a batch that fails, whole", async () => {
    const store = await openStore();
    const record = {
      site: "north",
      kind: "station" as const,
      name: "bay-3",
      version: 1,
      validFrom: t0,
      document: { schema: 1 as const, station: "bay-3", site: "north" },
    };
    await store.write({ descriptions: [{ record, binding: null }] });
    const again = store.write({
      values: [{ owner, name, t: t0, value: 1 }],
      // The same version twice cannot be.
      descriptions: [{ record, binding: null }],
      facts: [{ key: "late", value: "x" }],
    });
    await expect(again).rejects.toThrow(/UNIQUE/);
    expect(await store.fact("late")).toBeNull();
    const { series } = await ask(store, { from: t0, to: t0 + 60, points: 60 });
    expect(series.size).toBe(0);
    // Ids of series that the undone batch had given out are not used again by mistake.
    await store.write({ values: [{ owner, name, t: t0, value: 2 }] });
    expect(
      (await ask(store, { from: t0, to: t0 + 60, points: 60 })).series.get(name)?.mean,
    ).toEqual([2]);
  });

  it("gives the log's ids in the order of the entries", async () => {
    const store = await openStore();
    const entry = (index: number) => ({
      received: t0 + index,
      kind: "samples" as const,
      site: "north",
      node: "n-07",
      station: null,
      payload: String(index),
      flag: null,
      pack: null,
    });
    const { logIds } = await store.write({ log: Array.from({ length: 1000 }, (_, i) => entry(i)) });
    const log = await store.readLog({ afterId: 0, of: null, limit: 2000 });
    expect(log.map((one) => one.id)).toEqual(logIds);
    expect(log.map((one) => Number(one.payload))).toEqual(
      Array.from({ length: 1000 }, (_, i) => i),
    );
  });
});
