import { describe, expect, test } from "vitest";
import { lookBack } from "../../../gateway/live/look-back.ts";
import type { NewJournalEntry, SeriesValue } from "../../../gateway/store/store.ts";
import { exampleStation, openStore, t0 } from "../support.ts";

const owner = "station:north.bay-3";
const station = {
  id: "north.bay-3",
  site: "north",
  station: "bay-3",
  version: 1,
  document: exampleStation({ name: "Bay 3" }),
};

function line(t: number, lpm: number, half = 0.2): SeriesValue[] {
  return [
    { owner, name: "flow", t, value: lpm },
    { owner, name: "flow-low", t, value: Math.max(0, lpm - half) },
    { owner, name: "flow-high", t, value: lpm === 0 ? 0 : lpm + half },
  ];
}

function entry(t: number, kind: string, detail: Record<string, unknown> = {}): NewJournalEntry {
  return { t, recorded: t, site: "north", station: "bay-3", node: null, kind, detail };
}

const window = (minimumLpm: number) => ({ minimumLpm, targetLpm: 8, maximumLpm: 12 });

/** Five minutes: off, a weld at 7 L/min from 60 to 120 s, off. */
async function openPast(journal: NewJournalEntry[]) {
  const store = await openStore();
  const values: SeriesValue[] = [];
  for (let s = 0; s < 300; s++) {
    const flowing = s >= 60 && s < 120;
    if (flowing) values.push(...line(t0 + s, 7));
    else if (s % 15 === 0) values.push(...line(t0 + s, 0));
  }
  await store.write({ values, journal });
  return store;
}

/** What the rack keeps of a change at the station. */
async function hang(
  store: Awaited<ReturnType<typeof openPast>>,
  t: number,
  kind: "fitted" | "undone",
) {
  const what = { cylinder: "c-1", serial: "BY-7", lot: "L-9", station: station.id };
  await store.rack.write("north", [], [{ t, kind, ...what, by: null, before: null }]);
}

const span = { from: t0, to: t0 + 300 };

