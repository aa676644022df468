import { describe, expect, test } from "vitest";
import {
  carbonDioxideKgPerMol,
  vapourPressurePa,
} from "../../../shared-core/gases/co2-saturation.ts";
import { createMixture } from "../../../shared-core/gases/mixture.ts";
import {
  dryIceLimitK,
  evaporationHeatJPerMol,
  frostTemperatureK,
  heatToDeliverJPerMol,
  throttle,
} from "../../../shared-core/regulator/throttling.ts";
import { type GasName, gases, molPerSOfCfh, psig, roomK } from "../flow/gases-for-tests.ts";

/** Trade sheet, section 6, computed with CoolProp 8.0: 70 °F to 50 psig without heat intake. */
describe("isenthalpic expansion", () => {
  test.each([
    ["Ar", 2640, -38],
    ["Ar", 2216, -30],
    ["Ar", 1000, -3],
    ["N2", 2216, -5],
    ["He", 2216, 30],
    ["Ar-25CO2", 2640, -70],
  ] as [GasName, number, number][])("%s from %f psig: %f °C", (gas, inlet, celsius) => {
    const outlet = throttle(gases[gas], psig(inlet), roomK, psig(50));
    expect(outlet.ok && outlet.value.phase).toBe("vapour");
    expect(outlet.ok && Math.abs(outlet.value.temperatureK - 273.15 - celsius)).toBeLessThan(1);
  });

  /** Joule-Thomson coefficient at 70 °F, low pressure, K/bar (CoolProp 8.0). */
  test.each([
    ["CO2", 1.13],
    ["Ar", 0.375],
    ["N2", 0.221],
    ["He", -0.063],
  ] as [GasName, number][])("Joule-Thomson coefficient of %s: %f K/bar", (gas, expected) => {
    const mixture = gases[gas];
    const actual = mixture.jouleThomsonKPerPa(mixture.densityMolPerM3(1e5, roomK), roomK) * 1e5;
    expect(Math.abs(actual - expected)).toBeLessThan(0.008);
  });

  test("CO2 vapour from a cylinder with liquid ends as vapour and dry ice at 50 psig", () => {
    const outlet = throttle(gases.CO2, vapourPressurePa(roomK), roomK, psig(50));
    expect(outlet.ok && outlet.value.phase).toBe("with-dry-ice");
    // 4.46 bar is below the triple point's 5.18 bar: the temperature of dry ice there.
    expect(outlet.ok && outlet.value.temperatureK).toBeCloseTo(frostTemperatureK(psig(50)), 6);
  });

  test("CO2 to 20 bar ends with liquid", () => {
    const outlet = throttle(gases.CO2, vapourPressurePa(roomK), roomK, 20e5);
    expect(outlet.ok && outlet.value.phase).toBe("with-liquid");
  });

  test("75/25 gets near the dry-ice limit of its CO2: about -77 °C at 1.1 bar partial pressure", () => {
    expect((dryIceLimitK(gases["Ar-25CO2"], psig(50)) ?? 0) - 273.15).toBeCloseTo(-77, 0);
    expect(dryIceLimitK(gases.Ar, psig(50))).toBeNull();
  });
});

/** Trade sheet, section 6: heat per kg, computed with Span & Wagner 1996. */
describe("heat to deliver CO2", () => {
  const perKg = (outletK: number) =>
    heatToDeliverJPerMol(gases.CO2, vapourPressurePa(roomK), roomK, psig(50), outletK) /
    carbonDioxideKgPerMol /
    1000;

  test("75.5 kJ/kg to leave at 32 °F, 93.8 to leave at 70 °F, 146 to evaporate", () => {
    expect(perKg(273.15)).toBeCloseTo(75.5, 0);
    expect(perKg(roomK)).toBeCloseTo(93.8, 0);
    expect(evaporationHeatJPerMol(roomK) / carbonDioxideKgPerMol / 1000).toBeCloseTo(146, 0);
  });

  test.each([
    [20, 22],
    [35, 38],
    [50, 54],
  ])("%f CFH leaving at 32 °F takes %f W", (flow, watts) => {
    const power = molPerSOfCfh(flow, "CO2") * perKg(273.15) * 1000 * carbonDioxideKgPerMol;
    expect(Math.abs(power - watts)).toBeLessThan(0.7);
  });
});

test("bad states are refused, not guessed", () => {
  expect(throttle(gases.Ar, Number.NaN, roomK, psig(50)).ok).toBe(false);
  expect(throttle(gases.Ar, psig(2000), 20, psig(50)).ok).toBe(false);
  expect(throttle(gases.Ar, psig(2000), roomK, -1).ok).toBe(false);
  expect(() => frostTemperatureK(10e5)).toThrow(/GAS_NO_SATURATION/);
});

describe("dry ice from a mixture", () => {
  const half = createMixture({ Ar: 0.5, CO2: 0.5 });

  test("75/25 at 20 °C stays a gas, a cold full cylinder of it does not", () => {
    // About -70 °C from 2640 psig and 70 °F; frost point near -77 °C (trade sheet).
    const warm = throttle(gases["Ar-25CO2"], psig(2640), roomK, psig(50));
    expect(warm.ok && warm.value.phase).toBe("vapour");
    const cold = throttle(gases["Ar-25CO2"], 130e5, 255, 4.5e5);
    expect(cold).toEqual({
      ok: true,
      value: { phase: "with-dry-ice", temperatureK: dryIceLimitK(gases["Ar-25CO2"], 4.5e5) },
    });
  });

  test("50/50 from 200 bar has an answer too", () => {
    const outlet = throttle(half, 200e5, 294, 4.5e5);
    expect(outlet.ok && outlet.value.phase).toBe("with-dry-ice");
  });
});
