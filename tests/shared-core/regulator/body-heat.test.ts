import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { vapourPressurePa } from "../../../shared-core/gases/co2-saturation.ts";
import {
  type BodyConditions,
  bodyHeat,
  bodyTemperatureK,
  highestFlowAboveK,
  ordinaryBody,
  secondsUntil,
} from "../../../shared-core/regulator/body-heat.ts";
import { type GasName, gases, molPerSOfCfh, psig, roomK } from "../flow/gases-for-tests.ts";

function conditions(gas: GasName, flowCfh: number, inlet: number): BodyConditions {
  return {
    molPerS: molPerSOfCfh(flowCfh, gas),
    cylinderPa: gas === "CO2" ? vapourPressurePa(roomK) : psig(inlet),
    cylinderK: roomK,
    linePa: psig(50),
    airK: roomK,
  };
}

function settledC(gas: GasName, flowCfh: number, inlet = 2200, heaterW = 0): number {
  const heat = bodyHeat({ ...ordinaryBody, heaterW }, gases[gas], conditions(gas, flowCfh, inlet));
  if (!heat.ok) {
    throw heat.error;
  }
  return heat.value.settledK - 273.15;
}

describe("heat balance of a regulator body", () => {
  test("without flow it has the temperature of its surroundings", () => {
    expect(settledC("Ar", 0)).toBeCloseTo(roomK - 273.15, 5);
    const between = bodyHeat(ordinaryBody, gases.Ar, {
      ...conditions("Ar", 0, 2200),
      cylinderK: 280,
      airK: 300,
    });
    // Weighted by the conductances: (0.4 · 300 + 0.8 · 280) / 1.2.
    expect(between.ok && between.value.settledK).toBeCloseTo(286.667, 2);
  });

  test("the heat the gas takes equals what air, valve and heater give", () => {
    fc.assert(
      fc.property(
        fc.constantFrom<GasName>("Ar", "Ar-25CO2", "He", "N2", "CO2"),
        fc.double({ min: 1, max: 60, noNaN: true }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        (gas, flow, heaterW) => {
          const heat = bodyHeat(
            { ...ordinaryBody, heaterW },
            gases[gas],
            conditions(gas, flow, 1500),
          );
          expect(heat.ok).toBe(true);
          if (heat.ok) {
            const given = 1.2 * (roomK - heat.value.settledK) + heaterW;
            expect(heat.value.heatToGasW).toBeCloseTo(given, 2);
            expect(heat.value.timeConstantS).toBeGreaterThan(0);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  /**
   * Common practice, no limit published: one CO2 regulator without a heater serves about 20 to
   * 35 CFH; above that it ices. Argon ices only at high flow and pressure.
   */
  test("icing starts where practice says: CO2 between 20 and 50 CFH, argon not at 35", () => {
    expect(settledC("CO2", 15)).toBeGreaterThan(0);
    expect(settledC("CO2", 50)).toBeLessThan(0);
    expect(settledC("Ar", 35)).toBeGreaterThan(0);
    expect(settledC("Ar-25CO2", 35)).toBeLessThan(settledC("Ar", 35));
    expect(settledC("He", 35)).toBeGreaterThan(roomK - 273.15);
  });

  test("a heater of the size of the heat to deliver keeps CO2 above freezing", () => {
    expect(settledC("CO2", 50, 0, 60)).toBeGreaterThan(5);
  });

  test("more flow, colder body; an emptier cylinder, warmer body", () => {
    expect(settledC("Ar", 40)).toBeLessThan(settledC("Ar", 20));
    expect(settledC("Ar", 40, 600)).toBeGreaterThan(settledC("Ar", 40, 2600));
  });

  test("an overwhelmed body settles at the wet gas and says what leaves", () => {
    const heat = bodyHeat(ordinaryBody, gases.CO2, conditions("CO2", 400, 0));
    expect(heat.ok && heat.value.seatWet).toBe(true);
    expect(heat.ok && heat.value.settledK).toBeLessThan(245);
  });
});

describe("cooling in time", () => {
  const heat = bodyHeat(ordinaryBody, gases.CO2, conditions("CO2", 50, 0));

  test("exponential approach to the settled temperature", () => {
    if (!heat.ok) {
      throw heat.error;
    }
    expect(bodyTemperatureK(roomK, heat.value, 0)).toBe(roomK);
    const after = bodyTemperatureK(roomK, heat.value, heat.value.timeConstantS);
    expect((after - heat.value.settledK) / (roomK - heat.value.settledK)).toBeCloseTo(
      Math.exp(-1),
      12,
    );
  });

  test("time until freezing, foreseen", () => {
    if (!heat.ok) {
      throw heat.error;
    }
    const seconds = secondsUntil(roomK, 273.15, heat.value);
    expect(seconds).not.toBeNull();
    expect(bodyTemperatureK(roomK, heat.value, seconds ?? 0)).toBeCloseTo(273.15, 6);
    expect(secondsUntil(270, 273.15, heat.value)).toBe(0);
    expect(secondsUntil(roomK, 200, heat.value)).toBeNull();
  });
});

describe("the greatest flow without icing", () => {
  const limit = (gas: GasName, airK: number) => {
    const { molPerS: _, ...rest } = conditions(gas, 0, 2200);
    const flow = highestFlowAboveK(ordinaryBody, gases[gas], { ...rest, airK }, 273.15);
    return flow.ok ? flow.value : Number.NaN;
  };

  /** Common practice, no limit published: about 20 to 35 CFH of CO2 without a heater. */
  test("CO2 at 70 °F: 20 to 35 CFH with the ordinary body", () => {
    expect(limit("CO2", roomK)).toBeGreaterThan(molPerSOfCfh(20, "CO2"));
    expect(limit("CO2", roomK)).toBeLessThan(molPerSOfCfh(35, "CO2"));
  });

  test("the body settles at the limit there; colder air allows less; helium never ices", () => {
    const flow = limit("CO2", roomK);
    const heat = bodyHeat(ordinaryBody, gases.CO2, { ...conditions("CO2", 0, 0), molPerS: flow });
    expect(heat.ok && heat.value.settledK).toBeCloseTo(273.15, 2);
    expect(limit("CO2", 278)).toBeLessThan(flow);
    expect(limit("He", roomK)).toBe(Number.POSITIVE_INFINITY);
    expect(limit("CO2", 230)).toBe(0);
  });
});

test("impossible bodies and conditions are refused", () => {
  const ordinary = conditions("Ar", 30, 2000);
  expect(bodyHeat({ ...ordinaryBody, effectiveness: 1.5 }, gases.Ar, ordinary).ok).toBe(false);
  expect(bodyHeat({ ...ordinaryBody, heatCapacityJPerK: 0 }, gases.Ar, ordinary).ok).toBe(false);
  expect(bodyHeat(ordinaryBody, gases.Ar, { ...ordinary, molPerS: Number.NaN }).ok).toBe(false);
  expect(bodyHeat(ordinaryBody, gases.Ar, { ...ordinary, cylinderPa: -1 }).ok).toBe(false);
  expect(bodyHeat(ordinaryBody, gases.Ar, { ...ordinary, airK: Number.NaN }).ok).toBe(false);
});

test("a CO2 cylinder that reads above its vapour pressure delivers saturated vapour", () => {
  const exact = bodyHeat(ordinaryBody, gases.CO2, conditions("CO2", 30, 0));
  const noisy = bodyHeat(ordinaryBody, gases.CO2, {
    ...conditions("CO2", 30, 0),
    cylinderPa: 1.03 * vapourPressurePa(roomK),
  });
  expect(exact.ok && noisy.ok && noisy.value.settledK).toBe(exact.ok && exact.value.settledK);
});

test("air or heater without a number is refused, not settled somewhere", () => {
  const at = (more: Partial<BodyConditions>, heaterW = 0) =>
    bodyHeat({ ...ordinaryBody, heaterW }, gases.Ar, { ...conditions("Ar", 20, 2200), ...more });
  expect(at({}).ok).toBe(true);
  for (const answer of [at({ airK: Number.NaN }), at({ airK: 20 }), at({}, Number.NaN)]) {
    expect(!answer.ok && answer.error.code).toBe("PHYSICS_RANGE");
  }
});
