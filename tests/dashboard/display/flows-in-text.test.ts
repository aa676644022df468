import { describe, expect, test } from "vitest";
import { flowsInReason, flowsInRule } from "../../../dashboard/display/flows-in-text.ts";
import { metricUnits, usUnits } from "../../../dashboard/display/units.ts";

// 1 L/min at 20 °C, 1 atm is 2.1262 CFH at 70 °F, 14.696 psia (NIST SP 811; ideal gas).
describe("true flows within a text, for who reads CFH", () => {
  const reason =
    "The right flow cannot be set here (no flow is right (minimum 12.0 is above maximum 9,0 L/min)). Turn the float up to 12.6 L/min.";

  test("both bounds of a reason are converted; what the device shows is not", () => {
    const told = flowsInReason(reason, usUnits);
    expect(told).toContain("(minimum 26 is above maximum 19.1 CFH)");
    expect(told).toContain("Turn the float up to 12.6 L/min.");
  });

  test("every flow of a rule is converted", () => {
    expect(flowsInRule("From above 0.02 L/min down to 3 L/min, 99 %.", usUnits)).toBe(
      "From above 0.04 CFH down to 6.4 CFH, 99 %.",
    );
  });

  test("in L/min a text stays as it is", () => {
    expect(flowsInReason(reason, metricUnits)).toBe(reason);
    expect(flowsInRule("0,02 L/min", metricUnits)).toBe("0,02 L/min");
  });
});
