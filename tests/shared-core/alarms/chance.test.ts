import {
  chanceBelow,
  surelyAbove,
  surelyBelow,
  z80,
  z90,
  z95,
  z99,
} from "@leeward/shared-core/alarms/chance.ts";
import { describe, expect, test } from "vitest";

describe("chances", () => {
  // Cumulative standard normal distribution, NIST/SEMATECH e-Handbook 1.3.6.7.1.
  test.each([
    [0, 0.5],
    [0.5, 0.69146],
    [1, 0.84134],
    [1.645, 0.95002],
    [2, 0.97725],
    [3, 0.99865],
    [-1, 0.15866],
  ])("chance below %f sigma is %f", (z, chance) => {
    expect(chanceBelow(0, 1, z)).toBeCloseTo(chance, 5);
    expect(chanceBelow(20, 4, 20 + 4 * z)).toBeCloseTo(chance, 5);
  });
  test.each([
    [z80, 0.8],
    [z90, 0.9],
    [z95, 0.95],
    [z99, 0.99],
  ])("quantile %f", (z, chance) => {
    expect(chanceBelow(0, 1, z)).toBeCloseTo(chance, 3);
  });
  test("sigma 0 is a sharp threshold; a sigma that is no number decides nothing", () => {
    expect(chanceBelow(1, 0, 2)).toBe(1);
    expect(chanceBelow(2, 0, 2)).toBe(0);
    expect(surelyBelow(1, Number.NaN, 2, z95)).toBe(false);
    expect(surelyAbove(3, -1, 2, z95)).toBe(false);
    expect(chanceBelow(1, Number.NaN, 2)).toBeNaN();
  });
});
