import { createWallSteps, takeStep } from "@leeward/shared-core/estimation/wall-steps.ts";
import { describe, expect, it } from "vitest";

describe("a wall probe in steps of half a kelvin", () => {
  it("is sharpest where it steps, and knows no more the longer it stands", () => {
    const steps = createWallSteps();
    takeStep(steps, 291.5);
    // Half-way between both readings: rounding, to the nearest step.
    expect(takeStep(steps, 291)).toEqual({ kelvin: 291.25, sigmaK: 0.075 });
    const once = takeStep(steps, 291).sigmaK;
    for (let k = 0; k < 8; k++) takeStep(steps, 291);
    const often = takeStep(steps, 291).sigmaK;
    // N equal readings of variance N s² weigh as one: uniform rounding, s = step / sqrt(12) (JCGM 100:2008, 4.3.7).
    expect(once).toBeCloseTo((0.5 / Math.sqrt(12)) * Math.sqrt(2), 6);
    expect(often / once).toBeCloseTo(Math.sqrt(11 / 2), 6);
  });

  it("is recognised before its first step by standing still", () => {
    const steps = createWallSteps();
    const sigmas = Array.from({ length: 12 }, () => takeStep(steps, 290).sigmaK);
    expect(sigmas[0]).toBe(0);
    expect(sigmas.at(-1)).toBeGreaterThan(0.4);
  });

  it("is not seen in a fine probe, whatever it does", () => {
    const steps = createWallSteps();
    for (const kelvin of [290, 290.0625, 290.125, 291, 289.5, 289.5]) {
      expect(takeStep(steps, kelvin).kelvin).toBe(kelvin);
    }
    expect(takeStep(steps, 289.4375).sigmaK).toBe(0);
  });
});
