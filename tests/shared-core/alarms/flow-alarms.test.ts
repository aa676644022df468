import type { StationSnapshot } from "@leeward/shared-core/alarms/condition.ts";
import { createAlarmEvaluator } from "@leeward/shared-core/alarms/evaluator.ts";
import { describe, expect, test } from "vitest";
import {
  firstShown,
  flowing,
  idsAtEnd,
  lastOf,
  run,
  snapshot,
  start,
  station,
} from "./bench-station.ts";

const flow = (meanLpm: number, sigmaLpm = 0.2) => ({ flow: { meanLpm, sigmaLpm } });
const idle = (i: number) => snapshot({ t: start + i });

describe("under-shielding", () => {
  test.each([
    ["20 % under the least", 4.8, 0.2, true],
    ["a little under it, but not surely", 5.9, 0.2, false],
    ["surely a little under it", 5.6, 0.2, true],
    ["far under it but nothing is sure", 4.8, 1.5, false],
    ["at the target", 8, 0.2, false],
  ])("%s", (_, mean, sigma, shown) => {
    const { log } = run(60, () => flowing(flow(mean, sigma)));
    expect(firstShown(log, "under-shielding") !== null).toBe(shown);
  });
  test("within 20 s of gas-on for a learnt station", () => {
    const { log } = run(60, () => flowing(flow(4.8)));
    expect(firstShown(log, "under-shielding")).toBeLessThanOrEqual(20);
  });
  test("tacks of 4 s add up over their pauses", () => {
    const { log } = run(120, (i) =>
      i % 20 < 5 ? flowing({ gasOnSince: start + i - (i % 20), ...flow(4.8) }) : idle(i),
    );
    const at = firstShown(log, "under-shielding");
    expect(at).not.toBeNull();
    expect(at).toBeLessThan(80);
  });
  test("tacks in a row ring once and it stays through the pauses", () => {
    const { log } = run(600, (i) =>
      i % 30 < 12 ? flowing({ gasOnSince: start + i - (i % 30), ...flow(4.8) }) : idle(i),
    );
    const first = firstShown(log, "under-shielding") ?? 0;
    expect(log.slice(first).every((alarms) => alarms.length === 1)).toBe(true);
  });
  test("goes when the flow is enough again", () => {
    const { log } = run(60, (i) => flowing(flow(i < 20 ? 4.8 : 8)));
    expect(idsAtEnd(log)).toEqual([]);
  });
  test("with the gas off it tells the shortfall of the next gas-on, not of the shutting valve", () => {
    const { log } = run(80, (i) =>
      i < 40
        ? flowing(flow(4.8))
        : snapshot({
            t: start + i,
            expectedFlow: { meanLpm: 4.8, sigmaLpm: 0.2 },
            lastFlow: { meanLpm: 5.6, sigmaLpm: 0.2 },
          }),
    );
    expect(lastOf(log, "under-shielding")?.title).toContain("20 %");
  });
  test("does not flutter at its limit: the deadband holds it", () => {
    const { log } = run(300, (i) => flowing(flow(i < 20 ? 5 : i % 10 < 5 ? 6.1 : 5.9, 0.05)));
    const first = firstShown(log, "under-shielding") ?? 0;
    expect(log.slice(first).every((alarms) => alarms.length === 1)).toBe(true);
  });
  test.each([
    [
      "a declared purge",
      { purge: { since: start, volumes: 5, volumesPassed: 1, targetVolumes: 5 } },
    ],
    ["a job without gas", { job: { plannedArcMinutes: null, gasless: true, since: start } }],
    ["no procedure", { demand: null }],
    ["an unknown flow", { flow: null }],
  ] as [string, Partial<StationSnapshot>][])("%s is not judged", (_, change) => {
    const { log } = run(60, () => flowing({ ...flow(4.8), ...change }));
    expect(log.flat()).toEqual([]);
  });
  test("says what to set, in the device's own unit", () => {
    const { log } = run(20, () =>
      flowing({ ...flow(5.1), dialTo: { reading: 12.6, unit: "L/min" } }),
    );
    const alarm = lastOf(log, "under-shielding");
    expect(alarm?.title).toBe("Too little shielding gas: 15 % under the least for this weld");
    expect(alarm?.advice).toContain("Press gas test and turn the float up to 12.6 L/min.");
    expect(alarm?.advice).toContain("above the 10 L/min of the welding procedure");
    expect(alarm?.priority).toBe("high");
  });
  test("a dial-to within the procedure says nothing of its limits, in CFH too", () => {
    const cfh = { ...station, flowDevice: { ...station.flowDevice, readingUnit: "CFH" } };
    const { log } = run(20, () =>
      flowing({
        ...flow(5.1),
        station: cfh as StationSnapshot["station"],
        dialTo: { reading: 19, unit: "CFH" },
      }),
    );
    const advice = lastOf(log, "under-shielding")?.advice;
    expect(advice).toContain("up to 19 CFH.");
    expect(advice).not.toContain("procedure");
  });
  test("below the pressure where the regulator holds its flow the cylinder comes first", () => {
    const { log } = run(15, () =>
      flowing({ ...flow(5.1), belowHoldPressure: true, dialTo: { reading: 12.6, unit: "L/min" } }),
    );
    const advice = lastOf(log, "under-shielding")?.advice ?? "";
    expect(advice.startsWith("Change the cylinder")).toBe(true);
    expect(advice).toContain(
      "Only to finish this weld: Press gas test and turn the float up to 12.6 L/min.",
    );
  });
  test("a target out of reach sends to the cylinder, with the reason", () => {
    const { log } = run(15, () =>
      flowing({ ...flow(5.1), dialTo: { reading: null, why: "beyond the scale" } }),
    );
    expect(lastOf(log, "under-shielding")?.advice).toContain(
      "Change the cylinder, or check regulator and flow device. The right flow cannot be set here (beyond the scale).",
    );
  });
});

