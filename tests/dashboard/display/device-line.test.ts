import { describe, expect, test } from "vitest";
import { cannotSee } from "../../../dashboard/display/cannot-see.ts";
import { deviceLine } from "../../../dashboard/display/device-line.ts";
import { compareReading, readingCase } from "../../../dashboard/display/reading-check.ts";
import { slotPlaces } from "../../../dashboard/display/slot.ts";
import { exampleEstimate, exampleStation, exampleView } from "./examples.ts";

describe("what float or gauge should show", () => {
  test("apart from the setting: set it", () => {
    const estimate = exampleEstimate({
      flow: { lpm: 5.1, low: 4.9, high: 5.3 },
      dialTo: { reading: 12.6, unit: "L/min" },
    });
    expect(deviceLine(estimate, exampleStation())).toMatchObject({
      shows: "Float should show 8",
      action: "set",
      actionText: "set it to 12.6 L/min",
    });
  });

  test("in the unit of the device, told with it", () => {
    const shown = { indicated: { reading: 26, unit: "CFH" as const } };
    const dialTo = { reading: 31.6, unit: "CFH" as const };
    const right = exampleEstimate({ ...shown, dialTo });
    expect(deviceLine(right, exampleStation())?.shows).toBe("Float should show 26 CFH");
    const low = exampleEstimate({ ...shown, dialTo, flow: { lpm: 5, low: 4.9, high: 5.1 } });
    expect(deviceLine(low, exampleStation())).toMatchObject({
      shows: "Float should show 26",
      actionText: "set it to 32 CFH",
    });
  });

  test("well inside the window: leave it, also off the target", () => {
    const estimate = exampleEstimate({ dialTo: { reading: 9.5, unit: "L/min" } });
    expect(deviceLine(estimate, exampleStation())?.action).toBe("leave");
  });

  test("an interval that reaches past the window does not call for the setting that is there", () => {
    const estimate = exampleEstimate({
      flow: { lpm: 8, low: 5, high: 12 },
      dialTo: { reading: 8, unit: "L/min" },
    });
    expect(deviceLine(estimate, exampleStation())?.action).toBe("leave");
  });

  test("where right or wrong cannot be told, the reading decides", () => {
    const unknown = { flow: { lpm: null, why: "just started" } };
    const near = exampleEstimate({ ...unknown, dialTo: { reading: 8.4, unit: "L/min" } });
    const far = exampleEstimate({ ...unknown, dialTo: { reading: 9.5, unit: "L/min" } });
    expect(deviceLine(near, exampleStation())?.action).toBe("leave");
    expect(deviceLine(far, exampleStation())?.action).toBe("set");
  });

  test("out of reach is said with its reason, and nothing to set", () => {
    const estimate = exampleEstimate({ dialTo: { reading: null, why: "beyond the scale" } });
    expect(deviceLine(estimate, exampleStation())).toMatchObject({
      action: null,
      why: "beyond the scale",
    });
  });

  test("idle: a float rests, so the flow to come decides", () => {
    const idle = {
      mode: "idle" as const,
      indicated: { reading: null, why: "gas is off" },
      dialTo: { reading: 12.6, unit: "L/min" as const },
    };
    const right = exampleEstimate({ ...idle, expected: { lpm: 8, low: 7.6, high: 8.4 } });
    const low = exampleEstimate({ ...idle, expected: { lpm: 5, low: 4.8, high: 5.2 } });
    expect(deviceLine(right, exampleStation())?.action).toBe("leave");
    expect(deviceLine(low, exampleStation())).toMatchObject({
      action: "set",
      actionText: "Float: set 12.6 L/min",
    });
  });

  test("idle: a float at its foot is no reading", () => {
    const idle = exampleEstimate({ mode: "idle", indicated: { reading: 0, unit: "L/min" } });
    expect(deviceLine(idle, exampleStation())?.shows).toBe("");
    expect(slotPlaces(idle, exampleStation()).ring).toBeNull();
    const empty = exampleEstimate({
      flow: { lpm: 0.1, low: 0, high: 0.3 },
      indicated: { reading: 0, unit: "L/min" },
    });
    expect(deviceLine(empty, exampleStation())).toMatchObject({ action: "set" });
  });

  test("a person's reading against it", () => {
    expect(compareReading(8.3, 8, "L/min")).toBe("agrees");
    expect(compareReading(10, 8, "L/min")).toBe("higher");
    expect(compareReading(6, 8, "L/min")).toBe("lower");
    expect(compareReading(6, null, "L/min")).toBe("unknown");
  });

  test("what its causes are judged by: absolute pressure in the tube, and the flow as it is", () => {
    const seen = readingCase(exampleView(), 6, 8);
    // 3.4 bar gauge at sea level.
    expect(seen?.tubePa).toBeCloseTo(101_325 + 340_000, 0);
    expect(seen?.flow.lpm).toBe(8);
    expect(seen?.tubeK).toBeCloseTo(273.15 + 12, 6);
    const idle = exampleEstimate({ mode: "idle", flow: { lpm: 0 } });
    expect(readingCase(exampleView(idle), 6, 8)).toBeNull();
    expect(readingCase(exampleView(null), 6, 8)).toBeNull();
  });
});

describe("what a station cannot see", () => {
  const estimate = exampleEstimate();

  test("a tap before the restriction cannot see nozzle, hose and seal; a hose tap can", () => {
    expect(cannotSee(exampleStation(), estimate, false)).toEqual(
      expect.arrayContaining(["nozzle", "hose", "seal", "draught", "wrong-gas", "no-arc-signal"]),
    );
    expect(cannotSee(exampleStation({ lineTap: "hose" }), estimate, false)).not.toContain("nozzle");
  });

  test("a missing line sensor, liquid and a present arc signal", () => {
    const bare = exampleStation({ sensors: {}, lineTap: "hose" });
    expect(cannotSee(bare, estimate, true)).toEqual(
      expect.arrayContaining(["no-line-sensor", "nozzle", "liquid"]),
    );
    const withArc = exampleEstimate({ measured: { ...estimate.measured!, arc: false } });
    expect(cannotSee(exampleStation(), withArc, false)).not.toContain("no-arc-signal");
  });
});
