import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { Composition } from "../../../shared-core/gases/composition.ts";
import { createMixture } from "../../../shared-core/gases/mixture.ts";
import { densityRelativeSigmaAt } from "../../../shared-core/gases/model-uncertainty.ts";

/**
 * CoolProp 8.0, a general-purpose open-source library: reference equations of other authors for
 * the pure gases and a multi-fluid model for mixtures. Not GERG-2008, so the difference shows
 * how far to trust the equation itself.
 */
const rows = readFileSync(new URL("../../reference/third-opinion.csv", import.meta.url), "utf8")
  .split("\n")
  .filter((line) => line !== "" && !/^(#|composition)/.test(line))
  .map((line) => {
    const [gas = "", ...texts] = line.split(",");
    const composition = Object.fromEntries(
      gas.split(" ").map((part) => {
        const [symbol, fraction] = part.split("=");
        return [symbol, Number(fraction)];
      }),
    ) as Composition;
    return { gas, composition, values: texts.map(Number) };
  });

/** Relative tolerances: density, heat capacities, speed of sound; K/kPa for Joule-Thomson. */
function tolerances(composition: Composition): [number, number, number, number] {
  const carbonDioxide = composition.CO2 ?? 0;
  if (carbonDioxide > 0 && carbonDioxide < 1) {
    return [0.01, 0.07, 0.035, 2.5e-4];
  }
  return [0.002, 0.007, 0.007, 6e-5];
}

describe("a third opinion: CoolProp 8.0", () => {
  test("the file has its rows", () => {
    expect(rows.length).toBeGreaterThan(200);
  });

  test.each(rows)("$gas at $values.0 K, $values.1 kPa", ({ composition, values }) => {
    const [T = 0, kPa = 0, density = 0, cp = 0, cv = 0, sound = 0, jouleThomson = 0] = values;
    const mixture = createMixture(composition);
    const answer = mixture.state(kPa * 1000, T);
    if (!answer.ok) {
      throw answer.error;
    }
    const state = answer.value;
    const [densityTolerance, heat, speed, throttling] = tolerances(composition);
    expect(Math.abs(state.densityMolPerM3 / 1000 / density - 1)).toBeLessThan(densityTolerance);
    expect(Math.abs(state.cpJPerMolK / cp - 1)).toBeLessThan(heat);
    expect(Math.abs(state.cvJPerMolK / cv - 1)).toBeLessThan(heat);
    expect(Math.abs(state.speedOfSoundMPerS / sound - 1)).toBeLessThan(speed);
    expect(Math.abs(state.jouleThomsonKPerPa * 1000 - jouleThomson)).toBeLessThan(throttling);
  });

  test("the stated model uncertainty covers the difference: within 2 sigma nearly everywhere", () => {
    const covered = rows.filter(({ composition, values }) => {
      const [T = 0, kPa = 0, density = 0] = values;
      const mixture = createMixture(composition);
      const actual = mixture.densityMolPerM3(kPa * 1000, T) / 1000;
      return Math.abs(actual / density - 1) <= 2 * densityRelativeSigmaAt(mixture, kPa * 1000, T);
    });
    expect(covered.length / rows.length).toBeGreaterThan(0.97);
  });
});