describe("over-flow", () => {
  test("the surge at the start of each weld does not count", () => {
    const { log } = run(600, (i) =>
      i % 20 < 10
        ? flowing({ gasOnSince: start + i - (i % 20), ...flow(i % 20 < 4 ? 40 : 8) })
        : idle(i),
    );
    expect(log.flat()).toEqual([]);
  });
  test("surely above the most", () => {
    const { log } = run(60, () => flowing({ ...flow(14), dialTo: { reading: 8, unit: "L/min" } }));
    expect(lastOf(log, "over-flow")).toMatchObject({
      priority: "low",
      title: "Too much shielding gas: 40 % over the most for this weld",
    });
    expect(lastOf(log, "over-flow")?.advice).toContain("down to 8 L/min");
  });
  test("above the target but not above the most is fine", () => {
    expect(run(60, () => flowing(flow(9.8))).log.flat()).toEqual([]);
  });
});

describe("arc-without-gas", () => {
  test.each([
    ["idle", () => snapshot({ arc: true, arcSince: start })],
    [
      "valve closed, line empty",
      () => snapshot({ mode: "valve-closed", arc: true, arcSince: start, linePa: 0 }),
    ],
    [
      "just started, line without pressure",
      () => snapshot({ mode: "unknown", flow: null, arc: true, arcSince: start, linePa: 0.1e5 }),
    ],
    [
      "valve closed and bled, no line sensor",
      () => snapshot({ mode: "valve-closed", arc: true, linePa: null, cylinderPa: 0 }),
    ],
    ["next to no flow", () => flowing({ arc: true, ...flow(0.4, 0.1) })],
  ] as [string, () => StationSnapshot][])("within 2 s: %s", (_, moment) => {
    const { log } = run(5, moment);
    expect(firstShown(log, "arc-without-gas")).toBeLessThanOrEqual(2);
    expect(log[2][0]).toMatchObject({ condition: "arc-without-gas", priority: "high" });
  });
  test.each([
    ["no arc signal fitted", () => snapshot({ arc: null })],
    ["no line sensor fitted", () => snapshot({ arc: true, linePa: null })],
    ["a line that still holds gas", () => snapshot({ arc: true, mode: "valve-closed" })],
    ["arc off", () => snapshot({ arc: false })],
    ["arc with gas", () => flowing({ arc: true })],
    ["flow not known", () => flowing({ arc: true, flow: null })],
    ["mode not known", () => snapshot({ arc: true, mode: "unknown", flow: null })],
    [
      "declared without gas",
      () => snapshot({ arc: true, job: { plannedArcMinutes: null, gasless: true, since: start } }),
    ],
  ] as [string, () => StationSnapshot][])("never: %s", (_, moment) => {
    expect(firstShown(run(60, moment).log, "arc-without-gas")).toBeNull();
  });
  test.each([
    ["no line sensor fitted", () => snapshot({ arc: true, linePa: null }), true],
    ["mode not known", () => snapshot({ arc: true, mode: "unknown", flow: null }), true],
    [
      "a hose tap reads next to nothing with gas on too",
      () =>
        snapshot({
          arc: true,
          mode: "unknown",
          flow: null,
          linePa: 0.1e5,
          station: { ...snapshot().station, lineTap: "hose" },
        }),
      true,
    ],
    ["flow not known", () => flowing({ arc: true, flow: null }), true],
    ["no arc", () => snapshot({ arc: false, mode: "unknown", flow: null }), false],
    ["no arc signal fitted", () => snapshot({ arc: null, mode: "unknown" }), false],
  ] as [string, () => StationSnapshot, boolean][])(
    "cannot tell, and says so: %s",
    (_, moment, says) => {
      const { log, evaluator } = run(10, moment);
      expect(firstShown(log, "arc-without-gas")).toBeNull();
      const undecided = evaluator.undecided().map(({ condition }) => condition);
      expect(undecided.includes("arc-without-gas")).toBe(says);
    },
  );
  test("explains the low flow", () => {
    expect(idsAtEnd(run(30, () => flowing({ arc: true, ...flow(0.4, 0.1) })).log)).toEqual([
      "arc-without-gas",
    ]);
  });
});

