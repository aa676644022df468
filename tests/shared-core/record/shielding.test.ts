import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type FlowSample,
  type ShieldingInput,
  shieldingRecord,
} from "../../../shared-core/record/shielding.ts";

const t0 = 1_764_057_600;
const window = { t: t0 - 3600, minimumLpm: 6, targetLpm: 8, maximumLpm: 10 };

/** Off every 15 s from `from` up to `to`, as history keeps it. */
function off(from: number, to: number): FlowSample[] {
  const samples: FlowSample[] = [];
  for (let t = Math.ceil((t0 + from) / 15) * 15; t < t0 + to; t += 15) {
    samples.push({ t, lpm: 0, low: 0, high: 0 });
  }
  return samples;
}

/** Gas on, a sample a second, `from` up to `to`. */
function on(from: number, to: number, lpm: number, half = 0.3): FlowSample[] {
  return Array.from({ length: to - from }, (_, i) => ({
    t: t0 + from + i,
    lpm,
    low: lpm - half,
    high: lpm + half,
  }));
}

function judge(samples: FlowSample[], change: Partial<ShieldingInput> = {}) {
  return shieldingRecord({ from: t0, to: t0 + 600, samples, windows: [window], ...change });
}

const weld = (lpm: number, half = 0.3) => [
  ...off(0, 100),
  ...on(100, 160, lpm, half),
  { t: t0 + 160, lpm: 0, low: 0, high: 0 },
  ...off(161, 600),
];

describe("was the gas flow short?", () => {
  test("enough throughout: not short, with its interval", () => {
    const record = judge(weld(8));
    expect(record.verdict).toBe("not-short");
    expect(record.gasOnS).toBe(60);
    expect(record.enoughS + record.edgeS).toBe(60);
    // 60 s of 8 L/min are 8 L; half-widths of 0.3 L/min are 0.3 L.
    expect(record.litres).toEqual({
      mean: expect.closeTo(8, 9),
      low: expect.closeTo(7.7, 9),
      high: expect.closeTo(8.3, 9),
    });
    expect(record.mean).toEqual({
      lpm: expect.closeTo(8, 9),
      low: expect.closeTo(7.7, 9),
      high: expect.closeTo(8.3, 9),
    });
    expect(record.stretches).toEqual([]);
  });

  test("below with confidence: short, when and how long", () => {
    const record = judge(weld(5));
    expect(record.verdict).toBe("short");
    // 60 s less the first two and the last.
    expect(record.shortS).toBe(57);
    expect(record.stretches).toEqual([{ kind: "short", from: t0 + 102, to: t0 + 159 }]);
    expect(record.lowest).toMatchObject({ lpm: 5, minimumLpm: 6 });
    expect(record.spells).toMatchObject([{ from: t0 + 100, to: t0 + 160, shortS: 57 }]);
  });

  test("an interval that reaches below the minimum proves neither", () => {
    expect(judge(weld(6.2)).verdict).toBe("cannot-tell");
    expect(judge(weld(5.8)).verdict).toBe("cannot-tell");
    expect(judge(weld(5.8)).doubtS).toBe(57);
  });

  test("a gap is never good: neither in a spell nor between spells", () => {
    const holed = weld(8).filter(({ t }) => t < t0 + 120 || t >= t0 + 130);
    const record = judge(holed);
    expect(record.verdict).toBe("cannot-tell");
    expect(record.stretches).toEqual([{ kind: "no-data", from: t0 + 121.5, to: t0 + 130 }]);
    const silent = weld(8).filter(({ t }) => t < t0 + 300);
    expect(judge(silent)).toMatchObject({ verdict: "cannot-tell", enoughS: 57 });
    expect(judge([]).noDataS).toBe(600);
    expect(judge([]).verdict).toBe("cannot-tell");
  });

  test("a gap does not hide a lack that was seen", () => {
    expect(judge(weld(5).filter(({ t }) => t < t0 + 300)).verdict).toBe("short");
  });

  test("one second below is noise, but no proof of enough", () => {
    const samples = weld(8).map((one) =>
      one.t === t0 + 130 ? { ...one, lpm: 4, low: 3.7, high: 4.3 } : one,
    );
    expect(judge(samples).verdict).toBe("cannot-tell");
    expect(judge(samples).shortS).toBe(1);
  });

  test("an arc without gas is short, whatever the flow was otherwise", () => {
    const arcs = [{ from: t0 + 98, to: t0 + 150 }];
    expect(judge(weld(8), { arcs })).toMatchObject({ verdict: "short", arcWithoutGasS: 2 });
    expect(judge(weld(8), { arcs: [{ from: t0 + 101, to: t0 + 150 }] }).verdict).toBe("not-short");
  });

  test("gas that may have flowed unseen is no data", () => {
    const samples = weld(8).map((one) => (one.t === t0 + 15 ? { ...one, high: 4 } : one));
    expect(judge(samples)).toMatchObject({ verdict: "cannot-tell", noDataS: 15 });
  });

  test("too much is told, and is not short", () => {
    expect(judge(weld(11))).toMatchObject({ verdict: "not-short", overS: 57 });
  });

  test("a window that changes amid a spell cuts it", () => {
    const windows = [window, { t: t0 + 120, minimumLpm: 12, targetLpm: 14, maximumLpm: 16 }];
    const record = judge(weld(8), { windows });
    expect(record.stretches).toEqual([{ kind: "short", from: t0 + 120, to: t0 + 159 }]);
  });

  test("without a window or without gas there is nothing to judge", () => {
    expect(judge(weld(8), { windows: [] }).verdict).toBe("no-window");
    expect(judge(off(0, 600)).verdict).toBe("no-gas");
  });

  test("any samples: the seconds add up, and a good verdict leaves no second unaccounted for", () => {
    const sample = fc.record({
      t: fc.integer({ min: -30, max: 630 }).map((t) => t0 + t),
      lpm: fc.oneof(fc.constant(0), fc.double({ min: 0, max: 20, noNaN: true })),
      half: fc.double({ min: 0, max: 3, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.uniqueArray(sample, { selector: ({ t }) => t, maxLength: 300 }), (list) => {
        const samples = list
          .sort((a, b) => a.t - b.t)
          .map(({ t, lpm, half }) => ({ t, lpm, low: Math.max(0, lpm - half), high: lpm + half }));
        const record = judge(samples);
        const { enoughS, shortS, doubtS, edgeS, noWindowS, gasOnS, noDataS } = record;
        expect(enoughS + shortS + doubtS + edgeS + noWindowS).toBeCloseTo(gasOnS, 6);
        expect(gasOnS + noDataS).toBeLessThanOrEqual(600 + 1e-6);
        if (record.verdict === "not-short") {
          expect(noDataS + doubtS + shortS).toBe(0);
          expect(enoughS).toBeGreaterThan(0);
        }
      }),
      { numRuns: 300 },
    );
  });
});
