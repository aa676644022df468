import { germanReasons } from "@leeward/shared-core/alarms/language/german-reasons.ts";
import { spanishReasons } from "@leeward/shared-core/alarms/language/spanish-reasons.ts";
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

  test("the one reason with flows is converted in each language, and no other text of the books is", () => {
    const filled = (text: string) => {
      let k = 0;
      return text.replaceAll("{}", () => ["12.0", "9.0"][k++] ?? "7.0");
    };
    for (const reasons of [germanReasons, spanishReasons]) {
      const both = Object.entries(reasons);
      expect(both.length).toBeGreaterThan(20);
      for (const [english, own] of both) {
        for (const text of [filled(english), filled(own)]) {
          const told = flowsInReason(text, usUnits);
          if (english.startsWith("no flow is right")) {
            expect(told).toMatch(/\D26\D+19\.1 CFH\)/);
          } else {
            expect(told).toBe(text);
          }
        }
      }
    }
  });

  test("a reading in brackets is what the device shows, and stays", () => {
    for (const text of [
      "Set the float lower (it shows 14 L/min).",
      "The tube (scale 2 to 16 L/min) is the wrong one.",
      "It was set anew (from 8.0 to 12.5 L/min).",
    ]) {
      expect(flowsInReason(text, usUnits)).toBe(text);
    }
  });

  test("both ends of a span are converted", () => {
    for (const [text, told] of [
      ["cup 7: 12.0 to 16.0 L/min (a table)", "cup 7: 26 to 34 CFH (a table)"],
      ["Düse 7: 12,0 bis 16,0 L/min", "Düse 7: 26 bis 34 CFH"],
      ["tobera 7: de 12.0 a 16.0 L/min", "tobera 7: de 26 a 34 CFH"],
    ] as const) {
      expect(flowsInRule(text, usUnits)).toBe(told);
    }
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
