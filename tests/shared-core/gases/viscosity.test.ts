import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { GasSymbol } from "../../../shared-core/gases/composition.ts";
import { viscosityPaS } from "../../../shared-core/gases/viscosity.ts";

const rows = readFileSync(new URL("../../reference/viscosity.csv", import.meta.url), "utf8")
  .split("\n")
  .filter((line) => /^(Ar|CO2|He|N2|O2|H2),/.test(line))
  .map((line) => {
    const [gas, T, viscosity] = line.split(",");
    return { gas: gas as GasSymbol, T: Number(T), viscosity: Number(viscosity) };
  });

describe("viscosity", () => {
  test("the file has its 42 rows", () => {
    expect(rows).toHaveLength(42);
  });

  /** CoolProp 8.0's dilute-gas correlations; see the file's head. */
  test.each(rows)("$gas at $T K: $viscosity µPa s within 1 %", ({ gas, T, viscosity }) => {
    const actual = viscosityPaS({ [gas]: 1 }, T) * 1e6;
    expect(Math.abs(actual / viscosity - 1)).toBeLessThan(0.01);
  });

  test("Ar-25CO2 at 20 °C: 20.1 µPa s (trade sheet, its mixing rule not named), within 2 %", () => {
    const actual = viscosityPaS({ Ar: 0.75, CO2: 0.25 }, 293.15) * 1e6;
    expect(Math.abs(actual / 20.1 - 1)).toBeLessThan(0.02);
  });

  test("mixing nothing changes nothing, and a mixture of equals is the gas itself", () => {
    expect(viscosityPaS({ Ar: 1 - 1e-12, He: 1e-12 }, 300)).toBeCloseTo(
      viscosityPaS({ Ar: 1 }, 300),
      12,
    );
  });
});

test("a temperature that cannot be is refused", () => {
  for (const temperatureK of [Number.NaN, -5, 20]) {
    expect(() => viscosityPaS({ Ar: 1 }, temperatureK)).toThrow(/temperatureK is/);
  }
});
