import { describe, expect, test } from "vitest";
import { CORE_BORES, jetAtWork } from "../../../shared-core/nozzle/jet.ts";

/** Orders of magnitude only (potential core: textbook; transition: from memory, no closer source). */
describe("jet against standoff", () => {
  const at = (reynolds: number, standoffM: number, draught = 0) => {
    const jet = jetAtWork(reynolds, 0.0127, standoffM, 1.5, 1.38, draught);
    if (!jet.ok) {
      throw jet.error;
    }
    return jet.value;
  };

  test("a usual flow at a usual standoff meets the work laminar and unmixed", () => {
    const jet = at(1500, 0.01);
    expect(jet.laminarAtWork).toBe(true);
    expect(jet.workInCore).toBe(true);
  });

  test("the faster the jet, the nearer it turns turbulent", () => {
    expect(at(4000, 0.01).transitionM).toBeLessThan(at(2000, 0.01).transitionM);
    expect(at(20_000, 0.03).laminarAtWork).toBe(false);
  });

  test("the core outlasts the transition by about five bores", () => {
    const jet = at(5000, 0.01);
    expect(jet.coreM - jet.transitionM).toBeCloseTo(CORE_BORES * 0.0127, 9);
    expect(at(5000, 0.3).workInCore).toBe(false);
  });

  test("a draught is weighed by momentum; still air gives no ratio", () => {
    expect(at(1500, 0.01).draughtRatio).toBeNull();
    expect(at(1500, 0.01, 2).draughtRatio).toBeCloseTo((1.5 * Math.sqrt(1.38)) / 2, 12);
  });

  test("no flow: no transition at all", () => {
    expect(at(0, 0.01).transitionM).toBe(Number.POSITIVE_INFINITY);
  });

  test.each([
    [Number.NaN, 0.0127, 0.01],
    [1500, 0, 0.01],
    [1500, 0.0127, -0.01],
  ])("Re %f, bore %f, standoff %f is refused", (reynolds, bore, standoff) => {
    expect(jetAtWork(reynolds, bore, standoff, 1.5, 1.38).ok).toBe(false);
  });

  test("a velocity or density that is no number is refused", () => {
    expect(jetAtWork(1500, 0.0127, 0.01, Number.NaN, 1.38, 1).ok).toBe(false);
    expect(jetAtWork(1500, 0.0127, 0.01, -1, 1.38, 1).ok).toBe(false);
    expect(jetAtWork(1500, 0.0127, 0.01, 1.5, Number.NaN, 1).ok).toBe(false);
  });

  test("a jet turbulent from the start keeps a core of about 5 bores (textbook; from memory)", () => {
    expect(CORE_BORES).toBe(5);
    const jet = at(1e7, 0.01);
    expect(jet.coreM / 0.0127).toBeCloseTo(5, 2);
  });
});
