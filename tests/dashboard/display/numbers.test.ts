import { describe, expect, test } from "vitest";
import {
  fixed,
  flowFigure,
  limitFigure,
  linePressureText,
  pressureText,
  readingFigure,
  temperatureText,
  volumeRangeText,
  volumeText,
} from "../../../dashboard/display/numbers.ts";
import { metricUnits, usUnits } from "../../../dashboard/display/units.ts";

describe("figures", () => {
  test("a volume and its bounds have one unit, and stay on a line", () => {
    expect(volumeRangeText({ low: 1390, mean: 1640, high: 1930 }, metricUnits)).toBe(
      "1.64 m³ (1.39\u00a0–\u2060\u00a01.93)",
    );
  });

  test("unknown is a dash, never a zero", () => {
    expect(flowFigure(null, metricUnits)).toBe("–");
    expect(flowFigure(undefined, metricUnits)).toBe("–");
    expect(pressureText(null, metricUnits)).toBe("–");
    expect(linePressureText(null, metricUnits)).toBe("–");
    expect(temperatureText(undefined, metricUnits)).toBe("–");
    expect(volumeText(null, metricUnits)).toBe("–");
    expect(readingFigure(null)).toBe("–");
  });

  test.each([
    [5.14, "5.1"],
    [14.96, "15.0"],
    [0, "0.0"],
    [-0.01, "0.0"],
    [120.4, "120"],
  ])("%d L/min reads %s", (lpm, text) => {
    expect(flowFigure(lpm, metricUnits)).toBe(text);
  });

  test("CFH are whole from 20 on", () => {
    expect(flowFigure(8, usUnits)).toBe("17.0");
    expect(flowFigure(14.6, usUnits)).toBe("31");
  });

  test("limits of the window are whole where they are whole", () => {
    expect(limitFigure(6, metricUnits)).toBe("6");
    expect(limitFigure(6.6, metricUnits)).toBe("6.6");
    expect(limitFigure(8, usUnits)).toBe("17");
  });

  test("every pressure carries its unit", () => {
    expect(pressureText(26.4e5, metricUnits)).toBe("26 bar");
    expect(pressureText(3.9e5, metricUnits)).toBe("3.9 bar");
    expect(pressureText(26.4e5, usUnits)).toBe("383 psi");
    expect(linePressureText(3.45e5, metricUnits)).toBe("3.45 bar");
  });

  test("nobody reads a float to better than a tenth", () => {
    expect(readingFigure(12.6)).toBe("12.6");
    expect(readingFigure(8.02)).toBe("8");
    expect(readingFigure(35.4)).toBe("35");
  });

  test("there is no minus zero", () => {
    expect(fixed(-0.04, 1)).toBe("0.0");
    expect(fixed(-0.06, 1)).toBe("-0.1");
  });
});
