import { describe, expect, test } from "vitest";
import { cylinderFill, inSteps } from "../../../dashboard/display/cylinder-fill.ts";
import { fullContentLitres, mayBeLiquid } from "../../../dashboard/display/gas-facts.ts";
import { exampleStation } from "./examples.ts";

describe("the cylinder drawing", () => {
  test("stands still while it changes by less than a tile can show, and is empty while unknown", () => {
    const fill = { unusable: 0.05, sure: 0.49, perhaps: 0.51 };
    expect(inSteps({ ...fill, sure: 0.49031 })).toEqual(fill);
    expect(inSteps({ ...fill, sure: 0.4911 })?.sure).toBe(0.491);
    expect(inSteps(null)).toBeNull();
  });

  test("sure, perhaps and unusable", () => {
    expect(
      cylinderFill({ litres: 5000, low: 4900, high: 5100, usableLitres: 4500 }, 10_000),
    ).toEqual({
      unusable: 0.05,
      sure: 0.49,
      perhaps: 0.51,
    });
  });

  test("unknown content or size draws nothing", () => {
    expect(cylinderFill({ litres: null, why: "liquid" }, 10_000)).toBeNull();
    expect(cylinderFill({ litres: 5000 }, null)).toBeNull();
  });

  test("never above full, and the hatching never above what is there", () => {
    const fill = cylinderFill({ litres: 300, low: 200, high: 12_000, usableLitres: 0 }, 10_000);
    expect(fill?.perhaps).toBe(1);
    expect(fill?.unusable).toBeLessThanOrEqual(fill?.sure ?? 0);
  });

  test("50 L of argon at 200 bar and 15 °C hold 10.72 m³ at 15 °C and 1 bar", () => {
    // Computed from the reference equation of argon (Tegeler 1999); supplier tables print about 10.7.
    const litres = fullContentLitres(exampleStation().cylinder!) ?? 0;
    const tradeM3 = (litres / 1000) * (288.15 / 293.15) * 1.01325;
    expect(tradeM3).toBeGreaterThan(10.72 * 0.994);
    expect(tradeM3).toBeLessThan(10.72 * 1.006);
  });

  test("a bundle holds as many times more", () => {
    const one = exampleStation().cylinder!;
    expect(fullContentLitres({ ...one, count: 4 })).toBeCloseTo(
      4 * (fullContentLitres(one) ?? 0),
      6,
    );
  });

  test("30 kg of CO2 hold 16.24 m³ at 15 °C and 1 bar; whether liquid is left follows its vapour pressure", () => {
    const co2 = {
      gas: "C1-C",
      composition: { CO2: 1 },
      waterVolumeL: 40,
      count: 1,
      filledKg: 30,
    };
    // By mass over density (trade facts, computed): 16.24 m³ at 15 °C, 1 bar.
    const tradeM3 = ((fullContentLitres(co2) ?? 0) / 1000) * (288.15 / 293.15) * 1.01325;
    expect(Math.abs(tradeM3 / 16.24 - 1)).toBeLessThan(0.003);
    // Vapour pressure at 20 °C: 57.29 bar absolute (Span & Wagner 1996).
    expect(mayBeLiquid(co2, 56.3e5, 20)).toBe(true);
    expect(mayBeLiquid(co2, 30e5, 20)).toBe(false);
    expect(mayBeLiquid(co2, null, 20)).toBe(true);
    expect(mayBeLiquid(exampleStation().cylinder!, 56e5, 20)).toBe(false);
  });
});
