import type { History } from "@leeward/shared-core/api/stations.ts";
import { describe, expect, test } from "vitest";
import {
  columns,
  flowWhileOn,
  lineEnd,
  niceTop,
  refetchS,
  spread,
} from "../../../dashboard/display/chart-data.ts";

const series = (t: number[], mean: (number | null)[]) => ({
  unit: "L/min",
  t,
  min: mean,
  mean,
  max: mean,
});
const same = (value: number) => value;

describe("chart columns", () => {
  const history: History = {
    series: {
      flow: series([0, 60, 120, 180], [5, null, 6, 7]),
      indicated: series([0, 120], [8, 8]),
    },
    gaps: [{ from: 125, to: 175 }],
    reference: "metric20",
  };

  test("gaps stay gaps, declared ones too, and each series keeps its own buckets", () => {
    const [t, flow, indicated] = columns(history, [
      { name: "flow", pick: "mean", convert: same },
      { name: "indicated", pick: "mean", convert: (v) => v * 2 },
    ]);
    expect(t).toEqual([0, 60, 120, 150, 180]);
    expect(flow).toEqual([5, null, 6, null, 7]);
    expect(indicated).toEqual([16, null, 16, null, null]);
  });

  test("a gap shorter than a bucket breaks no line, and hides no bucket that holds data", () => {
    const [t, flow] = columns(history, [{ name: "flow", pick: "mean", convert: same }], 60);
    expect(t).toEqual([0, 60, 120, 180]);
    expect(flow).toEqual([5, null, 6, 7]);
    const early: History = { ...history, gaps: [{ from: -20, to: 70 }] };
    const [, kept] = columns(early, [{ name: "flow", pick: "mean", convert: same }], 60);
    expect(kept?.[0]).toBe(5);
  });

  test("a missing series is all gaps, not zeros", () => {
    const [, line] = columns(history, [{ name: "line-pressure", pick: "mean", convert: same }]);
    expect(line?.every((value) => value === null)).toBe(true);
  });

  test("gas off is a gap in the flow", () => {
    const low = [4, 0, null, 0, 5];
    const mean = [5, 0, null, 2, 6];
    const high = [6, 0, null, 8, 7];
    expect(flowWhileOn(low, mean, high, 6)).toEqual([5, null, null, null, 6]);
    expect(flowWhileOn(low, mean, high, 144)).toEqual([5, null, null, 8, 6]);
  });

  test("names stand at line ends, apart from each other", () => {
    expect(lineEnd([1, 2, null])).toEqual({ index: 1, value: 2 });
    expect(lineEnd([null, null])).toBeNull();
    expect(spread([100, 104, 40], 18)).toEqual([100, 118, 40]);
  });

  test("the axis ends on a step", () => {
    expect([0, 4.1, 11.5, 26, 199].map(niceTop)).toEqual([1, 5, 12, 30, 200]);
  });

  test("fetching again keeps to a bucket, and to 5 s at most", () => {
    expect(refetchS("1h", 3600, 600, 1)).toBe(6);
    expect(refetchS("1h", 3600, 600, 60)).toBe(5);
    expect(refetchS("1w", 604_800, 600, 1)).toBe(60);
  });
});
