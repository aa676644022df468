import type { History } from "@leeward/shared-core/api/stations.ts";
import { describe, expect, test } from "vitest";
import { lastGasSpan } from "../../../dashboard/look-back/last-gas.ts";

const STEP_S = 600;

/** A history in steps of ten minutes from 0, by the highest flow of each. */
function historyOf(highest: (number | null)[]): History {
  const t = highest.map((_, index) => index * STEP_S);
  return {
    station: "north.bay-3",
    from: 0,
    to: highest.length * STEP_S,
    bucketS: STEP_S,
    series: { flow: { t, min: highest, mean: highest, max: highest } },
    gaps: [],
    reDials: [],
  } as unknown as History;
}

describe("the hour up to the last gas", () => {
  test("ends with the step in which gas last flowed", () => {
    const span = lastGasSpan(historyOf([0, 8, 8, 0, null, 0]), STEP_S, 10_000);
    expect(span).toEqual({ from: 3 * STEP_S - 3600, to: 3 * STEP_S });
  });

  test("never ends in the future", () => {
    expect(lastGasSpan(historyOf([0, 8]), STEP_S, 900)?.to).toBe(900);
  });

  test.each<[string, (number | null)[]]>([
    ["gas was off", [0, 0.01, 0]],
    ["nothing is known", [null, null]],
    ["nothing was recorded", []],
  ])("is none where %s", (_name, highest) => {
    expect(lastGasSpan(historyOf(highest), STEP_S, 10_000)).toBeNull();
  });
});
