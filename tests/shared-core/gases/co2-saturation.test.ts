import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  criticalPoint,
  heatOfVaporizationJPerKg,
  highestGasPressurePa,
  saturatedLiquidKgPerM3,
  saturatedVapourKgPerM3,
  saturationTemperatureK,
  sublimationPressurePa,
  triplePoint,
  vapourPressurePa,
} from "../../../shared-core/gases/co2-saturation.ts";
import { createMixture } from "../../../shared-core/gases/mixture.ts";
import { PSI_PA } from "../../../shared-core/units/factors.ts";

const rows = readFileSync(new URL("../../reference/co2-saturation.csv", import.meta.url), "utf8")
  .split("\n")
  .filter((line) => /^\d/.test(line))
  .map((line) => line.split(",").map(Number));

describe("CO2 saturation against Span & Wagner 1996", () => {
  test("the file has its rows from triple point to 304 K", () => {
    expect(rows).toHaveLength(23);
  });

  test.each(rows)("at %f K", (T, kPa, liquid, vapour, heat) => {
    const nearCritical = criticalPoint.temperatureK - T < 1;
    const densityTolerance = nearCritical ? 0.02 : 0.001;
    expect(Math.abs(vapourPressurePa(T) / (kPa * 1000) - 1)).toBeLessThan(0.001);
    expect(Math.abs(saturatedLiquidKgPerM3(T) / liquid - 1)).toBeLessThan(densityTolerance);
    expect(Math.abs(saturatedVapourKgPerM3(T) / vapour - 1)).toBeLessThan(densityTolerance);
    expect(Math.abs(heatOfVaporizationJPerKg(T) / (heat * 1000) - 1)).toBeLessThan(
      nearCritical ? 0.02 : 0.001,
    );
  });

  /** The sheet's values [C], computed from Span & Wagner 1996; psig = psia - 14.696. */
  test.each([
    [0, 291],
    [32, 491],
    [50, 638],
    [60, 733],
    [70, 838],
    [80, 955],
    [87, 1045],
  ])("%f °F: %f psig", (fahrenheit, psig) => {
    const T = 273.15 + (fahrenheit - 32) / 1.8;
    expect(Math.abs(vapourPressurePa(T) / PSI_PA - 14.696 - psig)).toBeLessThan(0.6);
  });
});

test("the constants are those of the reference file, term by term", () => {
  const file = JSON.parse(
    readFileSync(new URL("../../reference/co2-saturation-equations.json", import.meta.url), "utf8"),
  ) as Record<string, [number, number][]>;
  const sum = (name: string, theta: number) =>
    (file[name] ?? []).reduce((total, [a, t]) => total + a * theta ** t, 0);
  for (const T of [220, 250, 280, 300]) {
    const theta = 1 - T / 304.1282;
    const pressure = 7377300 * Math.exp((304.1282 / T) * sum("vapourPressure_a_t", theta));
    expect(vapourPressurePa(T) / pressure).toBeCloseTo(1, 12);
    const liquid = 467.6 * Math.exp(sum("liquidDensity_a_t", theta));
    expect(saturatedLiquidKgPerM3(T) / liquid).toBeCloseTo(1, 12);
    const vapour = 467.6 * Math.exp(sum("vapourDensity_a_t", theta));
    expect(saturatedVapourKgPerM3(T) / vapour).toBeCloseTo(1, 12);
  }
});

describe("edges of saturation", () => {
  test("triple and critical point are the ends, and both ends answer", () => {
    expect(
      Math.abs(vapourPressurePa(triplePoint.temperatureK) / triplePoint.pressurePa - 1),
    ).toBeLessThan(1e-4);
    expect(vapourPressurePa(criticalPoint.temperatureK)).toBe(criticalPoint.pressurePa);
    expect(saturatedLiquidKgPerM3(criticalPoint.temperatureK)).toBe(criticalPoint.densityKgPerM3);
    expect(saturatedVapourKgPerM3(criticalPoint.temperatureK)).toBe(criticalPoint.densityKgPerM3);
  });

  test.each([216.5, 304.13, Number.NaN, -1])("%f K is refused and says why", (T) => {
    expect(() => vapourPressurePa(T)).toThrow(/GAS_NO_SATURATION.*triple point.*critical point/);
  });

  test.each([1e5, 8e6, Number.NaN])("%f Pa is refused", (p) => {
    expect(() => saturationTemperatureK(p)).toThrow(/GAS_NO_SATURATION/);
  });

  test("temperature and pressure are inverse", () => {
    for (let T = 217; T < 304; T += 3) {
      expect(saturationTemperatureK(vapourPressurePa(T))).toBeCloseTo(T, 6);
    }
  });

  test("dry ice: 101.325 kPa at -78.46 °C (194.69 K; from memory of many handbooks)", () => {
    expect(Math.abs(sublimationPressurePa(194.686) / 101_325 - 1)).toBeLessThan(0.002);
    expect(sublimationPressurePa(triplePoint.temperatureK)).toBeCloseTo(triplePoint.pressurePa, 3);
    expect(() => sublimationPressurePa(230)).toThrow(/GAS_NO_SATURATION/);
  });

  test("what a gas may reach: infinite above the critical temperature", () => {
    expect(highestGasPressurePa(305)).toBe(Number.POSITIVE_INFINITY);
    expect(highestGasPressurePa(293.15)).toBe(vapourPressurePa(293.15));
    expect(highestGasPressurePa(200)).toBe(sublimationPressurePa(200));
  });
});

test("GERG-2008's saturated vapour meets Span & Wagner's within 0.3 % up to 298 K", () => {
  const mixture = createMixture({ CO2: 1 });
  for (const [T = 0, kPa = 0, , vapour = 0] of rows.filter(([T = 0]) => T < 299)) {
    const density = mixture.densityMolPerM3(kPa * 1000, T) * mixture.molarMassKgPerMol;
    expect(Math.abs(density / vapour - 1)).toBeLessThan(0.003);
  }
});
