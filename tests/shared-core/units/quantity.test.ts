import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  CFH_M3_PER_S,
  CUBIC_FOOT_M3,
  LITRE_PER_MINUTE_M3_PER_S,
  PSI_PA,
  type QuantityKind,
  type Unit,
  units,
} from "../../../shared-core/units/factors.ts";
import {
  formatQuantity,
  fromSi,
  parseQuantity,
  parseToSi,
  toSi,
  unitOf,
} from "../../../shared-core/units/quantity.ts";

const everyUnit: readonly Unit[] = units;

describe("factors (NIST SP 811)", () => {
  test("exact by definition", () => {
    expect(CUBIC_FOOT_M3 * 1000).toBeCloseTo(28.316846592, 12);
    expect(CFH_M3_PER_S / LITRE_PER_MINUTE_M3_PER_S).toBeCloseTo(0.4719474432, 12);
    expect(LITRE_PER_MINUTE_M3_PER_S / CFH_M3_PER_S).toBeCloseTo(2.11888, 6);
    expect(PSI_PA).toBeCloseTo(6894.757293, 6);
    expect(1e5 / PSI_PA).toBeCloseTo(14.5037738, 7);
    expect(101_325 / PSI_PA).toBeCloseTo(14.695949, 6);
    expect(unitOf("pressure", "inHg").factor).toBeCloseTo(3386.389, 9);
  });

  test.each([
    ["temperature", "70 °F", 294.2611111],
    ["temperature", "-40 °F", 233.15],
    ["temperature", "-40 °C", 233.15],
    ["temperature", "125 F", 324.8166667],
    ["pressure", "2200 psi", 15_168_466],
    ["pressure", "1 bar", 100_000],
    ["flow", "35 CFH", (35 * 0.4719474432e-3) / 60],
    ["flow", "16.5 L/min", 16.5e-3 / 60],
    ["volume", "1 ft³", 0.028316846592],
    ["mass", "20 lb", 9.0718474],
    ["length", "0.25 in", 0.00635],
  ] as [QuantityKind, string, number][])("%s %s", (kind, text, si) => {
    const answer = parseToSi(kind, text);
    expect(answer.ok && Math.abs(answer.value / si - 1)).toBeLessThan(1e-7);
  });
});

describe("parse and format", () => {
  test.each([
    ["flow", "35 CFH", 35, "CFH"],
    ["flow", "35CFH", 35, "CFH"],
    ["flow", " 16.5  L/min ", 16.5, "L/min"],
    ["flow", "8 lpm", 8, "L/min"],
    ["pressure", "2,200 psi", 2200, "psi"],
    ["pressure", "1.5e3 kPa", 1500, "kPa"],
    ["pressure", ".5 bar", 0.5, "bar"],
    ["temperature", "−10 °C", -10, "°C"],
    ["temperature", "-10 C", -10, "°C"],
  ] as [QuantityKind, string, number, string][])("%s %s", (kind, text, value, symbol) => {
    const answer = parseQuantity(kind, text);
    expect(answer.ok && [answer.value.value, answer.value.unit.symbol]).toEqual([value, symbol]);
  });

  test.each([
    ["flow", "35", /unit of flow is ""; use one of CFH/],
    ["flow", "35 psi", /unit of flow is "psi"/],
    ["flow", "16,5 L/min", /UNIT_PARSE/],
    ["flow", "2,20 CFH", /UNIT_PARSE/],
    ["flow", "", /35 CFH or 16.5 L\/min/],
    ["flow", "CFH", /UNIT_PARSE/],
    ["flow", "NaN CFH", /UNIT_PARSE/],
    ["flow", "1e999 CFH", /UNIT_PARSE/],
    ["pressure", "12 12 psi", /UNIT_PARSE/],
    ["temperature", "20", /use one of K, °C, °F/],
    ["temperature", "-300 °C", /below absolute zero/],
    ["temperature", "-460 °F", /below absolute zero/],
    ["temperature", "-1 K", /below absolute zero/],
  ] as [QuantityKind, string, RegExp][])(
    "%s %s is refused with the way out",
    (kind, text, message) => {
      const answer = parseQuantity(kind, text);
      expect(answer.ok).toBe(false);
      expect(!answer.ok && answer.error.message).toMatch(message);
    },
  );

  test("what a person wrote comes back as written", () => {
    const number = fc.integer({ min: -99_999_999, max: 99_999_999 }).map((n) => n / 1000);
    fc.assert(
      fc.property(fc.constantFrom(...everyUnit), number, (unit, signed) => {
        // Nothing is colder than absolute zero.
        const value = unit.kind === "temperature" ? Math.abs(signed) : signed;
        const text = `${value} ${unit.symbol}`;
        const parsed = parseToSi(unit.kind, text);
        expect(parsed.ok).toBe(true);
        if (parsed.ok) {
          // Twelve digits; a temperature's offset takes some of them from tiny values.
          const back = fromSi(parsed.value, unit);
          expect(Math.abs(back - value)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(value)));
          expect(parseToSi(unit.kind, formatQuantity(parsed.value, unit))).toEqual(
            parseToSi(unit.kind, formatQuantity(toSi(back, unit), unit)),
          );
        }
      }),
      { numRuns: 500 },
    );
  });

  test.each([
    ["pressure", "2200 PSI", "2200 psi"],
    ["pressure", "150 Bar", "150 bar"],
    ["flow", "35 SCFH", "35 CFH"],
    ["temperature", "-459.67 °F", "0 K"],
  ] as const)("%s: %s is read as %s", (kind, text, same) => {
    const [a, b] = [parseToSi(kind, text), parseToSi(kind, same)];
    expect(a.ok && b.ok && Math.abs(a.value - b.value)).toBeLessThan(1e-9);
  });

  test("35 CFH is 35 CFH after a trip through SI; fixed decimals on request", () => {
    const cfh = unitOf("flow", "CFH");
    const si = toSi(35, cfh);
    expect(formatQuantity(si, cfh)).toBe("35 CFH");
    expect(formatQuantity(si, unitOf("flow", "L/min"), 1)).toBe("16.5 L/min");
  });

  test("what is no number is shown as such; nothing is minus zero", () => {
    const cfh = unitOf("flow", "CFH");
    expect(formatQuantity(Number.NaN, cfh, 1)).toBe("no value");
    expect(formatQuantity(Number.POSITIVE_INFINITY, cfh)).toBe("no value");
    expect(parseToSi("flow", "no value").ok).toBe(false);
    expect(formatQuantity(-1e-12, cfh, 1)).toBe("0.0 CFH");
    expect(formatQuantity(toSi(-0.1, cfh), cfh, 1)).toBe("-0.1 CFH");
  });

  test("symbols and spellings are unique within a kind", () => {
    for (const kind of new Set(everyUnit.map((unit) => unit.kind))) {
      const spellings = everyUnit
        .filter((unit) => unit.kind === kind)
        .flatMap((unit) => unit.spellings);
      expect(new Set(spellings).size).toBe(spellings.length);
    }
  });
});
