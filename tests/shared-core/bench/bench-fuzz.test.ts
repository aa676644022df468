import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { tubeStation } from "./plant-bench.ts";

const head = "cylinder_bar,line_bar,indicated,true_lpm,true_u_percent,action";
const station = tubeStation();
const devices = [
  station,
  tubeStation({ flowDevice: { ...station.flowDevice, valve: "before-tube", scaleBar: 0 } }),
  tubeStation({
    flowDevice: {
      kind: "orifice-gauge",
      scaleGas: { Ar: 1 },
      orificeMm: 0.6,
      readingUnit: "L/min",
    },
  }),
  tubeStation({ flowDevice: { kind: "metered", readingUnit: "L/min" } }),
];

/** Every number anywhere in a value. */
function numbers(value: unknown): number[] {
  if (typeof value === "number") return [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(numbers) : [];
}

describe("whatever is written into the rows", () => {
  it("reading them never throws", () => {
    const text = fc.oneof(
      fc.string({ maxLength: 200 }),
      fc.array(fc.string({ maxLength: 30 }), { maxLength: 8 }).map((l) => [head, ...l].join("\n")),
    );
    fc.assert(
      fc.property(text, (csv) => {
        const answer = parseBenchCsv(csv, { Ar: 1 });
        expect(answer.ok || answer.faults.length > 0).toBe(true);
      }),
      { numRuns: 300 },
    );
  });

  it("a true flow without any sense to its reading keeps every figure finite", () => {
    for (const device of devices) {
      const test = parseBenchCsv([head, "4,0,0.1,5.054838997200501,,set"].join("\n"), { Ar: 1 });
      const answer = test.ok ? fitDevice(device, test.value) : null;
      if (answer?.ok) expect(numbers(answer.value).filter((x) => !Number.isFinite(x))).toEqual([]);
    }
  });

  it("fitting them never throws, gives no NaN, and orders every interval", () => {
    const cell = (low: number, high: number) =>
      fc.option(fc.double({ min: low, max: high, noNaN: true }), { freq: 5, nil: undefined });
    const row = fc
      .tuple(
        fc.double({ min: 4, max: 320, noNaN: true }),
        cell(0, 12),
        cell(0.1, 40),
        cell(0.1, 40),
        cell(0.1, 10),
        fc.constantFrom("set", "left", "redialled"),
      )
      .map((cells) => cells.map((one) => one ?? "").join(","));
    fc.assert(
      fc.property(
        fc.array(row, { minLength: 1, maxLength: 5 }),
        fc.constantFrom(...devices),
        (rows, device) => {
          const test = parseBenchCsv([head, ...rows].join("\n"), { Ar: 1 });
          if (!test.ok) return;
          const answer = fitDevice(device, test.value);
          if (!answer.ok) {
            expect(answer.why.length).toBeGreaterThan(10);
            return;
          }
          expect(numbers(answer.value).every(Number.isFinite)).toBe(true);
          for (const one of answer.value.parameters) {
            expect(one.low).toBeLessThanOrEqual(one.value);
            expect(one.value).toBeLessThanOrEqual(one.high);
          }
          for (const entry of answer.value.card) {
            if (entry.dialTo === null) expect(entry.why).toBeTruthy();
            else expect(entry.low).toBeLessThan(entry.high!);
          }
        },
      ),
      { numRuns: 10 },
    );
  }, 180_000);
});
