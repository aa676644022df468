import { describe, expect, test } from "vitest";
import {
  uncertainDialTo,
  uncertainRestrictionFlow,
  uncertainTrueFlow,
} from "../../../shared-core/flow/flow-uncertainty.ts";
import type { VariableAreaScale } from "../../../shared-core/flow/variable-area.ts";
import { CFH_M3_PER_S } from "../../../shared-core/units/factors.ts";
import { atmospherePa, gases, psig, roomK } from "./gases-for-tests.ts";

const scale: VariableAreaScale = {
  mixture: gases.Ar,
  pressurePa: psig(50),
  temperatureK: roomK,
  reference: "us",
};
const tube = {
  mixture: gases.Ar,
  pressurePa: { value: psig(30), sigma: 2000 },
  temperatureK: { value: 295, sigma: 2 },
  float: "ball",
} as const;
const reading = { value: 30 * CFH_M3_PER_S, sigma: 1 * CFH_M3_PER_S };

describe("flow with its uncertainty (JCGM 100, first order)", () => {
  test("through the tube: reading 1:1, pressure and temperature by the root", () => {
    const flow = uncertainTrueFlow(scale, tube, reading);
    const relative = (share: number) => share / flow.value;
    expect(relative(flow.contributions.reading)).toBeCloseTo(1 / 30, 9);
    // Half the relative sigma of pressure; argon's Z adds less than a hundredth to that.
    expect(relative(flow.contributions.pressurePa) / ((0.5 * 2000) / psig(30))).toBeCloseTo(1, 1);
    expect(relative(flow.contributions.temperatureK) / ((-0.5 * 2) / 295)).toBeCloseTo(1, 1);
    expect(relative(flow.contributions.factor)).toBeCloseTo(0.01, 9);
    expect(flow.sigma).toBeCloseTo(Math.hypot(...Object.values(flow.contributions)), 15);
  });

  test("another gas through a ball tube is far less certain", () => {
    const helium = uncertainTrueFlow(scale, { ...tube, mixture: gases.He }, reading);
    expect(helium.sigma / helium.value).toBeGreaterThan(0.06);
  });

  test("dial-to carries the same relative uncertainty back", () => {
    const flow = uncertainTrueFlow(scale, tube, { ...reading, sigma: 0 });
    const dial = uncertainDialTo(scale, tube, { value: flow.value, sigma: 0 });
    expect(dial.value / reading.value).toBeCloseTo(1, 9);
    expect(dial.sigma / dial.value).toBeCloseTo(flow.sigma / flow.value, 4);
  });

  test("a choked restriction does not feel the back pressure; a subcritical one does", () => {
    const restriction = {
      sonicConductanceM3PerSPa: 5e-10,
      law: "iso-6358",
      criticalRatio: 0.4,
    } as const;
    const inputs = (gauge: number) => ({
      sonicConductanceM3PerSPa: { value: 5e-10, sigma: 5e-12 },
      upstreamPa: { value: psig(gauge), sigma: 1000 },
      downstreamPa: { value: atmospherePa, sigma: 1000 },
      upstreamK: { value: 293, sigma: 2 },
    });
    const choked = uncertainRestrictionFlow(restriction, inputs(50));
    expect(choked.contributions.downstreamPa).toBe(0);
    expect(choked.contributions.sonicConductanceM3PerSPa / choked.value).toBeCloseTo(0.01, 9);
    expect(choked.contributions.upstreamPa / choked.value).toBeCloseTo(1000 / psig(50), 9);
    expect(choked.contributions.upstreamK / choked.value).toBeCloseTo(-1 / 293, 5);
    const open = uncertainRestrictionFlow(restriction, inputs(8));
    expect(open.contributions.downstreamPa).toBeLessThan(0);
  });
});
