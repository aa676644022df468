import type { SafetyFinding } from "@leeward/shared-core/safety/finding.ts";
import { cylinderSensorFindings } from "@leeward/shared-core/safety/sensor-refusals.ts";
import { describe, expect, test } from "vitest";
import { metricUnits, usUnits } from "../../../dashboard/display/units.ts";
import { findingText } from "../../../dashboard/setup/finding-text.ts";

const PSI_BAR = 0.0689476; // NIST SP 811

describe("what a refusal says", () => {
  test.each([
    ["bar", metricUnits, 1],
    ["psi", usUnits, PSI_BAR],
  ] as const)("a sensor bought by its figure in %s is taken then", (_unit, units, barPerUnit) => {
    // Invented: pressures at 55 °C whose 1.5-fold falls on both sides of a whole figure.
    for (const hottestPa of [250.1e5, 250.2e5, 250.3e5, 250.4e5, 200e5]) {
      const sensor = { rangeBar: 400, accuracyPercentFs: 0.5, proofBar: 300 };
      const [refusal] = cylinderSensorFindings({ ...sensor, proofBar: 299 }, hottestPa).refusals;
      const told = /withstands ([\d,]+) \w+ or more/.exec(findingText(refusal!, units))?.[1] ?? "";
      const proofBar = Number(told.replace(",", "")) * barPerUnit;
      expect(proofBar).toBeGreaterThan(100);
      expect(cylinderSensorFindings({ ...sensor, proofBar }, hottestPa).refusals).toEqual([]);
    }
  });

  test("a content just above its limit does not read as the limit", () => {
    const finding: SafetyFinding = {
      rule: "flammable",
      path: "regulator.ratedFor",
      figures: { hydrogen: 0.0294, limit: 0.029 },
      message: "",
    };
    const told = findingText(finding, metricUnits);
    expect(told).toContain("2.94 % hydrogen");
    expect(told).toContain("up to 2.9 %");
  });
});
