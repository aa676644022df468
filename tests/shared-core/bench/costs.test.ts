import {
  comparedDevice,
  recommend,
  type TestedDevice,
} from "@leeward/shared-core/bench/compare.ts";
import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { type BenchResult, fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import { postFlowCost } from "@leeward/shared-core/bench/post-flow-cost.ts";
import { startSurge, surgeSaving } from "@leeward/shared-core/bench/start-surge.ts";
import { whatIf } from "@leeward/shared-core/bench/what-if.ts";
import { stationSchema } from "@leeward/shared-core/documents/station.ts";
import { describe, expect, it } from "vitest";
import { runBench, tubeStation } from "./plant-bench.ts";

const surge = {
  composition: { Ar: 1 },
  // 1/4 in x 25 ft
  hose: { lengthM: 7.62, boreMm: 6.35 },
  restBar: 3.4474,
  flowingBar: 0.3447,
  hoseC: 21.1,
  startsPerDay: 200,
  workdaysPerYear: 220,
  pricePerLitre: 0.01,
};

describe("start surge", () => {
  // Computed, textbook gas dynamics: 50 -> 5 psig gives 0.739 L std, 25 -> 5 psig 0.328 L.
  it("a quarter-inch hose of 25 ft from 50 to 5 psig wastes 0.739 L", () => {
    const answer = startSurge(surge);
    if (!answer.ok) throw new Error(answer.why);
    expect(Math.abs(answer.value.litresPerStart / 0.739 - 1)).toBeLessThan(0.01);
    expect(answer.value.litresPerYear).toBeCloseTo(answer.value.litresPerStart * 44_000, 6);
    expect(answer.value.costPerYear).toBeCloseTo(answer.value.litresPerYear * 0.01, 6);
  });

  it("half the pressure at rest saves the difference", () => {
    const answer = surgeSaving(surge, 1.7237);
    if (!answer.ok) throw new Error(answer.why);
    expect(Math.abs(answer.value.litresPerStart / (0.739 - 0.328) - 1)).toBeLessThan(0.015);
  });

  it("no surge where the line does not rise, no cost without a price, a reason for nonsense", () => {
    const none = startSurge({ ...surge, restBar: 0.2, pricePerLitre: null });
    expect(none).toEqual({
      ok: true,
      value: { litresPerStart: 0, litresPerYear: 0, costPerYear: null },
    });
    const bad = startSurge({ ...surge, restBar: Number.NaN });
    expect(!bad.ok && bad.why).toContain("restBar");
  });
});

describe("post-flow", () => {
  // 15 s at 15 CFH is 0.0625 ft³ a stop (computed); in litres 1.770 at the flow's own reference.
  it("15 s at 15 CFH is 1.77 L a stop", () => {
    const answer = postFlowCost({
      flowLpm: 15 * 0.4719474432,
      postflowS: 15,
      stopsPerDay: 200,
      workdaysPerYear: 1,
      pricePerLitre: 0.01,
      consumable: { price: 5, stops: 100 },
    });
    if (!answer.ok) throw new Error(answer.why);
    expect(answer.value.litresPerStop).toBeCloseTo(0.0625 * 28.316846592, 6);
    expect(answer.value.gasCostPerYear).toBeCloseTo(15 * answer.value.costPerSecondYear, 9);
    // 200 stops spend two consumables (10); a second costs 0.236: they must last 2.4 % longer.
    expect(answer.value.consumableCostPerYear).toBe(10);
    expect(answer.value.breakEvenLongerLife).toBeCloseTo(0.02417, 4);
  });

  it("refuses negative figures", () => {
    const answer = postFlowCost({
      flowLpm: -1,
      postflowS: 1,
      stopsPerDay: 1,
      workdaysPerYear: 1,
      pricePerLitre: 1,
      consumable: null,
    });
    expect(!answer.ok && answer.why).toContain("flowLpm");
  });
});

const around = (percent: number) => ({ percent, low: percent - 1, high: percent + 1 });

const tested = (
  name: string,
  /** Percent lost if left alone at 200, 100 and 10 bar; null: the target is out of reach. */
  lost: (number | null)[],
  more: Partial<TestedDevice> = {},
  consistent: boolean | null = true,
): TestedDevice => ({
  name,
  restBar: 4,
  flowingBar: 0.3,
  price: 50,
  ...more,
  result: {
    schema: 1,
    device: { kind: "variable-area", unit: "L/min", gas: "I1-Ar" },
    parameters: [],
    derived: [],
    rows: [],
    consistent,
    why: "",
    target: { lpm: 8, reading: 8 },
    card: lost.map((percent, k) => ({
      cylinderBar: [200, 100, 10][k]!,
      dialTo: percent === null ? null : 8 + percent / 20,
      unit: "L/min" as const,
    })),
    curve: lost.map((percent, k) => ({
      cylinderBar: [200, 100, 10][k]!,
      error: percent === null ? null : around(-percent / 2),
      leftAlone: percent === null ? null : around(-percent),
    })),
    questions: [],
    fit: null,
    probability: 0.5,
  } satisfies BenchResult,
});

describe("comparison", () => {
  const steady = comparedDevice(tested("steady", [0, 1, 2.5]));
  const sagging = comparedDevice(tested("sagging", [0, 12.5, null], { restBar: 2, price: 20 }));
  const odd = comparedDevice(tested("odd", [0, 0, 0], { restBar: 1 }, false));

  it("takes error, loss, surge and end from curve, card and line", () => {
    expect(steady.worstErrorPercent).toBeCloseTo(-1.25, 9);
    expect(steady.leftAlonePercent).toBeCloseTo(-2.5, 9);
    expect(steady.endsAtBar).toBeNull();
    expect(sagging.leftAlonePercent).toBeCloseTo(-12.5, 9);
    expect(sagging.endsAtBar).toBe(10);
    expect(sagging.surgePerHoseLitre).toBeCloseTo(1.7 / 1.01325, 9);
    expect(comparedDevice(tested("x", [null, null, null])).worstErrorPercent).toBeNull();
  });

  it("recommends by work, and never a device whose test contradicts itself", () => {
    const [tacks, runs, last] = recommend([steady, sagging, odd]);
    expect(tacks!.device).toBe("sagging");
    expect(runs!.device).toBe("steady");
    expect(last!.device).toBe("steady");
    expect(recommend([odd]).map((one) => one.device)).toEqual([null, null, null]);
  });
});

describe("what if", () => {
  const station = tubeStation();

  it("a 50 psi tube run at 30 psi passes 0.831 of its reading (computed)", () => {
    const result = whatIf(
      tubeStation({
        flowDevice: { ...station.flowDevice, scaleBar: 3.4474, scaleC: 20 },
      }),
      { deliveryBar: 2.0684 },
    );
    expect(result.trueOverIndicated).toBeCloseTo(0.831, 2);
    expect(result.dialToLpm).toBeCloseTo(8 / 0.831, 1);
  });

  it("another cup moves the window, another gas the tube", () => {
    const procedure = { cup: 10, targetLpm: null };
    const result = whatIf(station, { procedure, composition: { He: 1 } });
    expect(result.window.minimumLpm).toBeGreaterThan(15);
    expect(result.trueOverIndicated).toBeCloseTo(3.16, 1);
  });

  it("a tested device is used as it was tested, at any cylinder pressure", () => {
    const variation = {
      supplyEffectBarPer100: 0.6,
      floatFactor: 0.97,
      deliveryBar: 2.6,
      setAtBar: 200,
    };
    const bench = runBench({
      station,
      variation,
      steps: [200, 150, 100, 50, 25, 12].map((bar) => ({ bar, set: 8 })),
      seed: 3,
      meterSigma: 0.01,
      readingSigma: 0.003,
      line: true,
    });
    const rows = parseBenchCsv(bench.csv, { Ar: 1 });
    const fitted = rows.ok ? fitDevice(station, rows.value) : rows;
    if (!fitted.ok || !fitted.value.fit || !station.flowDevice) throw new Error("no fit");
    const flowDevice = { ...station.flowDevice, fit: fitted.value.fit };
    for (const cylinderBar of [200, 100, 20]) {
      const result = whatIf(station, { flowDevice, cylinderBar });
      expect(result.from).toBe("bench test");
      // The plant shares no code with the model; 2 %: two sigma of the meter and the float over six rows.
      const truth = 1 + bench.errorTruth(cylinderBar, 8) / 100;
      expect(Math.abs(result.trueOverIndicated! / truth - 1)).toBeLessThan(0.02);
      expect(Math.abs(result.dialToLpm! / bench.dialTruth(cylinderBar, 8) - 1)).toBeLessThan(0.02);
    }
    // As printed it would be read 12 to 20 % too high.
    expect(whatIf(station, {}).trueOverIndicated).toBeCloseTo(1, 1);
  });

  it("an orifice gauge whose dial is for argon passes more helium", () => {
    const gauge = stationSchema.parse({
      ...station,
      flowDevice: {
        kind: "orifice-gauge",
        scaleGas: { Ar: 1 },
        scaleReadsAt: { bar: 3.45, reading: 20 },
        readingUnit: "L/min",
      },
    });
    const argon = whatIf(gauge, { procedure: { targetLpm: 15 } });
    expect(argon.trueOverIndicated).toBeCloseTo(1, 1);
    const helium = whatIf(gauge, { procedure: { targetLpm: 15 }, composition: { He: 1 } });
    // Choked molar flow of equal-kappa gases goes as the root of 1/M: 3.16.
    expect(helium.trueOverIndicated! / argon.trueOverIndicated!).toBeCloseTo(3.16, 0);
  });

  it("says why there is no figure", () => {
    expect(whatIf({ ...station, regulator: null }, {}).why).toContain("delivery pressure");
    expect(whatIf({ ...station, flowDevice: null }, {}).why).toContain("no flow device");
  });
});
