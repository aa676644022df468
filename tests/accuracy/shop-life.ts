import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { SupplySetup } from "@leeward/shared-core/estimation/engine.ts";
import { createSupplyEngine } from "@leeward/shared-core/estimation/supply-engine.ts";
import { ReplayReader } from "@leeward/shared-core/messages/replay-lines.ts";
import {
  type PlantVariation,
  plantConfigFor,
} from "../../gateway/virtual-shop/plant/from-station.ts";
import { createPlant, type Plant } from "../../gateway/virtual-shop/plant/plant.ts";
import { createRandom, type Random } from "../../gateway/virtual-shop/plant/random.ts";
import { NodeReporter, nodeOptionsFor } from "../../gateway/virtual-shop/plant/reporting.ts";
import { EventLog, runStation, type TruthPoint } from "../../gateway/virtual-shop/plant/run.ts";
import {
  type Actor,
  ordinaryHabits,
  Welder,
  type WelderHabits,
} from "../../gateway/virtual-shop/plant/welder.ts";
import { RaiseCounter } from "./raises.ts";
import { startUnixS } from "./simulate.ts";
import { migStation, tigStation } from "./stations.ts";

/**
 * Normal shop life with weather: weeks on end at one station, with shifts, evenings, weekends,
 * cylinder changes, seasons, sun, a network that drops out and a float that is set again.
 */
export interface ShopLife {
  name: string;
  station: StationDocument;
  variation: PlantVariation;
  habits: Partial<WelderHabits>;
  /** True flow that the bench set, L/min. */
  setLpm: number;
}

const week = 7 * 86_400;

/** Four stations of a shop; each lives through its own quarter of the year, or the whole of it. */
export const shopLives: readonly ShopLife[] = [
  {
    name: "TIG in the hall, valve closed and line bled each evening",
    station: tigStation(),
    variation: { supplyEffectBarPer100: -0.3, lockUpBar: 0.4 },
    habits: { closesEvenings: true },
    setLpm: 8,
  },
  {
    name: "MIG by the gate, left open at night, no line bled",
    station: migStation(),
    variation: { supplyEffectBarPer100: -0.6, lockUpBar: 0.5, thermalLag: 1.2 },
    habits: { arcS: [5, 60], tellsSwap: false },
    setLpm: 14,
  },
  {
    name: "TIG in the shed, sun on hose and regulator",
    station: tigStation(),
    variation: {
      lockUpBar: 0.3,
      weather: { sunHoseK: 14, sunBodyK: 6, sunCylinderW: 15, wanderK: 2 },
    },
    habits: { days: [1, 2, 3, 4, 5, 6], fromH: 8, toH: 17 },
    setLpm: 8,
  },
  {
    name: "MIG on two shifts, valve closed on Fridays only by chance",
    station: migStation({ regulator: { stages: 2 } }),
    variation: { supplyEffectBarPer100: -0.05, lockUpBar: 0.25, thermalLag: 0.8 },
    habits: { fromH: 6, toH: 22, breakS: [400, 2400] },
    setLpm: 14,
  },
];

/** Mean and daily swing of the air in a hall through the year: latitude 55 N, heated to 12 °C at least. */
function season(tS: number): { meanC: number; dailySwingK: number } {
  const share = Math.cos((2 * Math.PI * (tS / 86_400 - 201)) / 365.25); // warmest around 20 July
  return { meanC: Math.max(12, 14 + 9 * share), dailySwingK: 5 + 3 * Math.max(0, share) };
}

/** Seasons and fronts: the mean follows within hours, never in a step. */
function climate(random: Random): Actor {
  let front = 0;
  return {
    nextS: startUnixS + 1,
    act(plant: Plant) {
      this.nextS += 1800;
      const { weather } = plant.config;
      const wanted = season(this.nextS);
      front = 0.995 * front + 0.25 * random.normal();
      weather.meanC += Math.min(Math.max(wanted.meanC + front - weather.meanC, -0.08), 0.08);
      weather.dailySwingK += 0.02 * (wanted.dailySwingK - weather.dailySwingK);
    },
  };
}

/** The network goes away for some minutes about twice a week; the node keeps its packs. */
function network(reporter: NodeReporter, random: Random, counter: RaiseCounter): Actor {
  return {
    nextS: startUnixS + random.between(0.2, 3) * 86_400,
    act() {
      reporter.linkDown = !reporter.linkDown;
      counter.link(reporter.linkDown, this.nextS);
      this.nextS += reporter.linkDown ? random.between(60, 900) : random.between(1.5, 5) * 86_400;
    },
  };
}

/** Raises of each condition that were not true, over `weeks` from the `fromWeek`th of the year. */
export function falseRaises(
  life: ShopLife,
  seed: number,
  fromWeek: number,
  weeks: number,
): {
  counts: Record<string, number>;
  trueCounts: Record<string, number>;
  weeks: number;
  samples: string[];
} {
  const startS = startUnixS + fromWeek * week;
  const shift = startS - startUnixS;
  const { station } = life;
  const config = plantConfigFor(station, { startUnixS: startS, ...life.variation });
  config.weather = { ...config.weather, ...season(startS) };
  const plant = createPlant(config, seed);
  plant.setTrueFlow(life.setLpm);
  const log = new EventLog();
  const reporter = new NodeReporter(nodeOptionsFor(station, {}), createRandom(seed, 30), plant.t);
  const counter = new RaiseCounter(station, config.regulator.icingBelowC);
  const actors: Actor[] = [
    new Welder({ ...ordinaryHabits, ...life.habits }, createRandom(seed, 20), plant.t, log),
    climate(createRandom(seed, 50)),
    network(reporter, createRandom(seed, 51), counter),
  ];
  for (const actor of actors.slice(1)) actor.nextS += shift;
  const setup: SupplySetup = { supply: null, stations: [station] };
  const reader = new ReplayReader(setup);
  const engine = createSupplyEngine(setup, { every: 10 });
  let truth: TruthPoint | null = null;
  runStation({
    plant,
    reporters: [reporter],
    actors,
    log: [log],
    endS: startS + weeks * week,
    usableAbovePa: (station.cylinder?.residualBar ?? 2) * 1e5,
    truthEveryS: 10,
    onTruth: (point) => {
      truth = point;
      counter.truth(point);
    },
    onLine: (line) => {
      const read = reader.read(JSON.stringify(line));
      if (!read.ok) throw new Error(JSON.stringify(read.fault));
      for (const item of read.items) {
        for (const { estimate } of engine.receive(item)) {
          if (truth !== null) counter.take(estimate);
        }
      }
    },
  });
  counter.finish();
  return {
    counts: Object.fromEntries(counter.counts),
    trueCounts: Object.fromEntries(counter.trueCounts),
    weeks,
    samples: counter.samples,
  };
}
