import { describe, expect, test } from "vitest";
import {
  backPressurePa,
  darcyFrictionFactor,
  type Hose,
  hoseInletPressurePa,
  reynoldsNumber,
  surgeMol,
} from "../../../shared-core/flow/hose.ts";
import {
  type Restriction,
  sonicConductanceM3PerSPa,
} from "../../../shared-core/flow/restriction.ts";
import { viscosityPaS } from "../../../shared-core/gases/viscosity.ts";
import { CUBIC_FOOT_M3, PSI_PA } from "../../../shared-core/units/factors.ts";
import { standardVolumeM3 } from "../../../shared-core/units/reference-conditions.ts";
import { atmospherePa, gases, molPerSOfCfh, psig, roomK } from "./gases-for-tests.ts";

/** 1/4 in by 25 ft, as in the trade sheet. */
const hose: Hose = { boreM: 6.35e-3, lengthM: 7.62 };

describe("hose", () => {
  test("laminar friction is 64/Re, turbulent near Blasius 0.316/Re^0.25 (textbook)", () => {
    expect(darcyFrictionFactor(500) / (64 / 500)).toBeCloseTo(1, 3);
    for (const reynolds of [1e4, 5e4, 1e5]) {
      expect(darcyFrictionFactor(reynolds) / (0.3164 / reynolds ** 0.25)).toBeCloseTo(1, 1);
    }
  });

  test("small laminar flow: Hagen-Poiseuille, dp = 128 mu L Q / (pi d^4) (textbook)", () => {
    const molPerS = molPerSOfCfh(5, "Ar");
    expect(reynoldsNumber(gases.Ar, molPerS, hose.boreM, roomK)).toBeLessThan(2000);
    const drop = hoseInletPressurePa(hose, gases.Ar, molPerS, atmospherePa, roomK) - atmospherePa;
    const flow = standardVolumeM3(molPerS, gases.Ar, "us");
    const viscosity = viscosityPaS({ Ar: 1 }, roomK);
    const expected = (128 * viscosity * hose.lengthM * flow) / (Math.PI * hose.boreM ** 4);
    expect(drop / expected).toBeGreaterThan(0.99);
    expect(drop / expected).toBeLessThan(1.02);
  });

  test("a longer or narrower hose needs more pressure; no flow needs none", () => {
    const molPerS = molPerSOfCfh(40, "Ar-25CO2");
    const inlet = (other: Hose) =>
      hoseInletPressurePa(other, gases["Ar-25CO2"], molPerS, atmospherePa, roomK);
    expect(inlet({ ...hose, lengthM: 15 })).toBeGreaterThan(inlet(hose));
    expect(inlet({ ...hose, boreM: 4e-3 })).toBeGreaterThan(inlet(hose));
    expect(hoseInletPressurePa(hose, gases.Ar, 0, atmospherePa, roomK)).toBe(atmospherePa);
    expect(() => inlet({ ...hose, boreM: 0 })).toThrow(/PHYSICS_RANGE/);
  });

  test("next to no flow loses next to no pressure; no number is refused", () => {
    const at = (molPerS: number, outletPa: number = atmospherePa) =>
      hoseInletPressurePa(hose, gases.Ar, molPerS, outletPa, roomK);
    expect(at(1e-30) / atmospherePa).toBeCloseTo(1, 12);
    expect(() => at(Number.NaN)).toThrow(/molPerS is NaN/);
    expect(() => at(-0.01)).toThrow(/molPerS is -0.01/);
    expect(() => at(0.01, 0)).toThrow(/outletPa is 0/);
    expect(() => at(0.01, Number.NaN)).toThrow(/outletPa is NaN/);
  });

  test("torch, gun and hose: a few psi at welding flow (3 to 8; common practice, no source)", () => {
    // Passages of a small torch: about 1.5 mm across (estimate).
    const torch: Restriction = {
      sonicConductanceM3PerSPa: sonicConductanceM3PerSPa(1.5e-6, gases.Ar, 2e5),
      law: "iso-6358",
      criticalRatio: 0.4,
    };
    const back = backPressurePa(hose, torch, gases.Ar, molPerSOfCfh(35, "Ar"), atmospherePa, roomK);
    expect((back - atmospherePa) / PSI_PA).toBeGreaterThan(3);
    expect((back - atmospherePa) / PSI_PA).toBeLessThan(8);
  });

  /** Trade sheet, computed with the ideal gas: 0.739 L std (0.0261 ft³) and 0.328 L. */
  test.each([
    [50, 5, 0.739],
    [25, 5, 0.328],
  ])("start surge from %f to %f psig: %f standard litres", (rest, flowing, litres) => {
    const mol = surgeMol(hose, gases.Ar, psig(rest), psig(flowing), roomK);
    const actual = standardVolumeM3(mol, gases.Ar, "us") * 1000;
    expect(Math.abs(actual / litres - 1)).toBeLessThan(0.005);
    if (rest === 50) {
      expect(actual / 1000 / CUBIC_FOOT_M3).toBeCloseTo(0.0261, 3);
    }
  });
});
