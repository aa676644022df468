import { describe, expect, test } from "vitest";
import {
  molPerSAtReynolds,
  nozzleExit,
  REYNOLDS_LIMIT,
} from "../../../shared-core/nozzle/exit-flow.ts";
import {
  molPerSOfLitresPerMinute,
  standardLitresPerMinute,
} from "../../../shared-core/units/reference-conditions.ts";
import { type GasName, gases } from "../flow/gases-for-tests.ts";

const T = 293.15;

/** Trade sheet, section 4, computed with CoolProp 8.0's viscosities; Re = 4 rho Q / (pi D mu). */
describe("nozzle exit", () => {
  test.each([
    ["Ar", 1477],
    ["Ar-25CO2", 1681],
    ["CO2", 2480],
  ] as [GasName, number][])("15 L/min (US) of %s in 16 mm: Re %f", (gas, reynolds) => {
    const molPerS = molPerSOfLitresPerMinute(15, gases[gas], "us");
    const exit = nozzleExit(gases[gas], molPerS, 0.016, 101_325, T);
    expect(exit.ok && Math.abs(exit.value.reynolds / reynolds - 1)).toBeLessThan(0.015);
    expect(exit.ok && exit.value.turbulentBore).toBe(reynolds > REYNOLDS_LIMIT);
  });

  test("15 L/min (US) of argon leave 16 mm at 1.24 m/s", () => {
    const molPerS = molPerSOfLitresPerMinute(15, gases.Ar, "us");
    const exit = nozzleExit(gases.Ar, molPerS, 0.016, 101_325, T);
    expect(exit.ok && exit.value.velocityMPerS).toBeCloseTo(1.24, 2);
  });

  test.each([
    ["Ar", [13.9, 18.5, 23.4, 27.7]],
    ["Ar-25CO2", [12.2, 16.3, 20.5, 24.4]],
    ["CO2", [8.3, 11.0, 13.9, 16.5]],
    ["He", [122, 163, 205, 244]],
  ] as [GasName, number[]][])(
    "%s reaches Re 2300 in 9.5, 12.7, 16, 19 mm at %o L/min",
    (gas, flows) => {
      for (const [k, bore] of [9.5, 12.7, 16, 19].entries()) {
        const molPerS = molPerSAtReynolds(gases[gas], 2300, bore / 1000, T);
        const flow = standardLitresPerMinute(molPerS, gases[gas], "us");
        expect(Math.abs(flow / (flows[k] ?? 0) - 1)).toBeLessThan(0.02);
      }
    },
  );

  test.each([
    [-1, 0.016, /molPerS is -1/],
    [1e-3, 0, /boreM is 0/],
    [1e-3, 16, /boreM is 16/],
    [Number.NaN, 0.016, /molPerS is NaN/],
  ])("%f mol/s through %f m is refused", (molPerS, bore, message) => {
    const exit = nozzleExit(gases.Ar, molPerS, bore, 101_325, T);
    expect(!exit.ok && exit.error.message).toMatch(message);
  });
});

test("the bore counts as turbulent from Re 2300 on (textbook limit of pipe flow, Perry)", () => {
  const at = (reynolds: number) => {
    const molPerS = molPerSAtReynolds(gases.Ar, reynolds, 0.016, 293.15);
    const exit = nozzleExit(gases.Ar, molPerS, 0.016, 101_325, 293.15);
    return exit.ok && exit.value.turbulentBore;
  };
  expect([at(2290), at(2310)]).toEqual([false, true]);
});
