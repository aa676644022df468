import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { planDevice, readingSigma } from "@leeward/shared-core/estimation/device.ts";
import { fitGain } from "@leeward/shared-core/estimation/fit-prior.ts";
import { GasModel } from "@leeward/shared-core/estimation/gas-model.ts";
import { describe, expect, it } from "vitest";
import type { PlantVariation } from "../../../gateway/virtual-shop/plant/from-station.ts";
import { createRandom } from "../../../gateway/virtual-shop/plant/random.ts";
import { Cycle } from "../../accuracy/cycle.ts";
import { type Line, once, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { tigStation } from "../../accuracy/stations.ts";
import { allHours, seeds } from "../../hours.ts";
import { type BenchStep, runBench } from "../bench/plant-bench.ts";

const steps: BenchStep[] = [
  { bar: 200, set: 8 },
  { bar: 120 },
  { bar: 40 },
  { bar: 40, set: 8 },
  { bar: 150, set: 8 },
];

/** Regulators and tubes as they come; the same device on the bench and at the station. */
function variation(seed: number): PlantVariation {
  const random = createRandom(seed, 91);
  return {
    volumeFactor: 1 + 0.005 * random.normal(),
    thermalLag: random.between(0.75, 1.35),
    floatFactor: random.between(0.88, 1.12),
    supplyEffectBarPer100: random.between(-0.8, -0.2),
    lockUpBar: random.between(0.25, 0.6),
  };
}

function tested(seed: number): { station: StationDocument; needleLpmPerBar: number } {
  const bench = runBench({
    station: tigStation(),
    variation: variation(seed),
    steps,
    seed,
    meterSigma: 0.01,
    readingSigma: 0.01,
    line: true,
  });
  const rows = parseBenchCsv(bench.csv, { Ar: 1 });
  if (!rows.ok) throw new Error(rows.faults.join("; "));
  const answer = fitDevice(tigStation(), rows.value);
  if (!answer.ok || answer.value.fit === null) throw new Error(`seed ${seed}: no fit`);
  const plain = tigStation();
  const station = { ...plain, flowDevice: { ...plain.flowDevice!, fit: answer.value.fit } };
  return { station, needleLpmPerBar: bench.truth.lpmPerBar };
}

/** The tested device at its station, needle as the bench left it. */
function run(
  station: StationDocument,
  lpmPerBar: number,
  seed: number,
  hours: number,
  turn?: Parameters<typeof once>[1],
): Line[] {
  return simulate(
    {
      name: "tested",
      about: "",
      every: 1,
      hours,
      station,
      variation: () => ({ ...variation(seed), presentBar: 150 }),
      actors: (_plant, _reporter, log) => [
        new Cycle(log, seed, [20, 60], [10, 40], 60),
        ...(turn ? [once(startUnixS + 300, turn)] : []),
      ],
      start: (plant) => {
        plant.inputs.drops[0]!.needle = (lpmPerBar * plant.gas.metric20Density) / 60_000 / 1e5;
      },
    },
    seed,
  ).lines;
}

/** Lines of the first minutes, from ten seconds after a gas-on. */
function early(lines: readonly Line[]): Line[] {
  let onS = 0;
  return lines.filter(({ truth, estimate }) => {
    onS = truth.gasOn ? onS + 1 : 0;
    return onS > 10 && estimate.mode === "flowing" && estimate.t < startUnixS + 400;
  });
}

const width = (lines: readonly Line[]) =>
  lines.reduce((sum, { estimate: { flow } }) => sum + flow.high! - flow.low!, 0) / lines.length;

describe("a bench test in the estimate", () => {
  it.runIf(allHours)(
    "narrows the first minutes' flow and holds the truth",
    { tags: ["hours"], timeout: 120_000 },
    () => {
      let inside = 0;
      let count = 0;
      let runsHeld = 0;
      for (let seed = 1; seed <= 20; seed++) {
        const { station, needleLpmPerBar } = tested(seed);
        expect(station.flowDevice?.fit?.reading).toBeCloseTo(8, -0.5);
        const withFit = early(run(station, needleLpmPerBar, seed, 0.12));
        const held = withFit.filter(
          ({ estimate: { flow }, truth }) =>
            flow.low! <= truth.flowLpm && truth.flowLpm <= flow.high!,
        ).length;
        inside += held;
        count += withFit.length;
        if (held / withFit.length > 0.9) runsHeld++;
        if (seed > 5) continue;
        const without = early(run(tigStation(), needleLpmPerBar, seed, 0.12));
        expect(width(withFit)).toBeLessThan(0.5 * width(without));
        // What the page would say without the test comes near what is so without it.
        const flow = withFit[withFit.length >> 1]!.estimate.flow;
        const gain = fitGain({ supply: null, stations: [station] }, station.station, flow)!;
        expect(gain.widthRatio).toBeLessThan(0.6);
        const real = without[without.length >> 1]!.estimate.flow;
        const share = (gain.high - gain.low) / (real.high! - real.low!);
        expect(share).toBeGreaterThan(0.5);
        expect(share).toBeLessThan(2);
      }
      expect(inside / count).toBeGreaterThan(0.9);
      expect(runsHeld).toBeGreaterThanOrEqual(18);
    },
  );

  it("makes under-shielding known within a minute of gas-on at a station that is new", {
    tags: ["hours"],
    timeout: 60_000,
  }, () => {
    const shortBy: Record<string, Parameters<typeof once>[1]> = {
      needle: (plant) => {
        plant.inputs.drops[0]!.needle *= 0.6;
      },
      pressure: (plant) => {
        plant.inputs.deliveryPa = 0.6 * (3.45e5 + 101_325) - 101_325;
      },
    };
    for (const [name, turn] of Object.entries(shortBy)) {
      for (const seed of seeds(1, 2, 3, 4)) {
        const { station, needleLpmPerBar } = tested(seed);
        const lines = run(station, needleLpmPerBar, seed, 0.4, turn);
        const after = lines.filter(({ estimate }) => estimate.t >= startUnixS + 300);
        const shown = after.findIndex(({ estimate }) =>
          estimate.alarms.some(({ condition }) => condition === "under-shielding"),
        );
        // Only where the flow really is well below the least.
        const least = after.find(({ truth }) => truth.gasOn && truth.flowLpm > 1)?.truth.flowLpm;
        if (least === undefined || least > 5.4) continue;
        expect(shown, `${name} ${seed}`).toBeGreaterThanOrEqual(0);
        const gasOnS = after.slice(0, shown).filter(({ truth }) => truth.gasOn).length;
        expect(gasOnS, `${name} ${seed}`).toBeLessThanOrEqual(60);
      }
    }
  });

  it("is nothing to a station whose device has none", () => {
    const flow = { lpm: 8, low: 7, high: 9, basis: "line-pressure" };
    expect(fitGain({ supply: null, stations: [tigStation()] }, "bay-3", flow)).toBeNull();
  });

  it("an orifice gauge's error is the hole's: the dial shows its pressure all the same", () => {
    const gauge = {
      kind: "orifice-gauge" as const,
      scaleGas: { Ar: 1 },
      scaleC: 21,
      scaleReadsAt: { bar: 3.45, reading: 8 },
      readingUnit: "L/min" as const,
    };
    const fit = {
      parameters: [{ name: "scale-error", value: -10, sigma: 1, unit: "%" }],
      covariance: [[1]],
    };
    const gas = new GasModel({ Ar: 1 });
    const plain = planDevice(gauge, gas, 101_325);
    const found = planDevice({ ...gauge, fit }, gas, 101_325);
    expect(found.indicated(0, 446_325, 293.15)).toBeCloseTo(8, 6);
    expect(found.dialPressurePa(8)).toBeCloseTo(plain.dialPressurePa(8)!, 6);
    const share = found.trueFlow(8, 446_325, 293.15)! / plain.trueFlow(8, 446_325, 293.15)!;
    expect(share).toBeCloseTo(0.9, 6);
    expect(readingSigma(plain, true)).toBeCloseTo(0.15, 2);
    // 1 % of the hole and 4 % of the eye.
    expect(readingSigma(found, true)).toBeCloseTo(Math.hypot(0.01, 0.04), 6);
  });
});
