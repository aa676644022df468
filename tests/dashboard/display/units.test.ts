import { describe, expect, test } from "vitest";
import {
  CFH_PER_LPM,
  flowInUnit,
  metricUnits,
  pressureInUnit,
  readingToLpm,
  referenceFactor,
  temperatureInUnit,
  usUnits,
} from "../../../dashboard/display/units.ts";

describe("units at the edge", () => {
  test("1 L/min is 2.1188800 CFH at the same reference (NIST SP 811)", () => {
    expect(CFH_PER_LPM).toBeCloseTo(2.11888, 6);
  });

  // Volume factors from the US reference, ideal gas: trade-practice table, computed from the definitions.
  test.each([
    ["iso", 0.97923],
    ["trade", 0.99221],
    ["normal", 0.92826],
    ["metric20", 0.99622],
  ] as const)("a US volume counts %s as %d", (reference, factor) => {
    expect(referenceFactor("us", reference)).toBeCloseTo(factor, 4);
  });

  test("100 CFH (US) is 47.016 L/min at 20 °C, and back", () => {
    expect(readingToLpm(100, "CFH")).toBeCloseTo(47.016, 2);
    expect(flowInUnit(readingToLpm(100, "CFH"), usUnits)).toBeCloseTo(100, 9);
  });

  test("a scale that states its reference is taken at its word", () => {
    expect(readingToLpm(10, "L/min", "normal")).toBeCloseTo(10 * (293.15 / 273.15), 9);
    expect(readingToLpm(10, "L/min")).toBe(10);
  });

  test("unit and reference are two steps", () => {
    const metricAtUs = { ...metricUnits, reference: "us" as const };
    expect(flowInUnit(10, metricAtUs)).toBeCloseTo(10 / 0.99622, 3);
    expect(flowInUnit(10, usUnits) / flowInUnit(10, metricAtUs)).toBeCloseTo(CFH_PER_LPM, 9);
  });

  test("1 bar is 14.5037738 psi; 20 °C is 68 °F", () => {
    expect(pressureInUnit(1e5, usUnits)).toBeCloseTo(14.5037738, 6);
    expect(pressureInUnit(1e5, { ...metricUnits, pressure: "kPa" })).toBe(100);
    expect(temperatureInUnit(20, usUnits)).toBeCloseTo(68, 9);
  });
});
