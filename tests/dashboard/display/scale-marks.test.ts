import { expect, test } from "vitest";
import { scaleMarks } from "../../../dashboard/display/scale-marks.ts";
import { exampleStation } from "../../gateway/support.ts";

const device = exampleStation().flowDevice!;
const tube = (scaleMin: number | undefined, scaleMax: number | undefined, unit = "L/min") =>
  scaleMarks({ ...device, scaleMin, scaleMax, readingUnit: unit } as typeof device);

test.each([
  ["2 to 16 L/min: each litre", tube(2, 16), [2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16]],
  [
    "10 to 70 CFH: each fifth",
    tube(10, 70, "CFH"),
    [10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70],
  ],
  ["from nothing: rest at the foot is no mark", tube(0, 5), [1, 2, 3, 4, 5]],
  ["ends between marks", tube(2.5, 6.2), [3, 4, 5, 6]],
  [
    "a scale of which nothing is written",
    tube(undefined, undefined),
    [2, 4, 6, 8, 10, 12, 14, 16, 18, 20],
  ],
])("marks of a scale: %s", (_, marks, wanted) => {
  expect(marks).toEqual(wanted);
});
