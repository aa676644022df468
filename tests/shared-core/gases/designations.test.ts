import { describe, expect, test } from "vitest";
import type { Composition, GasSymbol } from "../../../shared-core/gases/composition.ts";
import {
  compositionOf,
  designationOf,
  groupOf,
  parseDesignation,
} from "../../../shared-core/gases/designations.ts";

/** ISO 14175:2008: form of a designation and limits of the groups (limits from memory). */
const designations: [string, Composition][] = [
  ["I1-Ar", { Ar: 1 }],
  ["I2-He", { He: 1 }],
  ["I3-ArHe-25", { Ar: 0.75, He: 0.25 }],
  ["M12-ArC-2", { Ar: 0.98, CO2: 0.02 }],
  ["M12-HeArC-7.5/2.5", { He: 0.9, Ar: 0.075, CO2: 0.025 }],
  ["M13-ArO-2", { Ar: 0.98, O2: 0.02 }],
  ["M20-ArC-8", { Ar: 0.92, CO2: 0.08 }],
  ["M20-ArC-15", { Ar: 0.85, CO2: 0.15 }],
  ["M21-ArC-18", { Ar: 0.82, CO2: 0.18 }],
  ["M21-ArC-25", { Ar: 0.75, CO2: 0.25 }],
  ["M27-ArCO-20/5", { Ar: 0.75, CO2: 0.2, O2: 0.05 }],
  ["C1-C", { CO2: 1 }],
  ["R1-ArH-5", { Ar: 0.95, H2: 0.05 }],
  ["N1-N", { N2: 1 }],
  ["N5-NH-10", { N2: 0.9, H2: 0.1 }],
  ["M31-ArCHe-30/20", { Ar: 0.5, CO2: 0.3, He: 0.2 }],
  ["Z-CAr-40", { CO2: 0.6, Ar: 0.4 }],
];

describe("ISO 14175 designations", () => {
  test.each(designations)("%s reads", (name, gases) => {
    const composition = compositionOf(name);
    expect(Object.keys(composition).sort()).toEqual(Object.keys(gases).sort());
    for (const [symbol, fraction] of Object.entries(composition)) {
      expect(fraction).toBeCloseTo(gases[symbol as keyof Composition] ?? 0, 12);
    }
  });

  test.each(designations)("%s writes", (name, gases) => {
    expect(designationOf(gases)).toBe(name);
  });

  test("the leading standard number may be there", () => {
    expect(compositionOf("ISO 14175-M21-ArC-18")).toEqual(compositionOf("M21-ArC-18"));
  });

  test("limits belong to the lower group, as >15-25 says", () => {
    expect(groupOf({ Ar: 0.85, CO2: 0.15 })).toBe("M20");
    expect(groupOf({ Ar: 0.849, CO2: 0.151 })).toBe("M21");
    expect(groupOf({ Ar: 0.4, CO2: 0.6 })).toBe("Z");
  });

  test.each([
    ["M21-ArC-8", "M20"],
    ["M21-ArC", "percentage"],
    ["M21-ArC-18/2", "percentage"],
    ["M21-ArAr-18", "percentage"],
    ["M21-ArC-120", "base gas"],
    ["argon", "M21-ArC-18"],
    ["", "M21-ArC-18"],
  ])("%s is refused with the way out", (name, hint) => {
    const answer = parseDesignation(name);
    expect(answer.ok).toBe(false);
    if (!answer.ok) {
      expect(answer.error.code).toBe("GAS_DESIGNATION");
      expect(answer.error.message).toContain(hint);
    }
  });
});

/**
 * Limits of the groups, ISO 14175:2008 table 2 (from memory, confidence medium): component, lower
 * limit, whether the limit itself still belongs to the group, upper limit; further components held.
 */
const limits: [string, GasSymbol, number, boolean, number, Composition, GasSymbol][] = [
  ["I3", "He", 0.5, true, 95, {}, "Ar"],
  ["M11", "H2", 0.5, true, 5, { CO2: 3 }, "Ar"],
  ["M12", "CO2", 0.5, true, 5, {}, "Ar"],
  ["M13", "O2", 0.5, true, 3, {}, "Ar"],
  ["M14", "O2", 0.5, true, 3, { CO2: 3 }, "Ar"],
  ["M20", "CO2", 5, false, 15, {}, "Ar"],
  ["M21", "CO2", 15, false, 25, {}, "Ar"],
  ["M22", "O2", 3, false, 10, {}, "Ar"],
  ["M23", "O2", 3, false, 10, { CO2: 3 }, "Ar"],
  ["M24", "O2", 0.5, true, 3, { CO2: 10 }, "Ar"],
  ["M25", "O2", 3, false, 10, { CO2: 10 }, "Ar"],
  ["M26", "O2", 0.5, true, 3, { CO2: 20 }, "Ar"],
  ["M27", "O2", 3, false, 10, { CO2: 20 }, "Ar"],
  ["M31", "CO2", 25, false, 50, {}, "Ar"],
  ["M32", "O2", 10, false, 15, {}, "Ar"],
  ["M33", "O2", 2, false, 10, { CO2: 30 }, "Ar"],
  ["M34", "O2", 10, false, 15, { CO2: 20 }, "Ar"],
  ["M35", "O2", 10, false, 15, { CO2: 30 }, "Ar"],
  ["C2", "O2", 0.5, true, 30, {}, "CO2"],
  ["R1", "H2", 0.5, true, 15, {}, "Ar"],
  ["R2", "H2", 15, false, 50, {}, "Ar"],
  ["N2", "N2", 0.5, true, 5, {}, "Ar"],
  ["N3", "N2", 5, false, 50, {}, "Ar"],
  ["N4", "H2", 0.5, true, 10, { N2: 3 }, "Ar"],
  ["N5", "H2", 0.5, true, 50, {}, "N2"],
];

test.each(limits)("%s: %s from %f to %f %", (group, gas, low, closed, high, others, balance) => {
  const groupAt = (percent: number) => {
    const parts: Partial<Record<GasSymbol, number>> = { ...others, [gas]: percent };
    const rest = 100 - Object.values(parts).reduce((sum, part) => sum + part, 0);
    return groupOf(
      Object.fromEntries(
        Object.entries({ ...parts, [balance]: rest }).map(([name, part]) => [name, part / 100]),
      ),
    );
  };
  expect(groupAt(low) === group).toBe(closed);
  expect(groupAt(low - 0.1)).not.toBe(group);
  expect([groupAt(low + 0.1), groupAt(high)]).toEqual([group, group]);
  expect(groupAt(high + 0.1)).not.toBe(group);
});

test.each([
  "ISO 14175-M21-ArC-18",
  "ISO 14175 - M21-ArC-18",
  "ISO 14175:2008-M21-ArC-18",
  "ISO 14175 M21-ArC-18",
])("%s is read with its standard in front", (text) => {
  expect(designationOf(compositionOf(text))).toBe("M21-ArC-18");
});
