import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { SupplySetup } from "@leeward/shared-core/estimation/engine.ts";
import type { PlantConfig } from "../plant/config.ts";
import { type PlantVariation, plantConfigFor } from "../plant/from-station.ts";
import { createPlant, type Plant } from "../plant/plant.ts";
import { createRandom, type Random } from "../plant/random.ts";
import { type NodeOptions, NodeReporter, nodeOptionsFor } from "../plant/reporting.ts";
import { EventLog, type ReceivedLine, runStation, type TruthPoint } from "../plant/run.ts";
import {
  type Actor,
  ordinaryHabits,
  type TrueEvent,
  Welder,
  type WelderHabits,
} from "../plant/welder.ts";

/** Monday 2025-11-24 06:30 UTC: half an hour before the first shift. */
export const scenarioStartS = 1763965800;

/** What one scenario decides for one seed. */
export interface ScenarioCase {
  /** One document a drop; the first one's cylinder and regulator are the supply's. */
  stations: StationDocument[];
  setup?: SupplySetup;
  variation: PlantVariation;
  alter?(config: PlantConfig): void;
  habits?: Partial<WelderHabits>;
  node?: Partial<NodeOptions>;
  /** Last word before the first second: dialling, sensor errors, an open leak. */
  begin?(plant: Plant, random: Random): void;
  /** What happens beside the welder's work. */
  happenings?(scene: {
    plant: Plant;
    reporters: NodeReporter[];
    log: EventLog[];
    random: Random;
  }): Actor[];
  hours?: number;
}

/** A parameterised stretch of shop life, to judge an estimator by. */
export interface Scenario {
  name: string;
  about: string;
  /** True where it breaks an assumption that an estimator may well make. */
  breaks: boolean;
  hours: number;
  build(seed: number, random: Random): ScenarioCase;
}

export interface ScenarioSinks {
  onLine(line: ReceivedLine): void;
  onTruth?(point: TruthPoint, drop: number): void;
  truthEveryS?: number;
}

export interface ScenarioRun {
  setup: SupplySetup;
  plant: Plant;
  /** True events, a list a drop. */
  events: TrueEvent[][];
}

/** The case of a scenario for this seed, before it is played. */
export function scenarioCase(
  scenario: Scenario,
  seed: number,
): ScenarioCase & { setup: SupplySetup } {
  const built = scenario.build(seed, createRandom(seed, 40));
  return { ...built, setup: built.setup ?? { supply: null, stations: built.stations } };
}

/** Plays a scenario: lines in order of receipt, and the truth beside them. Deterministic. */
export function playScenario(scenario: Scenario, seed: number, sinks: ScenarioSinks): ScenarioRun {
  const one = scenarioCase(scenario, seed);
  const first = one.stations[0] as StationDocument;
  const config = plantConfigFor(first, { startUnixS: scenarioStartS, ...one.variation });
  for (const more of one.stations.slice(1)) {
    const other = plantConfigFor({ ...more, cylinder: first.cylinder }, one.variation);
    config.drops.push(...other.drops);
  }
  one.alter?.(config);
  const plant = createPlant(config, seed);
  one.stations.forEach((station, i) => {
    const reading = station.flowDevice?.reading;
    if (reading !== undefined) plant.setReading(reading, i);
  });
  one.begin?.(plant, createRandom(seed, 41));
  const log = one.stations.map(
    (s) => new EventLog(one.stations.length > 1 ? s.station : undefined),
  );
  const reporters = one.stations.map(
    (station, i) =>
      new NodeReporter(
        nodeOptionsFor(station, { drop: i, arc: config.sensors.arc, ...one.node }),
        createRandom(seed, 30 + i),
        plant.t,
      ),
  );
  const actors: Actor[] = [];
  const { habits } = one;
  if (habits) {
    one.stations.forEach((station, i) => {
      const usual: WelderHabits = {
        ...ordinaryHabits,
        fill: fullFill(first),
        reading: station.flowDevice?.reading ?? null,
        ...habits,
      };
      // A cylinder shared by several drops is changed by the first drop's welder.
      if (i > 0) usual.swapBelowPa = 0;
      actors.push(new Welder(usual, createRandom(seed, 20 + i), plant.t, log[i] as EventLog, i));
    });
  }
  actors.push(
    ...(one.happenings?.({ plant, reporters, log, random: createRandom(seed, 42) }) ?? []),
  );
  runStation({
    plant,
    reporters,
    actors,
    log,
    endS: scenarioStartS + (one.hours ?? scenario.hours) * 3600,
    usableAbovePa: (first.cylinder?.residualBar ?? 2) * 1e5,
    truthEveryS: sinks.truthEveryS ?? 10,
    onLine: sinks.onLine,
    ...(sinks.onTruth && { onTruth: sinks.onTruth }),
  });
  return { setup: one.setup, plant, events: log.map((one) => one.events) };
}

/** A whole scenario in memory: the setup, lines in order of receipt, truth and true events. */
export function collectScenario(scenario: Scenario, seed: number, truthEveryS = 10) {
  const items: ReceivedLine[] = [];
  const truth: TruthPoint[][] = [];
  const run = playScenario(scenario, seed, {
    onLine: (line) => items.push(line),
    onTruth: (point, drop) => {
      const list = truth[drop] ?? [];
      truth[drop] = list;
      list.push(point);
    },
    truthEveryS,
  });
  return {
    setup: run.setup,
    station: run.setup.stations[0] as StationDocument,
    items,
    truth,
    events: run.events,
  };
}

/** A full cylinder as the description has it. */
function fullFill(station: StationDocument): WelderHabits["fill"] {
  const cylinder = station.cylinder;
  if (cylinder && "filledKg" in cylinder) return { massKg: cylinder.filledKg as number };
  return {
    gaugePa: (cylinder?.filledBar as number) * 1e5,
    temperatureK: 273.15 + (cylinder?.filledC as number),
  };
}

/** An actor that acts once. */
export function once(t: number, act: (plant: Plant) => void): Actor {
  return {
    nextS: t,
    act(plant) {
      this.nextS = Number.POSITIVE_INFINITY;
      act(plant);
    },
  };
}