describe("reading-shift and the way back", () => {
  test("with the torch shut it speaks of the next gas-on, not of the flow of 0", () => {
    const turned = { lastReDial: { t: start - 60, ratio: 0.8 } };
    const { log } = run(90, (s) =>
      s < 60
        ? flowing({ ...turned, flow: { meanLpm: 6.4, sigmaLpm: 0.1 } })
        : snapshot({ ...turned, expectedFlow: { meanLpm: 6.4, sigmaLpm: 0.1 } }),
    );
    const alarm = lastOf(log, "reading-shift");
    expect(alarm?.title).toBe("The flow setting moved: 20 % under the target");
  });
  const dialledUp = { lastReDial: { t: start - 7200, ratio: 1.5 } };
  test("after a swap the float is still up: turn it back before the next weld", () => {
    const { log } = run(60, () =>
      snapshot({
        ...dialledUp,
        lastSwap: { t: start - 60 },
        expectedFlow: { meanLpm: 12.5, sigmaLpm: 0.3 },
        dialTo: { reading: 8, unit: "L/min" },
      }),
    );
    const alarm = lastOf(log, "reading-shift");
    expect(alarm?.advice).toContain("Turn the float back to 8 L/min.");
    expect(alarm?.title).toContain("56 % too much gas");
  });
  test("the same expected flow with nobody having turned or swapped stays quiet", () => {
    const { log } = run(60, () => snapshot({ expectedFlow: { meanLpm: 12.5, sigmaLpm: 0.3 } }));
    expect(log.flat()).toEqual([]);
  });
  test("turning to the right flow is no alarm", () => {
    const { log } = run(120, (i) =>
      flowing({ ...flow(i < 20 ? 6.2 : 8), lastReDial: { t: start + 20, ratio: 1.29 } }),
    );
    expect(log.flat()).toEqual([]);
  });
  test("knocked away from the target, but within the window", () => {
    const { log } = run(60, () =>
      flowing({ ...flow(9.8), lastReDial: { t: start - 5, ratio: 1.22 } }),
    );
    expect(idsAtEnd(log)).toEqual(["reading-shift"]);
  });
  test("over-flow explains it", () => {
    const { log } = run(60, () =>
      flowing({ ...flow(14), lastReDial: { t: start - 5, ratio: 1.75 } }),
    );
    expect(idsAtEnd(log)).toEqual(["over-flow"]);
  });
});

describe("back-pressure-changed", () => {
  const hose = { ...station, lineTap: "hose" as const };
  test.each([
    ["spatter in the nozzle", 1.5, "Something blocks the gas: hose pressure 50 % above usual"],
    ["hose off", 0.3, "Gas escapes before the nozzle: hose pressure 70 % below usual"],
  ])("%s", (_, ratio, title) => {
    const { log } = run(30, () => flowing({ station: hose, backPressure: { ratio, sigma: 0.03 } }));
    expect(lastOf(log, "back-pressure-changed")?.title).toBe(title);
  });
  test("a tap at the regulator cannot see it", () => {
    const { log } = run(30, () => flowing({ backPressure: { ratio: 0.3, sigma: 0.03 } }));
    expect(log.flat()).toEqual([]);
  });
});

