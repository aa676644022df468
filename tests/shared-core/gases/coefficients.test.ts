import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { binaryPairs, unfittedPairs } from "../../../shared-core/gases/binary-pairs.ts";
import { type GasSymbol, gasSymbols } from "../../../shared-core/gases/composition.ts";
import { gasData } from "../../../shared-core/gases/gas-data.ts";

/** Kunz & Wagner 2012 as collected in the reference file; see its `source`. */
type Coefficients = {
  components: {
    name: GasSymbol;
    molarMass_g_per_mol: number;
    criticalDensity_mol_per_L: number;
    criticalTemperature_K: number;
    residual_n_d_t_c: number[][];
    idealGas_n3_to_n7: number[];
    idealGas_theta4_to_theta7_K: number[];
  }[];
  pairs: {
    i: GasSymbol;
    j: GasSymbol;
    beta_v: number;
    gamma_v: number;
    beta_T: number;
    gamma_T: number;
    F: number;
  }[];
  departures: Record<string, { terms_n_d_t_eta_epsilon_beta_gamma: number[][] }>;
};
const reference = JSON.parse(
  readFileSync(new URL("../../reference/gerg2008-coefficients.json", import.meta.url), "utf8"),
) as Coefficients;

describe("coefficients of GERG-2008", () => {
  test.each(reference.components)("$name", (expected) => {
    const actual = gasData[expected.name];
    expect(actual.residualTerms).toEqual(expected.residual_n_d_t_c);
    expect(actual.molarMassKgPerMol * 1000).toBeCloseTo(expected.molarMass_g_per_mol, 10);
    expect(actual.criticalDensityMolPerM3 / 1000).toBeCloseTo(
      expected.criticalDensity_mol_per_L,
      10,
    );
    expect(actual.criticalTemperatureK).toBe(expected.criticalTemperature_K);
    const [n3, n4 = 0, n5 = 0, n6 = 0, n7 = 0] = expected.idealGas_n3_to_n7;
    const [t4 = 0, t5 = 0, t6 = 0, t7 = 0] = expected.idealGas_theta4_to_theta7_K;
    const present = (terms: [number, number][]) => terms.filter(([n]) => n !== 0);
    expect(actual.idealHeatCapacity.constant).toBe(n3);
    expect(actual.idealHeatCapacity.sinhTerms).toEqual(
      present([
        [n4, t4],
        [n6, t6],
      ]),
    );
    expect(actual.idealHeatCapacity.coshTerms).toEqual(
      present([
        [n5, t5],
        [n7, t7],
      ]),
    );
  });

  test("all fifteen pairs are there, fitted or listed as not", () => {
    expect(reference.pairs).toHaveLength((gasSymbols.length * (gasSymbols.length - 1)) / 2);
    for (const { i, j, beta_v, gamma_v, beta_T, gamma_T, F } of reference.pairs) {
      const pair = binaryPairs.find(({ first, second }) => first === i && second === j);
      if (pair === undefined) {
        expect([beta_v, gamma_v, beta_T, gamma_T, F]).toEqual([1, 1, 1, 1, 0]);
        expect(unfittedPairs.some((gases) => gases.includes(i) && gases.includes(j))).toBe(true);
      } else {
        expect([pair.betaV, pair.gammaV, pair.betaT, pair.gammaT]).toEqual([
          beta_v,
          gamma_v,
          beta_T,
          gamma_T,
        ]);
        expect(pair.departure !== null).toBe(F === 1);
      }
    }
  });

  test("the departure function of N2-CO2", () => {
    const pair = binaryPairs.find(({ departure }) => departure !== null);
    expect(pair?.departure).toEqual(
      reference.departures["N2-CO2"]?.terms_n_d_t_eta_epsilon_beta_gamma,
    );
  });
});
