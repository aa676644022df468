import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { coldLimitK, dewPointK, gasPhase } from "../../../shared-core/gases/dew-point.ts";
import { createMixture } from "../../../shared-core/gases/mixture.ts";

const saturatedVapour = readFileSync(
  new URL("../../reference/co2-saturation.csv", import.meta.url),
  "utf8",
)
  .split("\n")
  .filter((line) => /^\d/.test(line))
  .map((line) => line.split(",").map(Number))
  .filter(([K = 0]) => K < 303)
  .map(([K = 0, , , vapour = 0]): [number, number] => [K, vapour]);

const mix25 = createMixture({ Ar: 0.75, CO2: 0.25 });

describe("dew point of gases with CO2", () => {
  /** Computed with CoolProp 8.0's multi-fluid model, another equation than this one. */
  test.each([
    [20, -61],
    [40, -48],
    [60, -41],
    [80, -38],
  ])("Ar-25CO2 at %f bar: %f °C within 1 K", (bar, celsius) => {
    const answer = dewPointK(mix25, bar * 1e5);
    expect(answer.ok && answer.value !== null).toBe(true);
    if (answer.ok && answer.value !== null) {
      expect(Math.abs(answer.value - 273.15 - celsius)).toBeLessThan(1);
    }
  });

  test("pure CO2: its saturation temperature, 20 °C at 57.29 bar", () => {
    const answer = dewPointK(createMixture({ CO2: 1 }), 57.29e5);
    expect(answer.ok && answer.value).toBeCloseTo(293.15, 1);
  });

  test("gases without CO2 stay gases", () => {
    for (const composition of [{ Ar: 1 }, { Ar: 0.75, He: 0.25 }, { N2: 0.9, H2: 0.1 }]) {
      expect(dewPointK(createMixture(composition), 100e5)).toEqual({ ok: true, value: null });
    }
  });

  test("more CO2 condenses earlier", () => {
    const points = [0.08, 0.18, 0.25, 0.5].map((CO2) => {
      const answer = dewPointK(createMixture({ Ar: 1 - CO2, CO2 }), 50e5);
      return answer.ok ? (answer.value ?? 0) : Number.NaN;
    });
    expect(points).toEqual([...points].sort((a, b) => a - b));
  });

  test("a full cylinder of 75/25 stays a gas on any cold night, down to about -36 °C", () => {
    const limit = coldLimitK(mix25, 151e5, 293.15);
    expect(limit.ok && limit.value !== null).toBe(true);
    if (limit.ok && limit.value !== null) {
      expect(limit.value - 273.15).toBeLessThan(-30);
      expect(limit.value - 273.15).toBeGreaterThan(-45);
      const density = mix25.densityMolPerM3(151e5, 293.15);
      const just = (K: number) => gasPhase(mix25, mix25.pressurePa(density, K), K);
      expect(just(limit.value + 0.5)).toEqual({ ok: true, value: "gas" });
      expect(just(limit.value - 0.5)).toEqual({ ok: true, value: "may-condense" });
    }
  });

  const carbonDioxide = createMixture({ CO2: 1 });

  test("pure CO2 at its vapour pressure may lie over liquid, just below it too", () => {
    // 57.29 bar at 20 °C: Span & Wagner 1996.
    expect(gasPhase(carbonDioxide, 57.29e5, 293.15)).toEqual({ ok: true, value: "may-condense" });
    expect(gasPhase(carbonDioxide, 56.4e5, 293.15)).toEqual({ ok: true, value: "may-condense" });
    expect(gasPhase(carbonDioxide, 55e5, 293.15)).toEqual({ ok: true, value: "gas" });
    expect(gasPhase(carbonDioxide, 80e5, 313.15)).toEqual({ ok: true, value: "gas" });
  });

  /** Saturated vapour of tests/reference/co2-saturation.csv (Span & Wagner 1996). */
  test.each(saturatedVapour)("CO2 vapour of %f K and %f kg/m³ condenses there", (K, kgPerM3) => {
    const warm = 320;
    const pressurePa = carbonDioxide.pressurePa(kgPerM3 / 0.0440095, warm);
    const limit = coldLimitK(carbonDioxide, pressurePa, warm);
    expect(limit.ok && Math.abs((limit.value ?? 0) - K)).toBeLessThan(0.1);
  });

  test("CO2 denser than critical turns into a liquid at the critical temperature", () => {
    const limit = coldLimitK(carbonDioxide, 100e5, 313.15);
    expect(limit.ok && Math.abs((limit.value ?? 0) - 304.1282)).toBeLessThan(0.1);
  });

  test("thin CO2 stays a gas", () => {
    expect(coldLimitK(carbonDioxide, 0.5e5, 293.15)).toEqual({ ok: true, value: null });
  });
});
