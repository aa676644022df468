import { expect, test } from "vitest";
import { createMixture } from "../../../shared-core/gases/mixture.ts";

/**
 * The density solve makes no objects. Numbers that pass between functions may be boxed by the
 * engine, 16 bytes each, some ten a solve; an array or object a step would be far more.
 */
test("a density solve allocates nothing but boxed numbers", () => {
  const mixture = createMixture({ Ar: 0.75, CO2: 0.25 });
  const solve = (count: number): number => {
    let density = 0;
    for (let k = 0; k < count; k++) {
      density = mixture.densityOrNaN(10e6 + 5e6 * Math.sin(k), 290 + 10 * Math.cos(k), density);
    }
    return density;
  };
  solve(20_000);
  const SOLVES = 5000;
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 20; round++) {
    const before = process.memoryUsage().heapUsed;
    expect(solve(SOLVES)).toBeGreaterThan(0);
    const grown = process.memoryUsage().heapUsed - before;
    if (grown >= 0) {
      least = Math.min(least, grown / SOLVES);
    }
  }
  expect(least).toBeLessThan(256);
});
