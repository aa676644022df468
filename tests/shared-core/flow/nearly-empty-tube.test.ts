import { describe, expect, test } from "vitest";
import {
  molarFlowMolPerS,
  type Restriction,
  sonicConductanceM3PerSPa,
} from "../../../shared-core/flow/restriction.ts";
import { correctionFactor } from "../../../shared-core/flow/variable-area.ts";
import { operatingPoint, type Regulator } from "../../../shared-core/regulator/delivery.ts";
import { atmospherePa, cfh, gases, molPerSOfCfh, psig, roomK } from "./gases-for-tests.ts";

/**
 * Common practice, no source: a tube made for its delivery pressure that is dialled back to
 * 40 CFH on a nearly empty cylinder (200 psi) really passes 27 to 28 CFH.
 */
function trueCfh(stampedPsig: number, tubePsig: number, readingCfh: number): number {
  const scale = {
    mixture: gases.Ar,
    pressurePa: psig(stampedPsig),
    temperatureK: roomK,
    reference: "us",
  } as const;
  const tube = { mixture: gases.Ar, pressurePa: psig(tubePsig), temperatureK: roomK };
  return readingCfh * correctionFactor(scale, tube);
}

/** The tube pressures, psig, between which a reading of 40 means 27 to 28 true. */
function explainingPressures(stampedPsig: number): [number, number] {
  const at = (wanted: number) => {
    let low = 0;
    let high = stampedPsig;
    while (high - low > 1e-6) {
      const middle = (low + high) / 2;
      if (trueCfh(stampedPsig, middle, 40) < wanted) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return (low + high) / 2;
  };
  return [at(27), at(28)];
}

describe("a float held at 40 on a nearly empty cylinder", () => {
  test("50 psig tube: 27 to 28 CFH true means 15 to 17 psig in the tube", () => {
    const [low, high] = explainingPressures(50);
    expect(low).toBeCloseTo(14.9, 0);
    expect(high).toBeCloseTo(17, 0);
    expect(trueCfh(50, 16, 40)).toBeGreaterThan(27);
    expect(trueCfh(50, 16, 40)).toBeLessThan(28);
  });

  test("for any stamped pressure the tube has sagged to 46 to 49 % of its absolute pressure", () => {
    for (const stamped of [20, 25, 30, 50, 80]) {
      for (const pressure of explainingPressures(stamped)) {
        const share = psig(pressure) / psig(stamped);
        expect(share).toBeGreaterThan(0.45);
        expect(share).toBeLessThan(0.5);
      }
    }
  });

  test("a regulator that sags 1.7 psi per 100 psi of cylinder gets there from 2200 to 200 psig", () => {
    // Set to 50 psig at 2200 psig; negative supply effect: the outlet falls with the inlet.
    const wideOpen: Restriction = {
      sonicConductanceM3PerSPa: sonicConductanceM3PerSPa(2e-6, gases.Ar),
      law: "iso-6358",
      criticalRatio: 0.45,
    };
    const regulator: Regulator = [
      {
        setPa: psig(50),
        setInletPa: psig(2200),
        setFlowMolPerS: molPerSOfCfh(40, "Ar"),
        supplyEffect: -0.017,
        droopPaSPerMol: 0,
        lockUpPa: 0,
        wideOpen,
      },
    ];
    // The needle valve opened so far that the float shows 40 at 16 psig: 27.6 CFH true.
    const line = psig(16);
    const needle: Restriction = {
      sonicConductanceM3PerSPa: 1,
      law: "iso-6358",
      criticalRatio: 0.45,
    };
    const perConductance = molarFlowMolPerS(needle, line, atmospherePa, roomK);
    const opened: Restriction = {
      ...needle,
      sonicConductanceM3PerSPa: molPerSOfCfh(trueCfh(50, 16, 40), "Ar") / perConductance,
    };
    const point = operatingPoint(regulator, opened, psig(200), atmospherePa, roomK);
    expect(point.regulated).toBe(true);
    expect(cfh(point.molPerS, "Ar")).toBeGreaterThan(27);
    expect(cfh(point.molPerS, "Ar")).toBeLessThan(28);
  });
});
