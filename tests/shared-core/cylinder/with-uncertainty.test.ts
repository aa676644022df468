import { describe, expect, test } from "vitest";
import { pressureAtTemperaturePa, usableMol } from "../../../shared-core/cylinder/content.ts";
import {
  closedCylinderPressure,
  usableContent,
} from "../../../shared-core/cylinder/with-uncertainty.ts";
import { vapourPressurePa } from "../../../shared-core/gases/co2-saturation.ts";
import type { Composition } from "../../../shared-core/gases/composition.ts";
import { createMixture } from "../../../shared-core/gases/mixture.ts";
import { PSI_PA } from "../../../shared-core/units/factors.ts";

const argon = createMixture({ Ar: 1 });
const argonHelium = createMixture({ Ar: 0.75, He: 0.25 });
const size = { waterVolumeM3: 0.05 };

function usable(composition: Composition, pressurePa: number, floorPa: number) {
  const answer = usableContent(createMixture(composition), size, pressurePa, 288.15, floorPa);
  if (!answer.ok) {
    throw answer.error;
  }
  return answer.value;
}

describe("usable content with its uncertainty", () => {
  test("Ar-He 75/25 at 200 bar: about 1 % by the equation, argon much less", () => {
    // tests/reference/README.md: about 1 % of the content, since Ar-He has no fitted parameters.
    const mix = usable({ Ar: 0.75, He: 0.25 }, 201e5, 11e5);
    const pure = usable({ Ar: 1 }, 201e5, 11e5);
    expect(mix.modelSigmaMol / mix.mol).toBeGreaterThan(0.008);
    expect(mix.modelSigmaMol / mix.mol).toBeLessThan(0.013);
    expect(pure.modelSigmaMol / pure.mol).toBeLessThan(0.0015);
  });

  test("the amount is that of usableMol; the water volume adds its half percent", () => {
    const { mol, kg, modelSigmaMol, sigmaMol } = usable({ Ar: 1 }, 201e5, 11e5);
    expect(mol).toBe(usableMol(argon, size, 201e5, 288.15, 11e5));
    expect(kg / mol).toBeCloseTo(0.039948, 12);
    expect(sigmaMol ** 2).toBeCloseTo(modelSigmaMol ** 2 + (0.005 * mol) ** 2, 9);
  });

  test("nothing below the floor; no number is refused", () => {
    expect(usable({ Ar: 1 }, 5e5, 11e5)).toMatchObject({ mol: 0, sigmaMol: 0 });
    const answer = usableContent(argon, size, Number.NaN, 288.15, 11e5);
    expect(!answer.ok && answer.error.message).toMatch(/pressurePa is NaN/);
  });
});

describe("pressure of a closed cylinder with its uncertainty", () => {
  test("argon of 2640 psig at 70 °F is 2359 psig at 32 °F (trade sheet), within 3 sigma", () => {
    const answer = closedCylinderPressure(argon, 2654.696 * PSI_PA, 294.2611, 273.15);
    expect(answer.ok).toBe(true);
    if (answer.ok) {
      const { pressurePa, modelSigmaPa } = answer.value;
      expect(pressurePa).toBe(pressureAtTemperaturePa(argon, 2654.696 * PSI_PA, 294.2611, 273.15));
      expect(Math.abs(pressurePa / PSI_PA - 14.696 - 2359)).toBeLessThan(
        (3 * modelSigmaPa) / PSI_PA,
      );
      expect(modelSigmaPa / pressurePa).toBeLessThan(0.003);
    }
  });

  test("a gas whose pair is not fitted is less certain", () => {
    const sigma = (mixture: typeof argon) => {
      const answer = closedCylinderPressure(mixture, 200e5, 288.15, 268.15);
      return answer.ok ? answer.value.modelSigmaPa : Number.NaN;
    };
    expect(sigma(argonHelium)).toBeGreaterThan(4 * sigma(argon));
  });

  test("CO2 that has condensed shows its vapour pressure", () => {
    const answer = closedCylinderPressure(createMixture({ CO2: 1 }), 80e5, 313.15, 283.15);
    expect(answer.ok && answer.value.pressurePa).toBe(vapourPressurePa(283.15));
    expect(answer.ok && answer.value.modelSigmaPa / answer.value.pressurePa).toBeLessThan(0.001);
  });

  test("outside the equation's range is refused", () => {
    const answer = closedCylinderPressure(argon, 200e5, 288.15, Number.NaN);
    expect(!answer.ok && answer.error.message).toMatch(/otherTemperatureK is NaN/);
  });
});
