import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { orificeFlow } from "../../../shared-core/flow/orifice.ts";
import {
  conductanceForGas,
  effectiveAreaM2,
  flowFraction,
  molarFlowMolPerS,
  type Restriction,
  sonicConductanceM3PerSPa,
  upstreamPressurePa,
} from "../../../shared-core/flow/restriction.ts";
import { standardDensityMolPerM3 } from "../../../shared-core/units/reference-conditions.ts";
import { gases } from "./gases-for-tests.ts";

const C = 5e-10;
const valve: Restriction = { sonicConductanceM3PerSPa: C, law: "iso-6358", criticalRatio: 0.4 };
const plate: Restriction = {
  sonicConductanceM3PerSPa: C,
  law: "thin-plate",
  isentropicExponent: 1.667,
};

describe("restriction after ISO 6358", () => {
  test("choked flow is C p1 rho0 sqrt(T0/T1), in mol/s with rho0 = p0/(R T0)", () => {
    const rho0 = 100_000 / (8.314472 * 293.15);
    expect(molarFlowMolPerS(valve, 5e5, 1e5, 293.15)).toBeCloseTo(C * 5e5 * rho0, 12);
    expect(molarFlowMolPerS(valve, 5e5, 1e5, 273.15)).toBeCloseTo(
      C * 5e5 * rho0 * Math.sqrt(293.15 / 273.15),
      12,
    );
  });

  test("subsonic flow follows the ellipse of the standard", () => {
    const r = 0.7;
    const part = Math.sqrt(1 - ((r - 0.4) / (1 - 0.4)) ** 2);
    expect(flowFraction(valve, r)).toBeCloseTo(part, 12);
    expect(flowFraction(valve, 0.4)).toBe(1);
    expect(flowFraction(valve, 0.1)).toBe(1);
    expect(flowFraction(valve, 1)).toBe(0);
    expect(flowFraction(valve, 1.5)).toBe(0);
  });

  test.each([
    ["valve", valve],
    ["thin plate", plate],
  ])("%s: no step anywhere, falling with the pressure ratio", (_, restriction) => {
    let last = flowFraction(restriction, 0);
    expect(last).toBeCloseTo(1, 9);
    for (let r = 0.001; r <= 1.0001; r += 0.001) {
      const now = flowFraction(restriction, r);
      expect(now).toBeLessThanOrEqual(last + 1e-12);
      expect(last - now).toBeLessThan(0.08);
      last = now;
    }
  });

  test("a thin plate has no corner at the critical ratio: its slope does not jump", () => {
    const slopeAt = (r: number) =>
      (flowFraction(plate, r + 1e-4) - flowFraction(plate, r - 1e-4)) / 2e-4;
    const critical = 0.487;
    expect(slopeAt(critical - 0.02)).toBeLessThan(-0.05);
    expect(Math.abs(slopeAt(critical + 0.002) - slopeAt(critical - 0.002))).toBeLessThan(0.05);
  });

  test("upstream pressure is the inverse of flow", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-6, max: 1e-2, noNaN: true }),
        fc.double({ min: 0.05, max: 0.6, noNaN: true }),
        (molPerS, criticalRatio) => {
          const restriction = { ...valve, criticalRatio } as Restriction;
          const p = upstreamPressurePa(restriction, molPerS, 101_325, 293.15);
          expect(molarFlowMolPerS(restriction, p, 101_325, 293.15) / molPerS).toBeCloseTo(1, 6);
        },
      ),
      { numRuns: 100 },
    );
    expect(() => upstreamPressurePa(valve, 100, 101_325, 293.15)).toThrow(/PHYSICS_RANGE/);
  });

  test("area and conductance are inverse, and agree with the real-gas orifice", () => {
    const area = 0.84 * (Math.PI / 4) * 0.5e-3 ** 2;
    const conductance = sonicConductanceM3PerSPa(area, gases.Ar, 5e5, 293.15);
    expect(effectiveAreaM2(conductance, gases.Ar, 5e5, 293.15) / area).toBeCloseTo(1, 12);
    const same: Restriction = {
      sonicConductanceM3PerSPa: conductance,
      law: "iso-6358",
      criticalRatio: 0.487,
    };
    const exact = orificeFlow(
      { diameterM: 0.5e-3, shape: "short-hole" },
      gases.Ar,
      5e5,
      1e5,
      293.15,
    );
    expect(molarFlowMolPerS(same, 5e5, 1e5, 293.15) / exact.molPerS).toBeCloseTo(1, 9);
  });

  /** Standard-volume flow of the same choked hole relative to argon: trade sheet, ideal gas. */
  test.each([
    ["He", 3.163],
    ["N2", 1.126],
    ["CO2", 0.869],
    ["Ar-25CO2", 0.954],
    ["Ar-18CO2", 0.965],
  ] as const)("%s passes %f of argon's flow", (gas, ratio) => {
    const molar = conductanceForGas(C, gases.Ar, gases[gas], 2e4) / C;
    const converted =
      (molar * standardDensityMolPerM3(gases.Ar, "us")) / standardDensityMolPerM3(gases[gas], "us");
    // The sheet holds gamma of CO2 constant in the expansion; the real one rises as it cools.
    expect(Math.abs(converted / ratio - 1)).toBeLessThan(0.005);
  });

  test("no flow backwards, none from nothing", () => {
    expect(molarFlowMolPerS(valve, 1e5, 2e5, 293)).toBe(0);
    expect(molarFlowMolPerS(valve, 0, 0, 293)).toBe(0);
  });

  test("a missing reading is not taken for no flow", () => {
    expect(molarFlowMolPerS(valve, Number.NaN, 1e5, 293)).toBeNaN();
    expect(molarFlowMolPerS(valve, 4e5, Number.NaN, 293)).toBeNaN();
    expect(molarFlowMolPerS(valve, 4e5, 1e5, Number.NaN)).toBeNaN();
  });

  test("straight to zero only in the last thousandth: the ellipse of ISO 6358-1 below", () => {
    const b = 0.3;
    const law = { sonicConductanceM3PerSPa: 1e-9, law: "iso-6358", criticalRatio: b } as const;
    for (const r of [0.5, 0.9, 0.96, 0.99, 0.9985]) {
      expect(flowFraction(law, r)).toBeCloseTo(Math.sqrt(1 - ((r - b) / (1 - b)) ** 2), 12);
    }
    expect(flowFraction(law, 0.9995)).toBeLessThan(flowFraction(law, 0.999));
    expect(flowFraction(law, 1)).toBe(0);
  });
});
