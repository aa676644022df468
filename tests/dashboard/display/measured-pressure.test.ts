import { describe, expect, test } from "vitest";
import { measuredPa } from "../../../dashboard/display/measured-pressure.ts";
import { pressureText } from "../../../dashboard/display/numbers.ts";
import { readingText } from "../../../dashboard/display/reading-text.ts";
import { usUnits } from "../../../dashboard/display/units.ts";
import { exampleEstimate, exampleView } from "./examples.ts";

// Sensors of the example: 0 to 250 bar and 0 to 10 bar, 0.5 % of the range: 1.25 bar and 0.05 bar.
function viewOf(cylinderPa: number | null, linePa: number | null) {
  return exampleView(
    exampleEstimate({ measured: { cylinderPa, linePa, cylinderC: 14, ambientC: 18, arc: null } }),
  );
}

describe("a pressure as a sensor reads it", () => {
  test("a vacuum within the sensor's accuracy is its zero", () => {
    const view = viewOf(-0.41e5, -0.04e5);
    expect(measuredPa(view, "cylinder")).toBe(0);
    expect(measuredPa(view, "line")).toBe(0);
    expect(pressureText(measuredPa(view, "cylinder"), usUnits)).toBe("0 psi");
  });

  test("an explanation says the same as the figure that it explains", () => {
    const view = viewOf(-0.41e5, -0.04e5);
    expect(readingText(view, "cylinder-pressure", usUnits)).toMatch(/ 0 psi$/);
    expect(readingText(view, "line-pressure", usUnits)).toMatch(/ 0\.0 psi$/);
  });

  test("a vacuum beyond it stays in sight: the sensor is at fault", () => {
    const view = viewOf(-2e5, -0.41e5);
    expect(measuredPa(view, "cylinder")).toBe(-2e5);
    expect(measuredPa(view, "line")).toBe(-0.41e5);
  });

  test("a small pressure is never called none: it may be trapped gas", () => {
    const view = viewOf(0.5e5, 0.03e5);
    expect(measuredPa(view, "cylinder")).toBe(0.5e5);
    expect(measuredPa(view, "line")).toBe(0.03e5);
  });

  test("what is not read stays unknown", () => {
    const view = viewOf(null, null);
    expect(measuredPa(view, "cylinder")).toBeNull();
    expect(measuredPa({ ...view, estimate: null }, "line")).toBeNull();
  });
});
