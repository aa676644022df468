import { createReadingGrid, takeOnGrid } from "@leeward/shared-core/estimation/reading-grid.ts";
import { describe, expect, it } from "vitest";

/** Variance of a mean of readings that each have `noise` and what the grid adds, Pa². */
function meanVariance(readings: readonly number[], noise: number): number {
  const grid = createReadingGrid();
  let weight = 0;
  for (const pa of readings) weight += 1 / (noise + takeOnGrid(grid, pa));
  return 1 / weight;
}

describe("a pressure told in whole steps", () => {
  const STEP_PA = 7600;

  it("knows no more from many equal readings than about one step's rounding", () => {
    const stands = [12e6, 12e6 + STEP_PA, ...new Array(240).fill(12e6)];
    // step/√12: uniform error of a rounding (JCGM 100:2008, 4.3.7)
    const rounding = STEP_PA ** 2 / 12;
    const found = meanVariance(stands, 1500 ** 2);
    expect(found).toBeGreaterThan(0.1 * rounding);
    expect(found).toBeLessThan(rounding + 1500 ** 2);
  });

  it("averages where noise carries it over the steps, as a fine one does", () => {
    const dithered = Array.from({ length: 200 }, (_, k) => 12e6 + (k % 2) * STEP_PA);
    expect(meanVariance(dithered, 4000 ** 2)).toBeCloseTo(4000 ** 2 / 200, 0);
    const fine = Array.from({ length: 200 }, (_, k) => 12e6 + (k % 3) * 10);
    expect(meanVariance(fine, 2000 ** 2)).toBeCloseTo(2000 ** 2 / 200, 0);
  });
});
