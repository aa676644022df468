import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { createMixture, type Mixture } from "../../../shared-core/gases/mixture.ts";

/**
 * Every row of the reference file (NIST's routines for AGA 8 Part 2; see its head). Tolerances:
 * Z and density 1e-10, cp, cv, Joule-Thomson and speed of sound 1e-9 relative, enthalpy 1e-4 J/mol.
 */
const path = new URL("../../reference/gerg2008-points.csv", import.meta.url);
const rows = readFileSync(path, "utf8")
  .split("\n")
  .filter((line) => line !== "" && !line.startsWith("#") && !line.startsWith("gas,"))
  .map((line) => {
    const [gas = "", ...texts] = line.split(",");
    return { gas, values: texts.map(Number) };
  });

const mixtures = new Map<string, Mixture>();

function mixtureOf(values: number[]): Mixture {
  const fractions = values.slice(0, 6);
  const key = fractions.join();
  let mixture = mixtures.get(key);
  if (mixture === undefined) {
    const [Ar, CO2, He, N2, O2, H2] = fractions;
    mixture = createMixture({ Ar, CO2, He, N2, O2, H2 });
    mixtures.set(key, mixture);
  }
  return mixture;
}

function expectRelative(name: string, actual: number, expected: number, tolerance: number): void {
  expect(Math.abs(actual / expected - 1), `${name}: ${actual} for ${expected}`).toBeLessThan(
    tolerance,
  );
}

describe("GERG-2008 against NIST's reference routines", () => {
  test("the file has all its 252 rows", () => {
    expect(rows).toHaveLength(252);
  });

  test.each(rows)("$gas at $values.6 K, $values.7 kPa", ({ values }) => {
    const [T = 0, kPa = 0, Z = 0, rho = 0, h = 0, cp = 0, cv = 0, jt = 0, w = 0] = values.slice(6);
    const answer = mixtureOf(values).state(kPa * 1000, T);
    if (!answer.ok) {
      throw answer.error;
    }
    const state = answer.value;
    expectRelative("Z", state.compressibility, Z, 1e-10);
    expectRelative("density", state.densityMolPerM3 / 1000, rho, 1e-10);
    expectRelative("cp", state.cpJPerMolK, cp, 1e-9);
    expectRelative("cv", state.cvJPerMolK, cv, 1e-9);
    expectRelative("Joule-Thomson", state.jouleThomsonKPerPa * 1000, jt, 1e-9);
    expectRelative("speed of sound", state.speedOfSoundMPerS, w, 1e-9);
    expect(Math.abs(state.enthalpyJPerMol - h), "enthalpy").toBeLessThan(1e-4);
  });
});
