import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { PlantVariation } from "../../gateway/virtual-shop/plant/from-station.ts";
import type { Plant } from "../../gateway/virtual-shop/plant/plant.ts";
import { createRandom } from "../../gateway/virtual-shop/plant/random.ts";
import type { Actor } from "../../gateway/virtual-shop/plant/welder.ts";
import { type BenchStep, runBench } from "../shared-core/bench/plant-bench.ts";
import { Cycle } from "./cycle.ts";
import { type Line, once, type Run, type Scenario, simulate, startUnixS } from "./simulate.ts";
import { tigStation } from "./stations.ts";

/** Single runs of the alarm aims: plant, node, replay reader, engine and conditions together. */

const variation: Scenario["variation"] = (seed) => {
  const random = createRandom(seed, 77);
  return {
    volumeFactor: 1 + 0.005 * random.normal(),
    thermalLag: random.between(0.75, 1.35),
    supplyEffectBarPer100: random.between(-0.8, -0.2),
    lockUpBar: random.between(0.25, 0.6),
    weather: { meanC: random.between(12, 24), dailySwingK: random.between(4, 9) },
  };
};

const base = { about: "", every: 1, variation };

/** Unix s at which a condition first shows after `fromS`; null if never. */
function shownAt(lines: readonly Line[], condition: string, fromS: number): number | null {
  const line = lines.find(
    ({ estimate }) =>
      estimate.t >= fromS && estimate.alarms.some((alarm) => alarm.condition === condition),
  );
  return line?.estimate.t ?? null;
}

/** 20 % under the least flow of 6 L/min. */
const SHORT_LPM = 4.8;

/** What a float shows of the true flow: its scale is good to a tenth (from memory: the class of flow gauges), and so is whoever reads it. */
const SCALE_SIGMA = 0.07;

/** How the flow comes to be too small: a needle turned, or a regulator that delivers less. */
const shortBy = {
  // The plant passes 3 % more than asked, once its body is cool.
  needle: (plant: Plant) => plant.setTrueFlow(SHORT_LPM / 1.03),
  pressure: (plant: Plant) => plant.setDeliveryFor(SHORT_LPM),
};

/** Three flows at three cylinder pressures: delivery pressure, its sag and its droop. */
const benchSteps: BenchStep[] = [200, 120, 40].flatMap((bar) => [
  { bar, set: 8 },
  { bar, set: 4 },
  { bar, set: 12 },
]);

/** The station with its regulator and flow device bench-tested before they were fitted. */
export function benchTested(seed: number): StationDocument {
  const { csv } = runBench({
    station: tigStation(),
    variation: variation(seed),
    steps: [...benchSteps, { bar: 150, set: 8 }],
    seed,
    meterSigma: 0.01,
    readingSigma: 0.01,
    line: true,
  });
  const rows = parseBenchCsv(csv, { Ar: 1 });
  if (!rows.ok) throw new Error(rows.faults.join("; "));
  const fitted = fitDevice(tigStation(), rows.value);
  if (!fitted.ok || fitted.value.fit === null) throw new Error(`seed ${seed}: the test has no fit`);
  const plain = tigStation();
  return { ...plain, flowDevice: { ...plain.flowDevice!, fit: fitted.value.fit } };
}

/** Gas-on seconds from then, 20 % under the least flow, until the alarm; after `learntS` of use. */
export function underShieldingGasOnS(
  seed: number,
  learntS: number,
  by: keyof typeof shortBy,
  { tested = false, floatTold = false } = {},
): number | null {
  const turnS = startUnixS + learntS;
  const { lines } = simulate(
    {
      ...base,
      name: "short",
      hours: learntS / 3600 + 0.5,
      // The same regulator on the bench and here.
      ...(tested ? { variation: () => variation(seed) } : {}),
      station: tested ? benchTested(seed) : tigStation(),
      actors: (_plant, _reporter, log) => {
        // Whoever fitted the node reads the float in the first weld.
        if (floatTold)
          log.person(startUnixS + 80, {
            reading: 8 * (1 + SCALE_SIGMA * createRandom(seed, 78).normal()),
          });
        return [new Cycle(log, seed, [20, 60], [10, 40], 60), once(turnS, shortBy[by])];
      },
      start: (plant) => plant.setTrueFlow(8),
    },
    seed,
  );
  const at = shownAt(lines, "under-shielding", turnS);
  if (at === null) return null;
  return lines.filter(
    ({ estimate, truth }) => estimate.t >= turnS && estimate.t < at && truth.gasOn,
  ).length;
}

