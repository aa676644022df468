import { describe, expect, test } from "vitest";
import { findChattering, findFloods, measureAlarms } from "../../../gateway/alarms/measures.ts";
import { t0 } from "../support.ts";

const raised = (t: number, condition = "over-flow", station = "slip-1") => ({
  t,
  site: "boatyard",
  station,
  condition,
  priority: "low" as const,
});

/** Figures of ISA-18.2 as commonly quoted, from memory: over 10 and under 5 in ten minutes, 3 in a minute, 24 h, 1 in ten minutes. */
describe("measures after ISA-18.2", () => {
  test("a flood starts over ten alarms in ten minutes and ends under five", () => {
    const burst = Array.from({ length: 12 }, (_, i) => t0 + i * 20);
    const tail = [t0 + 700, t0 + 4000];
    expect(findFloods([...burst, ...tail])).toEqual([{ from: t0, to: t0 + 700, alarms: 13 }]);
    expect(findFloods(burst.slice(0, 10))).toEqual([]);
    expect(findFloods([])).toEqual([]);
  });
  test("chattering is three times within a minute", () => {
    const often = [0, 20, 40, 900].map((t) => raised(t0 + t));
    const seldom = [0, 40, 80].map((t) => raised(t0 + t, "leak"));
    expect(findChattering([...often, ...seldom].sort((a, b) => a.t - b.t))).toEqual([
      { station: "boatyard.slip-1", condition: "over-flow", times: 4 },
    ]);
  });
  test("rates, shares, stale and the benchmarks", () => {
    const list = Array.from({ length: 144 }, (_, i) => raised(t0 + i * 600));
    const standing = [
      { site: "boatyard", station: "slip-1", condition: "leak", raised: t0 - 10, cleared: null },
      {
        site: "boatyard",
        station: "slip-2",
        condition: "leak",
        raised: t0 + 80_000,
        cleared: null,
      },
      { site: "boatyard", station: "slip-3", condition: "leak", raised: t0 - 10, cleared: t0 },
    ];
    const measured = measureAlarms(list, standing, { from: t0, to: t0 + 86_400 });
    expect(measured).toMatchObject({
      raised: 144,
      perDay: 144,
      perTenMinutes: { mean: 1, most: 1, overTenShare: 0 },
      standing: 2,
      priorityShare: { high: 0, medium: 0, low: 1 },
    });
    expect(measured.stale.map((one) => one.station)).toEqual(["boatyard.slip-1"]);
    expect(measured.topTen[0]).toMatchObject({ times: 144, share: 1 });
    expect(measured.benchmarks.every((benchmark) => benchmark.met)).toBe(true);
    // No figure pretends to be read in the standard.
    for (const { source } of measured.benchmarks)
      expect(source).toMatch(/from memory|trade summaries/);
  });
  test("a quiet week measures without a division by nothing", () => {
    const measured = measureAlarms([], [], { from: t0, to: t0 + 7 * 86_400 });
    expect(JSON.stringify(measured)).not.toMatch(/null|NaN/);
  });
});
