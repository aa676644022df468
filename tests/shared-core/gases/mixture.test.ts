import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { PhysicsError } from "../../../shared-core/errors.ts";
import type { Composition } from "../../../shared-core/gases/composition.ts";
import { checkMixture, createMixture } from "../../../shared-core/gases/mixture.ts";

const gases: [string, Composition][] = [
  ["I1-Ar", { Ar: 1 }],
  ["C1-C", { CO2: 1 }],
  ["I2-He", { He: 1 }],
  ["M21-ArC-25", { Ar: 0.75, CO2: 0.25 }],
  ["M24-ArCO-8/2", { Ar: 0.9, CO2: 0.08, O2: 0.02 }],
  ["I3-ArHe-25", { Ar: 0.75, He: 0.25 }],
  ["N2-CO2, with a departure function", { N2: 0.6, CO2: 0.4 }],
  ["all six", { Ar: 0.3, CO2: 0.2, He: 0.1, N2: 0.2, O2: 0.1, H2: 0.1 }],
];

/** Central difference of f at x with a relative step. */
function slope(f: (x: number) => number, x: number, relative = 1e-5): number {
  const h = x * relative;
  return (f(x + h) - f(x - h)) / (2 * h);
}

/**
 * Thermodynamics itself as an independent check: every property is a derivative of the Helmholtz
 * energy a = u - T s (any textbook of thermodynamics), here by central differences.
 */
describe.each(gases)("properties of %s hang together", (_, composition) => {
  const mixture = createMixture(composition);
  const helmholtz = (rho: number, T: number) =>
    mixture.internalEnergyJPerMol(rho, T) - T * mixture.entropyJPerMolK(rho, T);
  const states: [number, number][] = [
    [310, 40],
    [330, 3000],
    [310, 8000],
    [420, 14_000],
  ];

  test.each(states)("at %f K, %f mol/m³", (T, rho) => {
    const close = (actual: number, expected: number, tolerance = 1e-6) =>
      expect(Math.abs(actual / expected - 1)).toBeLessThan(tolerance);
    close(mixture.pressurePa(rho, T), rho * rho * slope((x) => helmholtz(x, T), rho));
    close(mixture.entropyJPerMolK(rho, T), -slope((x) => helmholtz(rho, x), T));
    close(
      mixture.dPressureDDensity(rho, T),
      slope((x) => mixture.pressurePa(x, T), rho),
    );
    close(
      mixture.dPressureDTemperature(rho, T),
      slope((x) => mixture.pressurePa(rho, x), T),
    );
    close(
      mixture.cvJPerMolK(rho, T),
      slope((x) => mixture.internalEnergyJPerMol(rho, x), T),
    );
    const p = mixture.pressurePa(rho, T);
    const along = (x: number) => mixture.densityMolPerM3(p, x, rho);
    close(
      mixture.cpJPerMolK(rho, T),
      slope((x) => mixture.enthalpyJPerMol(along(x), x), T),
    );
    close(mixture.enthalpyJPerMol(rho, T), mixture.internalEnergyJPerMol(rho, T) + p / rho, 1e-9);
    // (dT/dp)_h = -(dh/dp)_T / cp
    const enthalpyAt = (x: number) => mixture.enthalpyJPerMol(mixture.densityMolPerM3(x, T), T);
    const jouleThomson = -slope(enthalpyAt, p) / mixture.cpJPerMolK(rho, T);
    expect(Math.abs(mixture.jouleThomsonKPerPa(rho, T) - jouleThomson)).toBeLessThan(1e-11);
  });
});

test("at low density the gas is ideal: p = rho R T, cp - cv = R, cp of argon 3/2 R* + R", () => {
  const argon = createMixture({ Ar: 1 });
  const R = 8.314472;
  expect(argon.pressurePa(1e-6, 300) / (1e-6 * R * 300)).toBeCloseTo(1, 9);
  expect(argon.cpJPerMolK(1e-6, 300) - argon.cvJPerMolK(1e-6, 300)).toBeCloseTo(R, 6);
  expect(argon.cpJPerMolK(1e-6, 300)).toBeCloseTo(1.5 * 8.31451 + R, 6);
});

test("mixing of ideal gases adds entropy -R sum x ln x", () => {
  const T = 298.15;
  const rho = 1e-4;
  const s = (composition: Composition) => createMixture(composition).entropyJPerMolK(rho, T);
  const mixing = s({ Ar: 0.75, He: 0.25 }) - 0.75 * s({ Ar: 1 }) - 0.25 * s({ He: 1 });
  expect(mixing).toBeCloseTo(-8.314472 * (0.75 * Math.log(0.75) + 0.25 * Math.log(0.25)), 5);
});

