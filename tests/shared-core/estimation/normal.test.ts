import { millsRatio, normalCdf } from "@leeward/shared-core/estimation/normal.ts";
import { describe, expect, test } from "vitest";

describe("the normal distribution", () => {
  // Abramowitz & Stegun, table 26.1.
  test.each([
    [0, 0.5],
    [1, 0.8413447],
    [1.96, 0.9750021],
    [-2, 0.0227501],
  ])("at %d is %d", (x, p) => {
    expect(normalCdf(x)).toBeCloseTo(p, 6);
  });

  // Chances above x: Abramowitz & Stegun, table 26.2, from memory.
  test.each([
    [5, 2.866516e-7],
    [8, 6.220961e-16],
  ])("far out, at %d, the chance above keeps its figures: %d", (x, above) => {
    const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
    expect((millsRatio(x) * density) / above).toBeCloseTo(1, 5);
  });
});