/** An hour of short welds at 8 L/min, then something changes; `hours` in all. */
export function changedAfterAnHour(
  seed: number,
  hours: number,
  change: (plant: Plant) => void,
  hardware: { variation: PlantVariation; station?: StationDocument },
): Run & { changeS: number } {
  const changeS = startUnixS + 3600;
  const run = simulate(
    {
      ...base,
      name: "changed",
      hours,
      station: tigStation(),
      ...hardware,
      variation: () => hardware.variation,
      actors: (_plant, _reporter, log) => [
        new Cycle(log, seed, [20, 60], [10, 40], 60),
        once(changeS, change),
      ],
      start: (plant) => plant.setTrueFlow(8),
    },
    seed,
  );
  return { ...run, changeS };
}

/**
 * A regulator that gives less, 7.4 L/min of 8, with nothing turned: alarms and events that show then, and
 * from half a minute of gas-on on the share of lines whose interval holds the truth, and the largest
 * flow told over the true one.
 */
export function fallenDelivery(
  seed: number,
  tested: boolean,
): { conditions: string[]; events: string[]; held: number; most: number } {
  const { lines, changeS } = changedAfterAnHour(seed, 1.5, (plant) => plant.setDeliveryFor(7.4), {
    variation: variation(seed),
    ...(tested ? { station: benchTested(seed) } : {}),
  });
  const after = lines.filter(({ estimate }) => estimate.t >= changeS);
  const conditions = after.flatMap(({ estimate }) => estimate.alarms.map((one) => one.condition));
  const events = after.flatMap(({ estimate }) => estimate.events.map((one) => one.event));
  const flowing = after
    .filter(({ truth, estimate }) => truth.gasOn && estimate.flow?.low !== undefined)
    .slice(30);
  const holding = flowing.filter(
    ({ truth, estimate: { flow } }) => flow!.low! <= truth.flowLpm && truth.flowLpm <= flow!.high!,
  );
  return {
    conditions: [...new Set(conditions)],
    events: [...new Set(events)],
    held: holding.length / flowing.length,
    most: Math.max(...flowing.map(({ truth, estimate }) => estimate.flow.lpm! / truth.flowLpm)),
  };
}

/** Minutes of idle until a seat that leaks 0.05 bar/min is found; `rate` says what it leaks. */
export function creepIdleMin(
  seed: number,
  { bodyProbe = true } = {},
): { minutes: number | null; barPerMin: number } {
  const offS = startUnixS + 3600;
  const { lines } = simulate(
    {
      ...base,
      name: "creep",
      hours: 2,
      station: tigStation(),
      // Gives about 0.05 bar/min in this hose and body; the row says what it really was.
      variation: (s) => ({ ...variation(s), seatCreepLpm: 0.0033 }),
      alter: (config) => {
        if (!bodyProbe) config.sensors.body = null;
      },
      actors: (_plant, _reporter, log) => [new Cycle(log, seed, [20, 60], [10, 40], 60, 3500)],
      start: (plant) => plant.setTrueFlow(8),
    },
    seed,
  );
  const off = lines.findLast(({ truth }) => truth.gasOn)?.truth.t ?? offS;
  const line = (t: number) => lines.find(({ truth }) => truth.t >= t)?.truth.lineGaugePa ?? 0;
  const at = shownAt(lines, "regulator-creep", off);
  return {
    minutes: at === null ? null : (at - off) / 60,
    barPerMin: (line(off + 600) - line(off + 120)) / 1e5 / 8,
  };
}

/** Seconds of samples until an open or shorted sensor is an alarm, with gas on and off by turns. */
export function sensorFaultS(
  seed: number,
  channel: "line" | "cylinder",
  fault: "open" | "short",
): number | null {
  const faultS = startUnixS + 1800 + seed;
  const { lines } = simulate(
    {
      ...base,
      name: fault,
      hours: 0.6,
      station: tigStation(),
      actors: (_plant, _reporter, log) => [
        new Cycle(log, seed, [20, 60], [10, 40], 60),
        once(faultS, (plant) => setFault(plant, channel, fault)),
      ],
      start: (plant) => plant.setTrueFlow(8),
    },
    seed,
  );
  const at = shownAt(lines, "sensor-fault", faultS);
  return at === null ? null : at - faultS;
}