test("answers do not depend on what was asked before", () => {
  const fresh = () => createMixture({ Ar: 0.75, CO2: 0.25 });
  const used = fresh();
  used.cpJPerMolK(9000, 280);
  used.densityMolPerM3(2e7, 310);
  used.pressurePa(100, 290);
  expect(used.cvJPerMolK(9000, 280)).toBe(fresh().cvJPerMolK(9000, 280));
  expect(used.densityMolPerM3(5e6, 290)).toBe(fresh().densityMolPerM3(5e6, 290));
  expect(used.enthalpyJPerMol(100, 290)).toBe(fresh().enthalpyJPerMol(100, 290));
});

test("the order in which gases are named does not matter", () => {
  const one = createMixture({ CO2: 0.25, Ar: 0.75 }).densityMolPerM3(1e7, 290);
  expect(one).toBe(createMixture({ Ar: 0.75, CO2: 0.25 }).densityMolPerM3(1e7, 290));
});

test("fractions of all gases at once: random mixtures are smooth and positive", () => {
  const weight = fc.double({ min: 0, max: 1, noNaN: true });
  fc.assert(
    fc.property(fc.array(weight, { minLength: 6, maxLength: 6 }), (weights) => {
      const sum = weights.reduce((total, w) => total + w, 0);
      fc.pre(sum > 0.1);
      const [Ar = 0, CO2 = 0, He = 0, N2 = 0, O2 = 0, H2 = 0] = weights.map((w) => w / sum);
      const made = checkMixture({ Ar, CO2, He, N2, O2, H2 });
      expect(made.ok).toBe(true);
      if (made.ok) {
        const state = made.value.state(2e6, 330);
        expect(state.ok && state.value.compressibility > 0.5).toBe(true);
      }
    }),
    { numRuns: 100 },
  );
});

describe("bad input is refused with the value and the limit", () => {
  const argon = createMixture({ Ar: 1 });
  const carbonDioxide = createMixture({ CO2: 1 });

  test.each([
    ["temperature too low", 1e5, 59, "GAS_TEMPERATURE_RANGE", "60"],
    ["temperature too high", 1e5, 701, "GAS_TEMPERATURE_RANGE", "700"],
    ["temperature not a number", 1e5, Number.NaN, "GAS_TEMPERATURE_RANGE", "NaN"],
    ["pressure zero", 0, 300, "GAS_PRESSURE_RANGE", "0"],
    ["pressure negative", -5, 300, "GAS_PRESSURE_RANGE", "-5"],
    ["pressure too high", 70.1e6, 300, "GAS_PRESSURE_RANGE", "70000000"],
    ["pressure infinite", Number.POSITIVE_INFINITY, 300, "GAS_PRESSURE_RANGE", "Infinity"],
    ["pressure not a number", Number.NaN, 300, "GAS_PRESSURE_RANGE", "NaN"],
  ])("%s", (_, pressurePa, temperatureK, code, text) => {
    const answer = argon.state(pressurePa, temperatureK);
    expect(answer.ok).toBe(false);
    if (!answer.ok) {
      expect(answer.error.code).toBe(code);
      expect(answer.error.message).toContain(text);
    }
    expect(argon.densityOrNaN(pressurePa, temperatureK)).toBeNaN();
    expect(() => argon.densityMolPerM3(pressurePa, temperatureK)).toThrow(PhysicsError);
  });

  test.each([-1, Number.NaN, Number.POSITIVE_INFINITY, 1e6])("density %f", (density) => {
    const answer = argon.stateAtDensity(density, 300);
    expect(!answer.ok && answer.error.code).toBe("GAS_DENSITY_RANGE");
    expect(() => argon.pressurePa(density, 300)).toThrow(PhysicsError);
  });

  test("pure CO2 above its vapour pressure is not called a gas", () => {
    // Vapour pressure at 20 °C: 57.29 bar (Span & Wagner 1996).
    expect(carbonDioxide.state(57.2e5, 293.15).ok).toBe(true);
    const answer = carbonDioxide.state(58e5, 293.15);
    expect(!answer.ok && answer.error.code).toBe("GAS_NOT_VAPOUR");
    expect(!answer.ok && answer.error.message).toContain("only up to 5.729");
  });
});
