import { describe, expect, test } from "vitest";
import { type Composition, checkComposition } from "../../../shared-core/gases/composition.ts";

describe("composition", () => {
  test.each<[string, Record<string, number>, string, string]>([
    ["sum below 1", { Ar: 0.75, CO2: 0.2 }, "GAS_FRACTION_SUM", "0.95"],
    [
      "percent instead of fractions",
      { Ar: 75, CO2: 25 },
      "GAS_FRACTION_RANGE",
      "composition.Ar is 75",
    ],
    ["negative", { Ar: 1.1, CO2: -0.1 }, "GAS_FRACTION_RANGE", "1.1"],
    [
      "negative with sum 1",
      { Ar: 0.9, CO2: -0.1, He: 0.2 },
      "GAS_FRACTION_RANGE",
      "composition.CO2 is -0.1",
    ],
    ["not a number", { Ar: Number.NaN }, "GAS_FRACTION_RANGE", "NaN"],
    ["empty", {}, "GAS_FRACTION_SUM", "0"],
    ["unknown gas", { Ar: 0.5, Xe: 0.5 }, "GAS_UNKNOWN", "Xe"],
    ["wrong case", { AR: 1 }, "GAS_UNKNOWN", "AR"],
  ])("%s", (_, fractions, code, text) => {
    const answer = checkComposition(fractions as Composition);
    expect(answer.ok).toBe(false);
    if (!answer.ok) {
      expect(answer.error.code).toBe(code);
      expect(answer.error.message).toContain(text);
    }
  });

  test("printed fractions that miss 1 by rounding are scaled; zeros are dropped", () => {
    const answer = checkComposition({ Ar: 0.3333333, CO2: 0.3333333, N2: 0.3333333, He: 0 });
    expect(answer.ok && Object.keys(answer.value)).toEqual(["Ar", "CO2", "N2"]);
    expect(answer.ok && answer.value.Ar).toBeCloseTo(1 / 3, 12);
  });
});
