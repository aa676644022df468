import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { vapourPressurePa } from "../../../shared-core/gases/co2-saturation.ts";
import type { Composition } from "../../../shared-core/gases/composition.ts";
import { createMixture } from "../../../shared-core/gases/mixture.ts";

const gases: [string, Composition][] = [
  ["I1-Ar", { Ar: 1 }],
  ["I2-He", { He: 1 }],
  ["N1-N", { N2: 1 }],
  ["O1-O", { O2: 1 }],
  ["hydrogen", { H2: 1 }],
  ["M20-ArC-8", { Ar: 0.92, CO2: 0.08 }],
  ["M21-ArC-25", { Ar: 0.75, CO2: 0.25 }],
  ["M31-ArC-40", { Ar: 0.6, CO2: 0.4 }],
  ["I3-ArHe-75", { He: 0.75, Ar: 0.25 }],
  ["R1-ArH-5", { Ar: 0.95, H2: 0.05 }],
  ["M26-ArCO-20/2", { Ar: 0.78, CO2: 0.2, O2: 0.02 }],
  ["C1-C above its critical point", { CO2: 1 }],
];

describe.each(gases)("density of %s", (_, composition) => {
  const mixture = createMixture(composition);
  const lowestK = Math.max(90, mixture.loopTemperatureK * 1.001);
  const temperature = fc.double({ min: lowestK, max: 450, noNaN: true });
  const pressure = fc.double({ min: Math.log(1), max: Math.log(35e6), noNaN: true }).map(Math.exp);
  const guess = fc.oneof(
    fc.constant(0),
    fc.double({ min: 1e-9, max: 60_000, noNaN: true }),
    fc.constantFrom(-1, Number.NaN, Number.POSITIVE_INFINITY, 1e300),
  );

  test("inverts pressure over the whole range, whatever the guess", () => {
    fc.assert(
      fc.property(pressure, temperature, guess, (p, T, start) => {
        const rho = mixture.densityMolPerM3(p, T, start);
        const back = mixture.pressurePa(rho, T);
        // 1e-10 in density; near a critical point pressure hardly depends on density at all.
        const sensitivity = (mixture.dPressureDDensity(rho, T) * rho) / p;
        expect(Math.abs(back / p - 1)).toBeLessThan(1e-10 * Math.max(sensitivity, 1e-2) + 1e-13);
      }),
      { numRuns: 300 },
    );
  });

  test("rises with pressure, falls with temperature", () => {
    fc.assert(
      fc.property(pressure, temperature, (p, T) => {
        const rho = mixture.densityMolPerM3(p, T);
        expect(rho).toBeGreaterThan(0);
        if (p < 34e6) {
          expect(mixture.densityMolPerM3(p * 1.01, T)).toBeGreaterThan(rho);
        }
        if (T < 449) {
          expect(mixture.densityMolPerM3(p, T * 1.002)).toBeLessThan(rho);
        }
      }),
      { numRuns: 200 },
    );
  });
});

describe("below the temperature at which the equation has a loop", () => {
  test("the root is the vapour's: pressure rises all the way up to it", () => {
    const argon = createMixture({ Ar: 1 });
    fc.assert(
      fc.property(
        fc.double({ min: 90, max: 150, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 45_000, noNaN: true }),
        (T, part, guess) => {
          const p = part * 5e6;
          const rho = argon.densityOrNaN(p, T, guess);
          if (Number.isNaN(rho)) {
            return;
          }
          for (let k = 1; k <= 50; k++) {
            expect(argon.dPressureDDensity((rho * k) / 50, T)).toBeGreaterThan(0);
          }
          expect(argon.pressurePa(rho, T) / p).toBeCloseTo(1, 9);
        },
      ),
      { numRuns: 200 },
    );
  });

  test("a liquid guess does not lead to the liquid root", () => {
    const argon = createMixture({ Ar: 1 });
    expect(argon.densityMolPerM3(1e5, 100, 32_000)).toBe(argon.densityMolPerM3(1e5, 100));
    expect(argon.densityMolPerM3(1e5, 100, 32_000)).toBeLessThan(200);
  });

  test("argon at 100 K and 20 bar is liquid: refused", () => {
    const answer = createMixture({ Ar: 1 }).state(20e5, 100);
    expect(!answer.ok && answer.error.code).toBe("GAS_NOT_VAPOUR");
  });

  /**
   * Argon's vapour pressure: 1.213 MPa at 120 K, 3.168 MPa at 140 K; nitrogen's 0.779 MPa at 100 K
   * (Tegeler et al. 1999, Span et al. 2000; from memory, confidence high).
   */
  test.each([
    ["Ar", 120, 1.213e6],
    ["Ar", 140, 3.168e6],
    ["N2", 100, 0.779e6],
  ] as const)("%s at %f K: vapour up to its vapour pressure, no supercooled one", (gas, K, pa) => {
    const mixture = createMixture({ [gas]: 1 });
    expect(mixture.densityOrNaN(0.98 * pa, K)).toBeGreaterThan(0);
    expect(mixture.densityOrNaN(1.02 * pa, K)).toBeNaN();
  });

  test("CO2 vapour up to its vapour pressure, from the triple to the critical point", () => {
    const carbonDioxide = createMixture({ CO2: 1 });
    for (let T = 217; T < 303; T += 1) {
      const p = vapourPressurePa(T);
      const rho = carbonDioxide.densityMolPerM3(0.999 * p, T);
      expect(carbonDioxide.pressurePa(rho, T) / (0.999 * p)).toBeCloseTo(1, 9);
      expect(carbonDioxide.densityOrNaN(1.01 * p, T)).toBeNaN();
    }
  });

  test("right at CO2's critical point the answer is finite or refused, never wrong", () => {
    const carbonDioxide = createMixture({ CO2: 1 });
    for (const T of [304.1, 304.12, 304.1282, 304.13, 304.135, 304.14, 304.2]) {
      for (const p of [7.37e6, 7.3773e6, 7.38e6, 7.4e6]) {
        const rho = carbonDioxide.densityOrNaN(p, T);
        if (!Number.isNaN(rho)) {
          expect(Math.abs(carbonDioxide.pressurePa(rho, T) / p - 1)).toBeLessThan(1e-9);
        }
      }
    }
  });
});

test("any numbers at all: the solver ends, with a density or NaN", () => {
  const mixture = createMixture({ Ar: 0.5, CO2: 0.5 });
  fc.assert(
    fc.property(fc.double(), fc.double(), fc.double(), (p, T, guess) => {
      const rho = mixture.densityOrNaN(p, T, guess);
      expect(Number.isNaN(rho) || (rho > 0 && Number.isFinite(rho))).toBe(true);
    }),
    { numRuns: 500 },
  );
});