function setFault(
  plant: Plant,
  channel: "line" | "cylinder",
  fault: "open" | "short" | "stuck",
): void {
  const sensor = channel === "line" ? plant.sensors.lines[0] : plant.sensors.cylinder;
  if (sensor) sensor.fault = fault;
}

/** Minutes of true gas-on until a sensor that is stuck is an alarm. */
export function stuckGasOnMin(seed: number, channel: "line" | "cylinder"): number | null {
  const stuckS = startUnixS + 3600;
  const { lines } = simulate(
    {
      ...base,
      name: "stuck",
      hours: 2,
      station: tigStation(),
      actors: (_plant, _reporter, log) => [
        new Cycle(log, seed, [20, 90], [10, 40], 60),
        once(stuckS, (plant) => setFault(plant, channel, "stuck")),
      ],
      start: (plant) => plant.setTrueFlow(8),
    },
    seed,
  );
  const at = shownAt(lines, "sensor-fault", stuckS);
  if (at === null) return null;
  return lines.filter(({ truth }) => truth.gasOn && truth.t >= stuckS && truth.t < at).length / 60;
}

/** What says that a line is on its way to its limit. */
const lineAlarms = ["line-pressure-high", "trapped-line-pressure", "regulator-creep"];

/**
 * The valve is closed and a breath of gas drawn: the high side falls and tells of it, the hose
 * stays near the pressure that the regulator locks up at. Without a draw nobody could see it.
 */
export function shutIn(t: number): Actor[] {
  return [
    once(t, (plant) => {
      plant.inputs.cylinderValveOpen = false;
    }),
    once(t + 5, (plant) => torch(plant, true)),
    once(t + 9, (plant) => torch(plant, false)),
  ];
}

function torch(plant: Plant, open: boolean): void {
  for (const drop of plant.inputs.drops) drop.torchOpen = open;
}

/**
 * Minutes between the first word about a line that the sun heats and the moment when it reaches
 * its limit; null where nothing was said before, infinite where the limit is not reached.
 */
export function heatedLineLeadMin(seed: number, valveClosed: boolean): number | null {
  const offS = 3600;
  const closeS = startUnixS + offS + 120;
  const { lines } = simulate(
    {
      ...base,
      name: "heated line",
      hours: 8,
      every: 10,
      // A hose that may see little more than what the regulator locks up at.
      station: tigStation({ regulator: { maxLineBar: 4.4 } }),
      variation: (s) => ({
        ...variation(s),
        lockUpBar: 0.35,
        weather: {
          meanC: 20,
          dailySwingK: 10,
          sunHoseK: createRandom(s, 5).between(30, 45),
          sunBodyK: 20,
        },
      }),
      actors: (_plant, _reporter, log) => [
        new Cycle(log, seed, [20, 60], [10, 40], 60, offS),
        ...(valveClosed ? shutIn(closeS) : []),
      ],
      start: (plant) => plant.setTrueFlow(8),
    },
    seed,
  );
  const reached = lines.find(({ truth }) => truth.t > closeS && truth.lineGaugePa >= 4.4e5);
  if (reached === undefined) return Number.POSITIVE_INFINITY;
  const said = lineAlarms
    .map((condition) => shownAt(lines, condition, closeS))
    .filter((t) => t !== null && t <= reached.truth.t) as number[];
  return said.length === 0 ? null : (reached.truth.t - Math.min(...said)) / 60;
}

/** Gas-on minutes ahead of the end at which runs-out-soon comes; the change-over takes 10. */
export function runOutAheadMin(seed: number): number | null {
  const { lines } = simulate(
    {
      ...base,
      name: "run-out",
      hours: 2.7,
      every: 5,
      station: tigStation({ cylinder: { waterVolumeL: 10 } }),
      variation: (s) => ({
        ...variation(s),
        presentBar: createRandom(s, 9).between(65, 85),
        presentC: 18,
      }),
      actors: (_plant, _reporter, log) => [new Cycle(log, seed, [40, 120], [20, 60], 60)],
      start: (plant) => plant.setTrueFlow(8),
    },
    seed,
  );
  const at = shownAt(lines, "runs-out-soon", 0);
  const end = lines.find(({ truth }) => truth.usableLitres <= 0)?.truth.t ?? null;
  if (at === null || end === null) return null;
  const ahead = lines.filter(
    ({ truth }) => truth.gasOn && truth.t >= Math.min(at, end) && truth.t < Math.max(at, end),
  ).length;
  return ((at <= end ? 1 : -1) * ahead * 5) / 60;
}
