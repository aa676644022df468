import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { criticalFlow, tabulateCriticalFlow } from "../../../shared-core/flow/critical-flow.ts";
import {
  idealCriticalFlowFunction,
  idealCriticalRatio,
} from "../../../shared-core/flow/thin-plate.ts";
import type { GasSymbol } from "../../../shared-core/gases/composition.ts";
import { createMixture } from "../../../shared-core/gases/mixture.ts";
import { type GasName, gases } from "./gases-for-tests.ts";

const rows = readFileSync(new URL("../../reference/critical-flow.csv", import.meta.url), "utf8")
  .split("\n")
  .filter((line) => /^(Ar|CO2|He|N2),/.test(line))
  .map((line) => {
    const [gas, ...numbers] = line.split(",");
    return { gas: gas as GasSymbol, values: numbers.map(Number) };
  });

describe("real-gas critical flow", () => {
  test("the file has its 54 rows", () => {
    expect(rows).toHaveLength(54);
  });

  /** Isentropic expansion with other equations of state (CoolProp 8.0); definition of ISO 9300. */
  test.each(rows)("$gas at $values.0 K, $values.1 kPa within 0.1 %", ({ gas, values }) => {
    const [T = 0, kPa = 0, flowFunction = 0, ratio = 0] = values;
    const actual = criticalFlow(createMixture({ [gas]: 1 }), kPa * 1000, T);
    expect(Math.abs(actual.criticalFlowFunction / flowFunction - 1)).toBeLessThan(0.001);
    expect(Math.abs(actual.criticalPressureRatio / ratio - 1)).toBeLessThan(0.001);
  });

  /** Ideal gas at 20 °C: closed form (any gas-dynamics textbook); trade sheet, all computed. */
  test.each([
    ["Ar", 1.6667, 0.7262, 0.4871],
    ["He", 1.6667, 0.7262, 0.4871],
    ["N2", 1.4, 0.6847, 0.528],
    ["CO2", 1.291, 0.6656, 0.547],
    ["Ar-25CO2", 1.504, 0.7017, 0.511],
    ["Ar-18CO2", 1.541, 0.7075, 0.506],
  ] as [GasName, number, number, number][])("%s, ideal", (gas, gamma, flowFunction, ratio) => {
    const mixture = gases[gas];
    const thin = 1e-3;
    const actual = mixture.cpJPerMolK(thin, 293.15) / mixture.cvJPerMolK(thin, 293.15);
    expect(Math.abs(actual - gamma)).toBeLessThan(0.002);
    expect(Math.abs(idealCriticalFlowFunction(gamma) - flowFunction)).toBeLessThan(0.0001);
    expect(Math.abs(idealCriticalRatio(gamma) - ratio)).toBeLessThan(0.0006);
    // The real gas joins the ideal one at low pressure (gamma changes a little on the way down).
    const real = criticalFlow(mixture, 1000, 293.15);
    expect(Math.abs(real.criticalFlowFunction / flowFunction - 1)).toBeLessThan(0.003);
  });

  test("mass flow per area and bar at 20 °C, trade sheet: Ar 0.2940 g/(s mm² bar), He 0.0931", () => {
    const perBar = (gas: GasName) =>
      criticalFlow(gases[gas], 1e4, 293.15).molarFluxMolPerSM2 *
      gases[gas].molarMassKgPerMol *
      1e3 *
      1e-6 *
      10;
    expect(perBar("Ar")).toBeCloseTo(0.294, 3);
    expect(perBar("He")).toBeCloseTo(0.0931, 3);
    expect(perBar("N2")).toBeCloseTo(0.2321, 3);
  });
});

describe("the table for loops", () => {
  test.each(["Ar", "Ar-25CO2", "He", "N2", "CO2"] as GasName[])("%s within 2e-4", (gas) => {
    const table = tabulateCriticalFlow(gases[gas]);
    for (let bar = 1; bar <= 12; bar += 1.7) {
      for (let T = 262; T <= 330; T += 9) {
        const exact = criticalFlow(gases[gas], bar * 1e5, T).criticalFlowFunction;
        expect(Math.abs(table(bar * 1e5, T) / exact - 1)).toBeLessThan(2e-4);
      }
    }
  });
});
