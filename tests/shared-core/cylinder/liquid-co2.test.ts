import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  carbonDioxideCylinder,
  liquidFullTemperatureK,
  liquidGoneKg,
  remainingKg,
} from "../../../shared-core/cylinder/liquid-co2.ts";
import { vapourPressurePa } from "../../../shared-core/gases/co2-saturation.ts";
import { createMixture } from "../../../shared-core/gases/mixture.ts";
import { CUBIC_FOOT_M3 } from "../../../shared-core/units/factors.ts";
import { standardVolumeM3 } from "../../../shared-core/units/reference-conditions.ts";

const POUND = 0.45359237;
const carbonDioxide = createMixture({ CO2: 1 });
const volumeOf = (kg: number, reference: "us" | "trade") =>
  standardVolumeM3(kg / carbonDioxide.molarMassKgPerMol, carbonDioxide, reference);

describe("CO2 by mass", () => {
  /** Trade sheet, computed with Span & Wagner 1996. */
  test.each([
    [5, 43.7],
    [20, 174.8],
    [50, 437.1],
    [75, 655.7],
  ])("%f lb: %f ft³ at 70 °F", (pounds, cubicFeet) => {
    const actual = volumeOf(pounds * POUND, "us") / CUBIC_FOOT_M3;
    expect(Math.abs(actual / cubicFeet - 1)).toBeLessThan(0.001);
  });

  test.each([
    [10, 5.41],
    [20, 10.83],
    [30, 16.24],
    [37.5, 20.3],
  ])("%f kg: %f m³ at 15 °C, 1 bar", (kg, m3) => {
    expect(Math.abs(volumeOf(kg, "trade") / m3 - 1)).toBeLessThan(0.001);
  });
});

describe("a cylinder that holds liquid", () => {
  /** Share of a 0.68 fill left when the last liquid is gone: trade sheet, Span & Wagner 1996. */
  test.each([
    [0, 0.14],
    [10, 0.2],
    [15.6, 0.24],
    [21, 0.3],
    [26.667, 0.39],
  ])("at %f °C the liquid is gone at %f of the fill", (celsius, share) => {
    const gone = liquidGoneKg(0.05, 273.15 + celsius);
    expect((gone ?? Number.NaN) / (0.68 * 50)).toBeCloseTo(share, 2);
  });

  test("pressure says nothing about content until the liquid is gone", () => {
    const at = (kg: number) => carbonDioxideCylinder(kg, 0.05, 293.15);
    for (const kg of [30, 20, 12]) {
      const state = at(kg);
      expect(state.ok && state.value.phase).toBe("liquid-and-vapour");
      expect(state.ok && state.value.pressurePa).toBe(vapourPressurePa(293.15));
      expect(state.ok && state.value.liquidKg + state.value.vapourKg).toBeCloseTo(kg, 9);
    }
    const last = at(9);
    expect(last.ok && last.value.phase).toBe("vapour");
    expect(last.ok && last.value.pressurePa).toBeLessThan(vapourPressurePa(293.15));
  });

  test("the two phases fill the cylinder", () => {
    const state = carbonDioxideCylinder(20, 0.05, 293.15);
    // 773.387 and 194.2016 kg/m³ at 20 °C: Span & Wagner 1996.
    expect(
      state.ok && state.value.liquidKg / 773.387 + state.value.vapourKg / 194.2016,
    ).toBeCloseTo(0.05, 5);
  });

  test("above 30.98 °C there is no liquid, and the answer says so", () => {
    const state = carbonDioxideCylinder(20, 0.05, 310);
    expect(state.ok && state.value.phase).toBe("supercritical");
    expect(liquidGoneKg(0.05, 310)).toBeNull();
  });

  test("a 0.68 fill becomes liquid-full near 24 °C, and then the pressure climbs steeply", () => {
    // Saturated liquid has 680 kg/m³ between 298.15 (710.5) and 301.15 K (655.3): Span & Wagner 1996.
    const full = liquidFullTemperatureK(34, 0.05);
    expect(full).toBeGreaterThan(298.15);
    expect(full).toBeLessThan(301.15);
    const pressure = (K: number) => {
      const state = carbonDioxideCylinder(34, 0.05, K);
      return state.ok ? state.value.pressurePa : Number.NaN;
    };
    const above = (full ?? 0) + 1;
    const state = carbonDioxideCylinder(34, 0.05, above);
    expect(state.ok && state.value.phase).toBe("liquid-full");
    expect(pressure(above + 1) - pressure(above)).toBeGreaterThan(3e5);
    expect(liquidFullTemperatureK(20, 0.05)).toBeNull();
  });

  test("dry ice below the triple point, with the pressure of its vapour", () => {
    const state = carbonDioxideCylinder(20, 0.05, 200);
    expect(state.ok && state.value.phase).toBe("dry-ice-and-vapour");
    // 1.55 bar at 200 K: sublimation curve of Span & Wagner 1996, from memory.
    expect(state.ok && Math.abs(state.value.pressurePa / 1.55e5 - 1)).toBeLessThan(0.02);
    expect(state.ok && state.value.dryIceKg + state.value.vapourKg).toBeCloseTo(20, 9);
  });

  test("what was drawn is gone, and never more than there was", () => {
    expect(remainingKg(20, 100)).toBeCloseTo(20 - 100 * 0.0440095, 12);
    expect(remainingKg(1, 1000)).toBe(0);
  });

  test("any mass and temperature: the phases add up and pressure never falls with content", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 45, noNaN: true }),
        fc.double({ min: 180, max: 340, noNaN: true }),
        (kg, K) => {
          const less = carbonDioxideCylinder(kg, 0.05, K);
          const more = carbonDioxideCylinder(kg + 0.5, 0.05, K);
          if (less.ok && more.ok) {
            const { liquidKg, vapourKg, dryIceKg, pressurePa } = less.value;
            expect(liquidKg + vapourKg + dryIceKg).toBeCloseTo(kg, 6);
            expect(more.value.pressurePa).toBeGreaterThanOrEqual(pressurePa * (1 - 1e-9));
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  test.each([
    [-1, 0.05, 293],
    [20, 0, 293],
    [20, 0.05, Number.NaN],
    [100, 0.05, 293],
  ])("%f kg in %f m³ at %f K is refused", (kg, m3, K) => {
    const state = carbonDioxideCylinder(kg, m3, K);
    expect(!state.ok && state.error.code).toBe("PHYSICS_RANGE");
  });
});

test("no number gives no answer", () => {
  expect(() => remainingKg(Number.NaN, 10)).toThrow(/filledKg is NaN/);
  expect(() => remainingKg(20, Number.NaN)).toThrow(/drawnMol is NaN/);
  expect(() => liquidGoneKg(Number.NaN, 293.15)).toThrow(/waterVolumeM3 is NaN/);
  expect(() => liquidFullTemperatureK(Number.NaN, 0.03)).toThrow(/massKg is NaN/);
});

test("dry ice sinks: 1512 kg/m³ near the triple point (CRC Handbook, from memory; within 2 %)", () => {
  // A full block: 1.4 kg in a litre leaves about 7 % of the volume to the vapour.
  const at = carbonDioxideCylinder(1.4, 1e-3, 200);
  expect(at.ok).toBe(true);
  if (at.ok) {
    const { dryIceKg, vapourKg, pressurePa } = at.value;
    const vapourM3 = vapourKg / (carbonDioxide.densityMolPerM3(pressurePa, 200) * 0.0440095);
    expect(Math.abs(dryIceKg / (1e-3 - vapourM3) / 1512 - 1)).toBeLessThan(0.02);
  }
});
