import { describe, expect, test } from "vitest";
import { toInterval } from "../../../dashboard/display/to-interval.ts";

describe("a value is told as finely as its interval deserves", () => {
  // Two figures of the uncertainty at most: JCGM 100:2008, 7.2.6.
  test.each([
    [-0.0175, -5.93, 5.9, ["0.0", "-5.9", "5.9"]],
    [1.00637, 0.9911, 1.0217, ["1.006", "0.991", "1.022"]],
    [0.2613, 0.25, 0.2726, ["0.261", "0.250", "0.273"]],
    [1234.5, 1100, 1370, ["1,235", "1,100", "1,370"]],
    [0.000_012_3, 0.000_01, 0.000_014_6, ["0.000012", "0.000010", "0.000015"]],
  ])("%d (%d to %d)", (value, low, high, shown) => {
    expect(toInterval(value, low, high)).toEqual(shown);
  });

  test("without a width by its own size", () => {
    expect(toInterval(3.5, 3.5, 3.5)).toEqual(["3.50", "3.50", "3.50"]);
    expect(toInterval(0, 0, 0)).toEqual(["0", "0", "0"]);
  });
});
