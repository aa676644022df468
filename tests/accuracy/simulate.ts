import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { ReceivedItem, SupplySetup } from "@leeward/shared-core/estimation/engine.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { createSupplyEngine } from "@leeward/shared-core/estimation/supply-engine.ts";
import { ReplayReader } from "@leeward/shared-core/messages/replay-lines.ts";
import type { PlantConfig } from "../../gateway/virtual-shop/plant/config.ts";
import {
  type PlantVariation,
  plantConfigFor,
} from "../../gateway/virtual-shop/plant/from-station.ts";
import { createPlant, type Plant } from "../../gateway/virtual-shop/plant/plant.ts";
import { createRandom } from "../../gateway/virtual-shop/plant/random.ts";
import {
  type NodeOptions,
  NodeReporter,
  nodeOptionsFor,
} from "../../gateway/virtual-shop/plant/reporting.ts";
import { EventLog, runStation, type TruthPoint } from "../../gateway/virtual-shop/plant/run.ts";
import {
  type Actor,
  ordinaryHabits,
  type TrueEvent,
  Welder,
  type WelderHabits,
} from "../../gateway/virtual-shop/plant/welder.ts";

/** One simulated stretch of a station's life. */
export interface Scenario {
  name: string;
  about: string;
  /** Breaks an assumption of the estimator: reported in a table of its own. */
  breaks?: boolean;
  hours: number;
  every: number;
  station: StationDocument;
  variation: (seed: number) => PlantVariation;
  /** Last word on the plant before it is made. */
  alter?: (config: PlantConfig, seed: number) => void;
  habits?: (seed: number) => Partial<WelderHabits>;
  node?: Partial<NodeOptions>;
  /** Reading that the welder dials at the start; the document's otherwise. */
  reading?: number;
  actors?: (plant: Plant, reporter: NodeReporter, log: EventLog, seed: number) => Actor[];
  start?: (plant: Plant, seed: number) => void;
}

export interface Line {
  estimate: Estimate;
  truth: TruthPoint;
}

export interface Run {
  scenario: Scenario;
  seed: number;
  lines: Line[];
  events: TrueEvent[];
  plant: Plant;
  samples: number;
  engineMs: number;
  /** State at the end, as serialised. */
  state: string;
  stateBytes: number;
  stateText: number;
  /** Raw readings as received: time, gauge Pa. For the hand methods. */
  cylinder: { t: number[]; pa: number[] };
  /** Times of the readings that tell gas-on: line pressure where fitted, else the cylinder's. */
  heard: number[];
}

/** Monday 2025-11-24 06:30 UTC. */
export const startUnixS = 1763965800;

/** Asking the system for the time used costs as much as a few samples: many inputs are timed at once. */
const TIMED_TOGETHER = 500;

export const welderStarts = startUnixS;

/** Something that happens once. */
export function once(t: number, act: (plant: Plant) => void): Actor {
  return {
    nextS: t,
    act(plant) {
      this.nextS = Number.POSITIVE_INFINITY;
      act(plant);
    },
  };
}

/** Each scenario draws cylinders, regulators and sensors of its own: offsets last a run, so they are the trials. */
function hardwareSeed(name: string, seed: number): number {
  let hash = 0x811c9dc5;
  for (let k = 0; k < name.length; k++) hash = Math.imul(hash ^ name.charCodeAt(k), 0x01000193);
  return (hash ^ Math.imul(seed, 0x9e3779b1)) >>> 1;
}

/** A scenario's plant, ready to run, and what the replay reader makes of it. */
export interface Play {
  plant: Plant;
  events: TrueEvent[];
  setup: SupplySetup;
  /** Runs to the end of the scenario. */
  run(): void;
}

/** What a play tells while it runs. */
export interface Audience {
  /** Each line of the samples file as the reader gets it. */
  line?: (text: string) => void;
  /** Each of them as an engine gets it, in order of receipt. */
  item: (item: ReceivedItem) => void;
  truth: (point: TruthPoint) => void;
}

