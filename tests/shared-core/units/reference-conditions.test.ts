import { describe, expect, test } from "vitest";
import { createMixture } from "../../../shared-core/gases/mixture.ts";
import {
  absolutePressurePa,
  atmosphericPressurePa,
  gaugePressurePa,
} from "../../../shared-core/units/atmosphere.ts";
import {
  changeReference,
  molOfStandardVolume,
  molPerSOfLitresPerMinute,
  type ReferenceName,
  referenceConditions,
  referenceNames,
  standardDensityMolPerM3,
  standardLitresPerMinute,
  standardVolumeM3,
} from "../../../shared-core/units/reference-conditions.ts";

const gases = {
  Ar: createMixture({ Ar: 1 }),
  CO2: createMixture({ CO2: 1 }),
  He: createMixture({ He: 1 }),
  N2: createMixture({ N2: 1 }),
  O2: createMixture({ O2: 1 }),
  H2: createMixture({ H2: 1 }),
  air: createMixture({ N2: 0.7812, O2: 0.2096, Ar: 0.0092 }),
  "Ar-25CO2": createMixture({ Ar: 0.75, CO2: 0.25 }),
  "Ar-18CO2": createMixture({ Ar: 0.82, CO2: 0.18 }),
  "Ar-10CO2": createMixture({ Ar: 0.9, CO2: 0.1 }),
};
type GasName = keyof typeof gases;

describe("reference conditions", () => {
  /** Ideal-gas volume factors from US: trade sheet, section 1 (exact definitions). */
  test.each([
    ["iso", 0.97923],
    ["trade", 0.99221],
    ["normal", 0.92826],
    ["metric20", 0.99622],
  ] as [ReferenceName, number][])("us to %s: %f", (name, factor) => {
    const { us, [name]: other } = referenceConditions;
    const ideal = (other.temperatureK / us.temperatureK) * (us.pressurePa / other.pressurePa);
    expect(Math.abs(ideal - factor)).toBeLessThan(0.00001);
    // Argon is real by 0.02 % between references at most.
    expect(Math.abs(changeReference(1, gases.Ar, "us", name) - factor)).toBeLessThan(0.0005);
  });

  /** kg/m³ at 70 °F 1 atm, 15 °C 1 bar, 0 °C 1 atm: trade sheet, CoolProp 8.0. */
  test.each([
    ["Ar", 1.6555, 1.6686, 1.784],
    ["CO2", 1.8323, 1.8472, 1.9768],
    ["He", 0.16568, 0.16698, 0.17848],
    ["N2", 1.1604, 1.1696, 1.2504],
    ["O2", 1.3261, 1.3366, 1.429],
    ["H2", 0.08344, 0.08409, 0.08988],
    ["air", 1.2, 1.2095, 1.2931],
    ["Ar-25CO2", 1.6989, 1.7124, 1.831],
    ["Ar-18CO2", 1.6867, 1.7001, 1.8178],
    ["Ar-10CO2", 1.6728, 1.6861, 1.8027],
  ] as [GasName, number, number, number][])("density of %s", (gas, us, trade, normal) => {
    const density = (name: ReferenceName) =>
      standardDensityMolPerM3(gases[gas], name) * gases[gas].molarMassKgPerMol;
    expect(Math.abs(density("us") / us - 1)).toBeLessThan(0.0004);
    expect(Math.abs(density("trade") / trade - 1)).toBeLessThan(0.0004);
    expect(Math.abs(density("normal") / normal - 1)).toBeLessThan(0.0004);
  });

  /** Density over that of air: trade sheet, section 7. */
  test.each([
    ["Ar", 1.38],
    ["CO2", 1.527],
    ["He", 0.138],
    ["N2", 0.967],
    ["Ar-25CO2", 1.416],
  ] as [GasName, number][])("%s is %f times as heavy as air", (gas, expected) => {
    const density = (name: GasName) =>
      standardDensityMolPerM3(gases[name], "us") * gases[name].molarMassKgPerMol;
    expect(density(gas) / density("air")).toBeCloseTo(expected, 2);
  });

  /** ft³/lb at 70 °F and 1 atm: trade sheet, agrees with CGA-style tables. */
  test.each([
    ["Ar", 9.676],
    ["CO2", 8.742],
    ["He", 96.68],
    ["N2", 13.8],
    ["O2", 12.08],
  ] as [GasName, number][])("specific volume of %s: %f ft³/lb", (gas, expected) => {
    const mol = 0.45359237 / gases[gas].molarMassKgPerMol;
    const actual = standardVolumeM3(mol, gases[gas], "us") / 0.028316846592;
    expect(Math.abs(actual / expected - 1)).toBeLessThan(0.0006);
  });

  test("100 CFH (us) are 47.195 L/min (us), 47.016 (metric20), 43.809 (normal)", () => {
    const molPerS = molPerSOfLitresPerMinute(47.19474432, gases.Ar, "us");
    expect(standardLitresPerMinute(molPerS, gases.Ar, "us")).toBeCloseTo(47.195, 3);
    expect(standardLitresPerMinute(molPerS, gases.Ar, "metric20")).toBeCloseTo(47.016, 2);
    expect(standardLitresPerMinute(molPerS, gases.Ar, "normal")).toBeCloseTo(43.809, 1);
  });

  test("there and back through every pair of references", () => {
    for (const gas of Object.values(gases)) {
      for (const from of referenceNames) {
        for (const to of referenceNames) {
          const there = changeReference(123.4, gas, from, to);
          expect(changeReference(there, gas, to, from)).toBeCloseTo(123.4, 10);
        }
        expect(standardVolumeM3(molOfStandardVolume(2.5, gas, from), gas, from)).toBeCloseTo(
          2.5,
          12,
        );
      }
    }
  });
});

describe("standard atmosphere (ISO 2533)", () => {
  /** Table values of ISO 2533, from memory. */
  test.each([
    [0, 101_325],
    [500, 95_461],
    [1000, 89_875],
    [2000, 79_495],
    [-300, 104_981],
  ])("%f m: %f Pa", (altitude, expected) => {
    expect(Math.abs(atmosphericPressurePa(altitude) - expected)).toBeLessThan(25);
  });

  test("gauge and absolute are inverse", () => {
    expect(gaugePressurePa(absolutePressurePa(3.45e5, 120), 120)).toBeCloseTo(3.45e5, 6);
  });

  test("an altitude that cannot be is refused", () => {
    expect(() => atmosphericPressurePa(Number.NaN)).toThrow(/altitudeM is NaN/);
    expect(() => atmosphericPressurePa(20_000)).toThrow(/altitudeM is 20000/);
  });
});
