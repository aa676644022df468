import {
  takenOut,
  twoPointFault,
  uncalibratedBar,
  zeroOnly,
} from "@leeward/shared-core/documents/two-point.ts";
import { describe, expect, test } from "vitest";

const points = { lowReadsBar: 0.4, lowIsBar: 0, highReadsBar: 199, highIsBar: 200 };

describe("two points against a gauge", () => {
  // Arithmetic of a straight line through both points; no source needed.
  test("what a node shows with them is reckoned back to what it would show without", () => {
    expect(uncalibratedBar(points, 0)).toBeCloseTo(0.4, 12);
    expect(uncalibratedBar(points, 200)).toBeCloseTo(199, 12);
    expect(uncalibratedBar(points, 100)).toBeCloseTo(99.7, 12);
    expect(uncalibratedBar(undefined, 7)).toBe(7);
  });

  test("a zero alone leaves the span as it is made", () => {
    const zero = zeroOnly(0.4, 250);
    expect(takenOut(zero)).toEqual({ zeroBar: 0.4, spanShare: expect.closeTo(0, 12) });
    expect(twoPointFault(zero, 250)).toBeNull();
  });

  // The limits are those at which the firmware refuses (firmware/src/node-config.ts).
  test.each([
    ["a fifth of the range apart", { highReadsBar: 50.4, highIsBar: 50 }, null],
    ["less than a fifth", { highReadsBar: 50, highIsBar: 49.9 }, "points-too-close"],
    ["a fifth too little", { highReadsBar: 160.4 }, null],
    ["more than a fifth too little", { highReadsBar: 160 }, "span-off"],
    ["a quarter too much", { highReadsBar: 250.4 }, null],
    ["more than a quarter too much", { highReadsBar: 251 }, "span-off"],
  ])("%s", (_name, change, fault) => {
    expect(twoPointFault({ ...points, ...change }, 250)).toBe(fault);
  });
});