describe("regulator-icing", () => {
  test("foreseen from the forecast of the body", () => {
    const { log } = run(60, () => flowing({ bodyForecastK: 268, regulatorK: 284 }));
    const alarm = lastOf(log, "regulator-icing");
    expect(alarm?.title).toBe("Regulator may ice up soon, its body is at 11 °C");
    expect(alarm?.advice).toContain("no flame");
  });
  test("by chance where the estimator gives one", () => {
    const icing = (probability: number) => ({
      icing: { probability, withinS: 300 },
      bodyForecastK: 262,
    });
    expect(idsAtEnd(run(60, () => flowing(icing(0.5))).log)).toEqual(["regulator-icing"]);
    expect(run(60, () => flowing({ ...icing(0.05), bodyForecastK: 262 })).log.flat()).toEqual([]);
  });
  test("a chance near freezing counts only for a regulator that was seen to fall short there", () => {
    const chance = { icing: { probability: 0.5, withinS: 600 }, bodyForecastK: 271.5 };
    expect(run(60, () => flowing(chance)).log.flat()).toEqual([]);
    const { log } = run(900, (i) => {
      if (i < 90) return flowing({ regulatorK: 276 });
      if (i < 120) return flowing({ regulatorK: 270, linePa: 3.2e5 });
      return flowing({ regulatorK: 276, ...(i > 600 ? chance : {}) });
    });
    expect(log[590]).toEqual([]);
    expect(lastOf(log, "regulator-icing")?.priority).toBe("medium");
  });
  describe("once delivery has begun to fall", () => {
    const quiet = { icing: { probability: 0.02, withinS: 600 } };
    const warm = { ...quiet, regulatorK: 276, linePa: 3.45e5 };
    const cold = { ...quiet, regulatorK: 270, linePa: 3.2e5 };
    const coldAfter = (change: Partial<StationSnapshot>) =>
      run(180, (i) => flowing(i < 90 ? warm : { ...cold, ...change })).log;

    test("urgent: the line is 7 % below what it was with the body above freezing", () => {
      expect(lastOf(coldAfter({}), "regulator-icing")?.priority).toBe("high");
    });
    test("ice needs frost: at 1 °C nothing is concluded", () => {
      expect(coldAfter({ regulatorK: 274.2 }).flat()).toEqual([]);
    });
    // A full cylinder lowers the outlet of a single stage: 0.6 bar for 100 bar here.
    test.each([
      ["told", { cylinderPa: 188e5, lastSwap: { t: start + 90 } }],
      ["untold", { cylinderPa: 188e5 }],
    ])("a full cylinder that was fitted, %s, is no ice", (_, swap) => {
      expect(coldAfter(swap).flat()).toEqual([]);
    });
    test("nor is a cylinder that emptied by 60 bar since, within the supply-pressure effect", () => {
      expect(coldAfter({ cylinderPa: 55e5, linePa: 3.3e5 }).flat()).toEqual([]);
      expect(lastOf(coldAfter({ cylinderPa: 110e5 }), "regulator-icing")).toBeDefined();
    });
    test("nor a float that was turned, nor a body that was never seen warm", () => {
      expect(coldAfter({ lastReDial: { t: start + 90, ratio: 0.9 } }).flat()).toEqual([]);
      expect(run(120, () => flowing(cold)).log.flat()).toEqual([]);
    });
    test("is remembered over a restart", () => {
      const first = createAlarmEvaluator();
      for (let t = start; t < start + 90; t++) first.step(flowing({ ...warm, t }));
      const second = createAlarmEvaluator();
      second.restore(JSON.parse(JSON.stringify(first.serialise())));
      let last = second.step(flowing({ ...cold, t: start + 90 }));
      for (let t = start + 91; t < start + 150; t++) last = second.step(flowing({ ...cold, t }));
      expect(last.map(({ condition }) => condition)).toEqual(["regulator-icing"]);
    });
  });
});

describe("wrong-gas", () => {
  const withGas = (composition: object, gas: string, process: object) =>
    ({
      ...station,
      cylinder: { ...station.cylinder, composition, gas },
      procedure: { ...station.procedure, ...process },
    }) as StationSnapshot["station"];
  test.each([
    ["TIG with 75/25", withGas({ Ar: 0.75, CO2: 0.25 }, "M21-ArC-25", {}), true],
    [
      "aluminium MIG with 92/8",
      withGas({ Ar: 0.92, CO2: 0.08 }, "M20-ArC-8", { process: "GMAW", material: "aluminium" }),
      true,
    ],
    [
      "steel MIG with 75/25",
      withGas({ Ar: 0.75, CO2: 0.25 }, "M21-ArC-25", { process: "GMAW", material: "steel" }),
      false,
    ],
    ["TIG with argon", station, false],
  ] as [string, StationSnapshot["station"], boolean][])("%s", (_, fitted, shown) => {
    const { log } = run(120, () => snapshot({ station: fitted }));
    expect(firstShown(log, "wrong-gas") !== null).toBe(shown);
  });
  test("a gas that behaves like another", () => {
    const { log } = run(120, () =>
      flowing({ gasDoubt: { probability: 0.98, looksLike: "helium" } }),
    );
    expect(lastOf(log, "wrong-gas")?.title).toBe("Is this really I1-Ar? It behaves like helium");
  });
});
