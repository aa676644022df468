import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { orificeFlow } from "../../../shared-core/flow/orifice.ts";
import {
  dialPressurePa,
  dialReadingM3PerS,
  gaugeEffectiveAreaM2,
  type OrificeGaugeScale,
} from "../../../shared-core/flow/orifice-gauge.ts";
import { CFH_M3_PER_S, PSI_PA } from "../../../shared-core/units/factors.ts";
import { atmospherePa, cfh, gases, psig, roomK } from "./gases-for-tests.ts";

const scale: OrificeGaugeScale = {
  mixture: gases.Ar,
  temperatureK: roomK,
  reference: "us",
  orificeM: 0.5e-3,
};

describe("orifice gauge", () => {
  test("its dial shows the choked flow of its own gas: 16.6 CFH at 50 psig (worked example C)", () => {
    const reading = dialReadingM3PerS(scale, 50 * PSI_PA) / CFH_M3_PER_S;
    expect(Math.abs(reading / 16.58 - 1)).toBeLessThan(0.004);
    const flow = orificeFlow(
      { diameterM: 0.5e-3, shape: "short-hole" },
      gases.Ar,
      psig(50),
      atmospherePa,
      roomK,
    );
    expect(reading / cfh(flow.molPerS, "Ar")).toBeCloseTo(1, 5);
  });

  test("once choked it is linear in absolute pressure and does not start at zero", () => {
    const at = (psi: number) => dialReadingM3PerS(scale, psi * PSI_PA);
    expect(at(0)).toBeGreaterThan(0);
    expect(at(0) / at(50)).toBeCloseTo(14.696 / 64.696, 2);
  });

  test("one point of the dial is as good as the size of its hole", () => {
    const byPoint: OrificeGaugeScale = {
      mixture: gases.Ar,
      temperatureK: roomK,
      reference: "us",
      readsAt: { gaugePa: 50 * PSI_PA, indicatedM3PerS: dialReadingM3PerS(scale, 50 * PSI_PA) },
    };
    expect(gaugeEffectiveAreaM2(byPoint) / gaugeEffectiveAreaM2(scale)).toBeCloseTo(1, 12);
  });

  test("pressure and reading are inverse; below the dial's start is refused", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 10e5, noNaN: true }), (gaugePa) => {
        const back = dialPressurePa(scale, dialReadingM3PerS(scale, gaugePa));
        expect(Math.abs(back - gaugePa)).toBeLessThan(1);
      }),
      { numRuns: 30 },
    );
    expect(() => dialPressurePa(scale, 0)).toThrow(/the dial starts at/);
    expect(() => dialPressurePa(scale, Number.NaN)).toThrow(/PHYSICS_RANGE/);
  });

  test("a reading that no gauge pressure can show is refused, not cut off", () => {
    expect(() => dialPressurePa(scale, 1)).toThrow(/indicatedM3PerS is 1/);
    const noHole: OrificeGaugeScale = {
      mixture: gases.Ar,
      temperatureK: roomK,
      reference: "us",
      orificeM: -5e-4,
    };
    expect(() => dialReadingM3PerS(noHole, 3e5)).toThrow(/orificeM is -0.0005/);
  });
});
