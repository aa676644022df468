import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  molarFlowMolPerS,
  type Restriction,
  sonicConductanceM3PerSPa,
} from "../../../shared-core/flow/restriction.ts";
import {
  CLOSURE_LIMIT,
  closureCoefficient,
  IRREGULARITY_LIMIT,
  irregularityCoefficient,
  lockUpPa,
  lowestInletPa,
  operatingPoint,
  type Regulator,
  type RegulatorStage,
  regulatedOutletPa,
  totalSupplyEffect,
} from "../../../shared-core/regulator/delivery.ts";
import { PSI_PA } from "../../../shared-core/units/factors.ts";
import { atmospherePa, gases, molPerSOfCfh, psig, roomK } from "../flow/gases-for-tests.ts";

const wideOpen: Restriction = {
  sonicConductanceM3PerSPa: sonicConductanceM3PerSPa(1e-6, gases.Ar),
  law: "iso-6358",
  criticalRatio: 0.45,
};
const rated = molPerSOfCfh(40, "Ar");

function stage(overrides: Partial<RegulatorStage> = {}): RegulatorStage {
  return {
    setPa: psig(50),
    setInletPa: psig(2200),
    setFlowMolPerS: rated,
    supplyEffect: 0.01,
    droopPaSPerMol: (3 * PSI_PA) / rated,
    lockUpPa: 5 * PSI_PA,
    wideOpen,
    ...overrides,
  };
}
const single: Regulator = [stage()];
const gauge = (absolutePa: number) => (absolutePa - atmospherePa) / PSI_PA;
const device: Restriction = {
  sonicConductanceM3PerSPa: sonicConductanceM3PerSPa(0.4e-6, gases.Ar),
  law: "iso-6358",
  criticalRatio: 0.487,
};

describe("one stage", () => {
  test("1 psi per 100 psi over 2200 psi lifts 50 to 72 psig (worked in the trade sheet)", () => {
    const atEmpty = regulatedOutletPa([stage({ droopPaSPerMol: 0 })], psig(0), rated);
    expect(gauge(atEmpty)).toBeCloseTo(72, 6);
    // ... and a choked device then passes 34 % more (same sheet).
    const at = (pressure: number) => molarFlowMolPerS(device, psig(pressure), atmospherePa, roomK);
    expect(at(72) / at(50) - 1).toBeCloseTo(0.34, 2);
  });

  test("the other sign sags: models take either", () => {
    expect(
      gauge(regulatedOutletPa([stage({ supplyEffect: -0.01 })], psig(200), rated)),
    ).toBeCloseTo(30, 6);
  });

  test("droop, then lock-up above the line at no flow", () => {
    const regulator = [stage({ supplyEffect: 0 })] as const;
    expect(gauge(regulatedOutletPa(regulator, psig(2200), 0))).toBeCloseTo(53, 6);
    expect(gauge(lockUpPa(regulator, psig(2200)))).toBeCloseTo(58, 6);
    expect(lockUpPa(regulator, psig(20))).toBe(psig(20));
  });

  test("coefficients of ISO 2503 (limits from memory)", () => {
    expect(closureCoefficient(50, 58)).toBeCloseTo(0.16, 12);
    expect(irregularityCoefficient(50, 72)).toBeCloseTo(0.44, 12);
    expect(irregularityCoefficient(50, 30)).toBeCloseTo(-0.4, 12);
    expect([CLOSURE_LIMIT, IRREGULARITY_LIMIT]).toEqual([0.3, 0.3]);
    expect(closureCoefficient(50, 58)).toBeLessThan(CLOSURE_LIMIT);
    expect(() => closureCoefficient(0, 58)).toThrow(/flowingGaugePa is 0/);
    expect(() => closureCoefficient(50, Number.NaN)).toThrow(/closedGaugePa is NaN/);
    expect(() => irregularityCoefficient(Number.NaN, 58)).toThrow(/flowingGaugePa is NaN/);
    expect(irregularityCoefficient(50, 72)).toBeGreaterThan(IRREGULARITY_LIMIT);
  });
});