/** Sets up a scenario's plant, node and people; no engine hears them yet. */
export function stage(scenario: Scenario, seed: number, audience: Audience): Play {
  const { station } = scenario;
  const hardware = hardwareSeed(scenario.name, seed);
  const config = plantConfigFor(station, { startUnixS, ...scenario.variation(hardware) });
  // From maker to maker sensors differ in their hysteresis more than in anything else.
  config.sensors.cylinder.hysteresis = createRandom(hardware, 78).between(0.0001, 0.0006);
  scenario.alter?.(config, seed);
  const plant = createPlant(config, hardware);
  const reading = scenario.reading ?? station.flowDevice?.reading;
  if (reading !== undefined) plant.setReading(reading);
  scenario.start?.(plant, seed);
  const log = new EventLog();
  const reporter = new NodeReporter(
    nodeOptionsFor(station, scenario.node ?? {}),
    createRandom(seed, 30),
    plant.t,
  );
  const actors: Actor[] = [];
  if (scenario.habits) {
    actors.push(
      new Welder(
        { ...ordinaryHabits, ...scenario.habits(seed) },
        createRandom(seed, 20),
        plant.t,
        log,
      ),
    );
  }
  actors.push(...(scenario.actors?.(plant, reporter, log, seed) ?? []));
  const setup: SupplySetup = { supply: null, stations: [station] };
  const reader = new ReplayReader(setup);
  const run = () =>
    runStation({
      plant,
      reporters: [reporter],
      actors,
      log: [log],
      endS: startUnixS + scenario.hours * 3600,
      usableAbovePa: (station.cylinder?.residualBar ?? 2) * 1e5,
      truthEveryS: scenario.every,
      onTruth: audience.truth,
      onLine: (line) => {
        const text = JSON.stringify(line);
        audience.line?.(text);
        const read = reader.read(text);
        if (!read.ok) throw new Error(JSON.stringify(read.fault));
        for (const item of read.items) audience.item(item);
      },
    });
  return { plant, events: log.events, setup, run };
}

/**
 * Runs a scenario through the plant, the replay reader and the engine.
 *
 * @param record is given every line of the samples file as the reader gets it
 * @param told whether the engine is told a channel that the node reports
 */
export function simulate(
  scenario: Scenario,
  seed: number,
  record: (line: string) => void = () => {},
  told: (channel: string) => boolean = () => true,
): Run {
  const { station } = scenario;
  const truths = new Map<number, TruthPoint>();
  const estimates: Estimate[] = [];
  const cylinder: Run["cylinder"] = { t: [], pa: [] };
  const heard: number[] = [];
  const tells = station.sensors?.line === undefined ? "cylinder-pressure" : "line-pressure";
  let samples = 0;
  let engineMs = 0;
  const waiting: ReceivedItem[] = [];
  const play = stage(scenario, seed, {
    line: record,
    truth: (point) => truths.set(Math.round(point.t), point),
    item: (item) => {
      if ("pack" in item) {
        item.pack.samples = item.pack.samples.filter(({ channel }) => told(channel));
        for (const sample of item.pack.samples) {
          if (sample.channel === tells) heard.push(sample.t);
          if (sample.channel === "cylinder-pressure" && typeof sample.value === "number") {
            samples++;
            cylinder.t.push(sample.t);
            cylinder.pa.push(sample.value);
          } else if (sample.channel === "line-pressure") samples++;
        }
      }
      waiting.push(item);
      if (waiting.length >= TIMED_TOGETHER) takeWaiting();
    },
  });
  const { plant, events, setup } = play;
  const engine = createSupplyEngine(setup, { every: scenario.every });
  const takeWaiting = () => {
    const before = process.cpuUsage();
    for (const item of waiting) {
      for (const { estimate } of engine.receive(item)) estimates.push(estimate);
    }
    const used = process.cpuUsage(before);
    engineMs += (used.user + used.system) / 1000;
    waiting.length = 0;
  };
  play.run();
  takeWaiting();
  const state = engine.serialise();
  const stateText = state.length - JSON.stringify(setup).length;
  const packed = (JSON.parse(state) as { state: string }).state;
  const stateBytes = Math.ceil((packed.length * 3) / 4);
  const lines: Line[] = [];
  for (const estimate of estimates) {
    const truth = truths.get(Math.round(estimate.t));
    if (truth) lines.push({ estimate, truth });
  }
  return {
    scenario,
    seed,
    lines,
    events,
    plant,
    samples,
    engineMs,
    state,
    stateBytes,
    stateText,
    cylinder,
    heard,
  };
}
