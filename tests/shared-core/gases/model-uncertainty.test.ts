import { expect, test } from "vitest";
import { createMixture } from "../../../shared-core/gases/mixture.ts";
import { densityRelativeSigmaAt } from "../../../shared-core/gases/model-uncertainty.ts";

const sigmaAt200bar = (composition: Parameters<typeof createMixture>[0]) =>
  densityRelativeSigmaAt(createMixture(composition), 200e5, 288.15);

test("Ar-He 75/25 at 200 bar: about 1 % (no fitted parameters in Kunz & Wagner 2012)", () => {
  expect(sigmaAt200bar({ Ar: 0.75, He: 0.25 })).toBeGreaterThan(0.008);
  expect(sigmaAt200bar({ Ar: 0.75, He: 0.25 })).toBeLessThan(0.012);
});

test("Ar-CO2 75/25 at 200 bar: two models agree within 1 %, so about 0.6 % standard", () => {
  expect(sigmaAt200bar({ Ar: 0.75, CO2: 0.25 })).toBeGreaterThan(0.004);
  expect(sigmaAt200bar({ Ar: 0.75, CO2: 0.25 })).toBeLessThan(0.008);
});

test("pure gases: the same everywhere, 0.2 % as a limit", () => {
  expect(sigmaAt200bar({ Ar: 1 })).toBeCloseTo(0.002 / Math.sqrt(3), 12);
});

test("it grows with pressure", () => {
  const mixture = createMixture({ Ar: 0.75, He: 0.25 });
  const at = (bar: number) => densityRelativeSigmaAt(mixture, bar * 1e5, 288.15);
  expect(at(20)).toBeLessThan(at(100));
  expect(at(100)).toBeLessThan(at(200));
});