describe("two stages", () => {
  const double: Regulator = [
    stage({ setPa: psig(200), droopPaSPerMol: 0, supplyEffect: 0.02 }),
    stage({ setInletPa: psig(200), supplyEffect: 0.02 }),
  ];

  test("hold the setting: the effects multiply (0.02-0.1 psi per 100 psi; common practice)", () => {
    // The first stage's outlet rises as its inlet falls, and that lowers the second's.
    expect(totalSupplyEffect(double)).toBeCloseTo(-0.0004, 12);
    const shift =
      regulatedOutletPa(double, psig(200), rated) - regulatedOutletPa(double, psig(2200), rated);
    expect(shift / (2000 * PSI_PA)).toBeCloseTo(-0.0004, 9);
    expect(Math.abs(shift) / PSI_PA).toBeLessThan(2);
  });

  test("the total of one stage is its own", () => {
    expect(totalSupplyEffect([stage({ supplyEffect: 0.013 })])).toBeCloseTo(0.013, 12);
    expect(totalSupplyEffect([stage({ supplyEffect: -0.013 })])).toBeCloseTo(-0.013, 12);
  });
});

describe("regulator and device together", () => {
  test("the operating point lies on both laws", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 150, max: 2600, noNaN: true }),
        fc.double({ min: -0.012, max: 0.012, noNaN: true }),
        (inlet, supplyEffect) => {
          const regulator = [stage({ supplyEffect })] as const;
          const point = operatingPoint(regulator, device, psig(inlet), atmospherePa, roomK);
          expect(point.molPerS).toBeCloseTo(
            molarFlowMolPerS(device, point.linePa, atmospherePa, roomK),
            12,
          );
          if (point.regulated) {
            const wanted = regulatedOutletPa(regulator, psig(inlet), point.molPerS);
            expect(point.linePa / wanted).toBeCloseTo(1, 5);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  test("nearly empty, the wide-open seat decides and the line sags", () => {
    const point = operatingPoint(single, device, psig(30), atmospherePa, roomK);
    expect(point.regulated).toBe(false);
    expect(point.linePa).toBeLessThan(psig(30));
    const full = operatingPoint(single, device, psig(2200), atmospherePa, roomK);
    expect(full.regulated).toBe(true);
    expect(point.molPerS).toBeLessThan(full.molPerS);
  });

  test("an empty cylinder passes nothing", () => {
    const point = operatingPoint(single, device, atmospherePa, atmospherePa, roomK);
    expect(point.molPerS).toBe(0);
    expect(point.regulated).toBe(false);
  });

  test("the lowest cylinder pressure is where the wide-open seat passes 90 % of the target", () => {
    const lowest = lowestInletPa(single, rated, psig(20), roomK);
    expect(lowest).toBeGreaterThan(psig(20));
    expect(molarFlowMolPerS(wideOpen, lowest, psig(20), roomK) / (0.9 * rated)).toBeCloseTo(1, 4);
    // A wider seat needs less.
    const wider = { ...wideOpen, sonicConductanceM3PerSPa: 4 * wideOpen.sonicConductanceM3PerSPa };
    expect(lowestInletPa([stage({ wideOpen: wider })], rated, psig(20), roomK)).toBeLessThan(
      lowest,
    );
  });

  test("nonsense is refused", () => {
    expect(() => operatingPoint(single, device, Number.NaN, atmospherePa, roomK)).toThrow(
      /inletPa is NaN/,
    );
    expect(() => operatingPoint(single, device, 1e7, -1, roomK)).toThrow(/backPa is -1/);
  });

  test("a target beyond the seat has no lowest cylinder pressure; no number is refused", () => {
    expect(lowestInletPa(single, 9, psig(30), roomK)).toBe(Number.POSITIVE_INFINITY);
    expect(() => lowestInletPa(single, rated, Number.NaN, roomK)).toThrow(/neededLinePa is NaN/);
    expect(() => lowestInletPa(single, Number.NaN, psig(30), roomK)).toThrow(/targetMolPerS/);
    expect(() => operatingPoint(single, device, psig(2200), atmospherePa, Number.NaN)).toThrow(
      /temperatureK is NaN/,
    );
  });
});
