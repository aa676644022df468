import { describe, expect, it } from "vitest";
import { ownRhythms, simulateTwoDrops, type TwoDropLine } from "../../accuracy/two-drops.ts";

const flowing = (lines: readonly TwoDropLine[], station: string) =>
  lines.filter(
    (line) =>
      line.station === station &&
      line.torchOpen &&
      line.trueLpm > 5 &&
      line.estimate.mode === "flowing" &&
      line.estimate.flow.lpm !== null,
  );

const held = (lines: readonly TwoDropLine[]) =>
  lines.filter(
    ({ estimate, trueLpm }) => estimate.flow.low! <= trueLpm && trueLpm <= estimate.flow.high!,
  ).length / lines.length;

const relativeWidth = (lines: readonly TwoDropLine[]) =>
  lines.reduce((sum, { estimate: { flow } }) => sum + (flow.high! - flow.low!) / flow.lpm!, 0) /
  lines.length;

describe("two drops on one cylinder", () => {
  it("that weld at their own times, alone and together, are told apart", () => {
    for (const seed of [1, 2, 3]) {
      const lines = simulateTwoDrops({ hours: 1.5, every: 5, open: ownRhythms(seed) }, seed);
      for (const station of ["bay-3", "bay-4"]) {
        const on = flowing(lines, station);
        expect(on.length).toBeGreaterThan(250);
        expect(held(on)).toBeGreaterThan(0.93);
        const late = on.slice(on.length >> 1);
        expect(relativeWidth(late)).toBeLessThan(0.15);
        const error =
          late.reduce((sum, line) => sum + line.estimate.flow.lpm! / line.trueLpm - 1, 0) /
          late.length;
        expect(Math.abs(error)).toBeLessThan(0.05);
        const alarms = new Set(
          on.flatMap(({ estimate }) => estimate.alarms.map((a) => a.condition)),
        );
        expect([...alarms]).not.toContain("under-shielding");
      }
    }
  });

  it("that always weld together stay wide, and say why", () => {
    let inside = 0;
    let count = 0;
    for (const seed of [1, 2, 3, 4]) {
      const lines = simulateTwoDrops(
        {
          hours: 1.5,
          every: 5,
          open: (t) => {
            const on = t > 300 && t % 200 < 80;
            return [on, on];
          },
        },
        seed,
      );
      for (const station of ["bay-3", "bay-4"]) {
        const on = flowing(lines, station);
        inside += held(on) * on.length;
        count += on.length;
        const late = on.slice(on.length >> 1);
        expect(relativeWidth(late)).toBeGreaterThan(0.3);
        expect(late.every(({ estimate }) => estimate.flow.why?.includes("same times"))).toBe(true);
        const alarms = new Set(
          on.flatMap(({ estimate }) => estimate.alarms.map((a) => a.condition)),
        );
        expect([...alarms]).not.toContain("under-shielding");
      }
    }
    expect(inside / count).toBeGreaterThan(0.93);
  });
});
