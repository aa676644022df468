import { expect, test } from "vitest";
import { jobParts, ledgerRows, periodsOf } from "../../../gateway/ledger/ledger.ts";
import type { SeriesValue } from "../../../gateway/store/store.ts";
import { exampleStation, openStore, t0 } from "../support.ts";

const job = (from: number, to: number | null) => ({
  ...{ from, to, job: "keel 7", welder: null, wps: null, gasless: false },
});

test("a span is cut at local midnights, and at its jobs", () => {
  const days = periodsOf({ from: t0, to: t0 + 2 * 86_400 }, "day", "Europe/Copenhagen");
  // t0 is 09:00 in Copenhagen: 15 h, 24 h, 9 h.
  expect(days.map(({ from, to }) => (to - from) / 3600)).toEqual([15, 24, 9]);
  const parts = jobParts({ from: 0, to: 100 }, [job(-10, 20), job(40, null)]);
  expect(parts.map(({ from, to, job: one }) => [from, to, one?.job ?? null])).toEqual([
    [0, 20, "keel 7"],
    [20, 40, null],
    [40, 100, "keel 7"],
  ]);
});

test("use and cost by the station's own price; time without data is no use", async () => {
  const store = await openStore();
  const owner = "station:north.bay-3";
  const values: SeriesValue[] = [];
  const put = (t: number, lpm: number) => {
    for (const name of ["flow", "flow-low", "flow-high"])
      values.push({ owner, name, t, value: lpm });
    if (lpm === 0) values.push({ owner, name: "leak", t, value: 0.1 });
  };
  for (let s = 0; s < 600; s++)
    if (s >= 60 && s < 120) put(t0 + s, 10);
    else if (s % 15 === 0) put(t0 + s, 0);
  await store.write({ values });
  const base = exampleStation();
  const document = { ...base, cylinder: { ...base.cylinder!, pricePerFill: 100 } };
  const station = { id: "north.bay-3", site: "north", station: "bay-3", version: 1, document };
  const kept = { zone: "UTC", rawFrom: 0, minutesFrom: 0 };
  const [row] = await ledgerRows(store, station, { from: t0, to: t0 + 1200 }, "day", kept);
  expect(row).toMatchObject({ starts: 1, gasOnS: 60, verdict: "cannot-tell" });
  expect(row?.litres.mean).toBeCloseTo(10, 6);
  // 50 L of argon at 200 bar gauge hold about 11.2 m³ (20 °C): 10 L are about 0.089 of a fill of 100.
  expect(row?.cost).toBeGreaterThan(0.085);
  expect(row?.cost).toBeLessThan(0.1);
  expect(row?.noDataS).toBeCloseTo(600 - 15 - 1, -1);
  expect(row?.leakLitres).toBeCloseTo(0.1 * ((1200 - 60 - (row?.noDataS ?? 0)) / 60), 6);
});
