import type { History } from "@leeward/shared-core/api/stations.ts";
import { describe, expect, test } from "vitest";
import { lastGasSpan, nearestGasSpan } from "../../../dashboard/look-back/last-gas.ts";

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

describe("the hour of gas nearest to an empty span", () => {
  const nearest = (highest: (number | null)[], from: number, to: number, nowS = 100_000) =>
    nearestGasSpan(
      historyOf(highest),
      { from: from * STEP_S, to: to * STEP_S },
      { sinceS: 0, bucketS: STEP_S },
      nowS,
    );

  test("after it: the hour that begins with the gas; before it: the hour that ends with it", () => {
    expect(nearest([0, 0, 0, 8, 0], 0, 2)).toEqual({ from: 3 * STEP_S, to: 3 * STEP_S + 3600 });
    expect(nearest([0, 8, 0, null, 0], 3, 5)).toEqual({ from: 2 * STEP_S - 3600, to: 2 * STEP_S });
    // The nearer of two.
    expect(nearest([8, 0, 0, 0, 8], 2, 4)?.from).toBe(4 * STEP_S);
  });

  test("is found by a history that holds only steps with something recorded", () => {
    const all = historyOf([0, 0, 0, 8]);
    const flow = all.series.flow!;
    const told = { t: flow.t.slice(3), min: [8], mean: [8], max: [8], unit: flow.unit };
    const sparse = { ...all, series: { flow: told } };
    const span = { from: 0, to: STEP_S };
    expect(nearestGasSpan(sparse, span, { sinceS: 0, bucketS: STEP_S }, 100_000)?.from).toBe(
      3 * STEP_S,
    );
  });

  test("never ends in the future", () => {
    expect(nearest([0, 0, 8], 0, 1, 2 * STEP_S + 60)?.to).toBe(2 * STEP_S + 60);
  });

  test.each<[string, (number | null)[], number, number]>([
    ["where gas flowed in the span", [0, 8, 8, 0], 0, 2],
    ["where none is known", [0, null, 0], 0, 2],
    ["where nothing was recorded", [], 0, 2],
    ["of a span before the history", [8, 0], -5, -2],
  ])("is not offered %s", (_name, highest, from, to) => {
    expect(nearest(highest, from, to)).toBeNull();
  });
});
