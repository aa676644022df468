import { describe, expect, test } from "vitest";
import { slotPlaces } from "../../../dashboard/display/slot.ts";
import { exampleEstimate, exampleStation } from "./examples.ts";

describe("the slot", () => {
  test("window, diamond and ring stand on one line", () => {
    const estimate = exampleEstimate({
      flow: { lpm: 5.1, low: 4.9, high: 5.3 },
      indicated: { reading: 8, unit: "L/min" },
    });
    const places = slotPlaces(estimate, exampleStation());
    const at = (lpm: number) => lpm / places.endLpm;
    expect(places.window).toEqual({ from: at(6), to: at(10), target: at(8) });
    expect(places.diamond).toMatchObject({ at: at(5.1), low: at(4.9), high: at(5.3), kind: "now" });
    expect(places.ring).toBeCloseTo(at(8), 12);
  });

  test("a ring in CFH stands where its flow is, not where its number is", () => {
    const device = { ...exampleStation().flowDevice!, readingUnit: "CFH" as const, scaleMax: 40 };
    const estimate = exampleEstimate({ indicated: { reading: 17, unit: "CFH" } });
    const places = slotPlaces(estimate, exampleStation({ flowDevice: device }));
    // 17 CFH at 70 °F are 7.99 L/min at 20 °C (NIST SP 811).
    expect((places.ring ?? 0) * places.endLpm).toBeCloseTo(7.993, 2);
  });

  test("idle shows the next gas-on", () => {
    const estimate = exampleEstimate({
      mode: "idle",
      flow: { lpm: 0, low: 0, high: 0 },
      expected: { lpm: 6.2, low: 5.9, high: 6.5 },
      indicated: { reading: null, why: "gas is off" },
    });
    const places = slotPlaces(estimate, exampleStation());
    expect(places.diamond).toMatchObject({ kind: "next", at: 6.2 / places.endLpm });
    expect(places.ring).toBeNull();
  });

  test("an unknown flow has no diamond, an unknown demand no window", () => {
    const estimate = exampleEstimate({ flow: { lpm: null, why: "just started" }, demand: null });
    const places = slotPlaces(estimate, exampleStation());
    expect(places.diamond).toBeNull();
    expect(places.window).toBeNull();
  });

  test("the line grows in steps, so that it does not breathe, and always holds the flow", () => {
    const end = (lpm: number) =>
      slotPlaces(exampleEstimate({ flow: { lpm, low: lpm, high: lpm } }), exampleStation()).endLpm;
    expect(end(8)).toBe(end(8.4));
    for (const lpm of [1, 12, 30, 90, 180, 400]) {
      const places = slotPlaces(exampleEstimate({ flow: { lpm } }), exampleStation());
      expect(places.diamond?.at).toBeLessThanOrEqual(1);
      expect(places.endLpm).toBeGreaterThan(lpm);
    }
  });
});