describe("looking back", () => {
  test("judges by the window that held then, not by today's", async () => {
    const low = await openPast([
      entry(t0 - 900, "demand", window(6)),
      entry(t0 + 400, "demand", window(9)),
    ]);
    const enough = await lookBack(low, station, span, t0 - 86_400);
    expect(enough.record.verdict).toBe("not-short");
    expect(enough.windows).toEqual([{ t: t0 - 900, ...window(6) }]);
    const high = await openPast([
      entry(t0 - 900, "demand", window(6)),
      entry(t0 - 600, "demand", window(9)),
    ]);
    expect((await lookBack(high, station, span, 0)).record).toMatchObject({
      verdict: "short",
      shortS: 57,
    });
  });

  test("without a window on record nothing is called enough", async () => {
    const store = await openPast([]);
    expect((await lookBack(store, station, span, 0)).record.verdict).toBe("no-window");
  });

  test("an arc that burned while gas was off is short", async () => {
    const store = await openPast([
      entry(t0 - 900, "demand", window(6)),
      entry(t0 + 200, "arc-on"),
      entry(t0 + 220, "arc-off"),
    ]);
    expect((await lookBack(store, station, span, 0)).record).toMatchObject({
      verdict: "short",
      arcWithoutGasS: 20,
    });
  });

  test("a reading that was told keeps the unit that was printed on the device then", async () => {
    const store = await openPast([entry(t0 + 100, "person-reading", { reading: 18 })]);
    const { flowDevice } = exampleStation();
    const described = (validFrom: number, readingUnit: "L/min" | "CFH", version: number) => ({
      binding: null,
      record: {
        ...{ kind: "station" as const, site: "north", name: "bay-3", validFrom, version },
        document: exampleStation({ flowDevice: { ...flowDevice, readingUnit } }),
      },
    });
    await store.write({
      descriptions: [described(t0 - 900, "CFH", 1), described(t0 + 200, "L/min", 2)],
    });
    const { events } = await lookBack(store, station, span, 0);
    expect(events).toMatchObject([{ detail: { reading: 18, unit: "CFH" } }]);
  });

  test("what is not in the store is a gap, before the first line and after the last", async () => {
    const store = await openPast([entry(t0 - 900, "demand", window(6))]);
    const { record } = await lookBack(store, station, { from: t0 - 100, to: t0 + 900 }, 0);
    expect(record.verdict).toBe("cannot-tell");
    expect(record.stretches.map(({ kind, from, to }) => [kind, from, to])).toEqual([
      ["no-data", t0 - 100, t0],
      ["no-data", t0 + 285 + 31, t0 + 900],
    ]);
  });

  test("the lot told last, events in order, alarms and jobs that reach in", async () => {
    const store = await openPast([
      entry(t0 - 5000, "person-swap", { swap: { lot: "A-1" } }),
      entry(t0 - 900, "person-job", { job: { job: "keel 7" } }),
      entry(t0 - 100, "person-swap", { swap: { lot: "B-2" } }),
      entry(t0 + 60, "gas-on"),
      entry(t0 + 70, "re-dial", { ratio: 1.1 }),
      entry(t0 + 150, "swap", { litres: 9000 }),
    ]);
    await store.alarms.write({
      occurrences: [
        {
          id: "north.bay-3~leak~a",
          site: "north",
          station: "bay-3",
          condition: "leak",
          priority: "medium",
          since: t0 - 500,
          raised: t0 - 480,
          cleared: t0 + 30,
          state: "normal",
          acknowledged: t0,
          acknowledgedBy: "Ada",
          note: null,
          suppressedBy: null,
          late: false,
          rang: null,
          title: "Gas is leaking",
          advice: "",
          said: { title: [{ say: "leaking" }], advice: [] },
        },
      ],
      shelves: [],
      removedShelves: [],
      journal: [],
      progress: new Map(),
      messages: [],
    });
    const report = await lookBack(store, station, span, 0);
    expect(report.cylinder).toMatchObject({ lot: "B-2", since: t0 - 100 });
    expect(report.events.map(({ kind }) => kind)).toEqual(["gas-on", "re-dial", "swap"]);
    expect(report.alarms).toMatchObject([
      {
        condition: "leak",
        acknowledgedBy: "Ada",
        said: { title: [{ say: "leaking" }] },
      },
    ]);
    expect(report.jobs).toMatchObject([{ job: "keel 7", to: null }]);
    const later = await lookBack(store, station, { from: t0 + 100, to: t0 + 200 }, 0);
    expect(later.alarms).toEqual([]);
  });

  test("a change seen but not told leaves the lot unknown", async () => {
    const store = await openPast([
      entry(t0 - 5000, "person-swap", { swap: { lot: "A-1" } }),
      entry(t0 - 100, "swap", { litres: 9000 }),
    ]);
    expect((await lookBack(store, station, span, 0)).cylinder.lot).toBeNull();
  });

  test("names the cylinder that the rack knows, until a change that nobody told", async () => {
    const store = await openPast([]);
    await hang(store, t0 - 5000, "fitted");
    expect((await lookBack(store, station, span, 0)).cylinder).toMatchObject({
      serial: "BY-7",
      lot: "L-9",
      since: t0 - 5000,
    });
    await store.write({ journal: [entry(t0 - 100, "swap", { litres: 9000 })] });
    expect((await lookBack(store, station, span, 0)).cylinder).toMatchObject({
      serial: null,
      lot: null,
      since: t0 - 100,
    });
  });

  test("a change that was taken back names no cylinder", async () => {
    const store = await openPast([]);
    await hang(store, t0 - 5000, "fitted");
    await hang(store, t0 - 4900, "undone");
    expect((await lookBack(store, station, span, 0)).cylinder.serial).toBeNull();
  });

  test("a cylinder fitted after the time asked for is not named", async () => {
    const store = await openPast([]);
    await hang(store, t0 + 200, "fitted");
    expect((await lookBack(store, station, span, 0)).cylinder.serial).toBeNull();
  });
});
