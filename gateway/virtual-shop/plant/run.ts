import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";
import type { Plant } from "./plant-interface.ts";
import type { NodeReporter, ReceivedPack } from "./reporting.ts";
import type { Actor, ActorLog, TrueEvent } from "./welder.ts";

export interface ReceivedPerson {
  received: number;
  person: PersonEntry;
  /** Needed only where a supply has several drops. */
  station?: string;
}
export type ReceivedLine = ReceivedPack | ReceivedPerson;

/** The truth at one moment, for one drop; copied, so it can be kept. */
export interface TruthPoint {
  t: number;
  gasOn: boolean;
  valveOpen: boolean;
  /** Through the restriction, L/min `metric20`. */
  flowLpm: number;
  torchLpm: number;
  contentLitres: number;
  contentKg: number;
  usableLitres: number;
  cylinderGaugePa: number;
  lineGaugePa: number;
  gasC: number;
  wallC: number;
  bodyC: number;
  airC: number;
  indicated: number;
  cylinderLeakLpm: number;
  lineLeakLpm: number;
}

/** Collects what actors do, in order of time. */
export class EventLog implements ActorLog {
  readonly events: TrueEvent[] = [];
  readonly persons: ReceivedPerson[] = [];
  private readonly station: string | undefined;

  constructor(station?: string) {
    this.station = station;
  }

  event(event: TrueEvent): void {
    this.events.push(event);
  }

  person(t: number, entry: PersonEntry): void {
    const item: ReceivedPerson = { received: t, person: entry };
    if (this.station !== undefined) item.station = this.station;
    this.persons.push(item);
  }
}

/** Present truth of a drop. @param usableAbovePa gauge pressure below which content is not usable */
export function truthPoint(plant: Plant, drop: number, usableAbovePa: number): TruthPoint {
  const truth = plant.truth(usableAbovePa);
  const d = truth.drops[drop] as (typeof truth.drops)[number];
  return {
    t: truth.t,
    gasOn: plant.inputs.drops[drop]?.torchOpen ?? false,
    valveOpen: plant.inputs.cylinderValveOpen,
    flowLpm: d.deviceLpm,
    torchLpm: d.torchLpm,
    contentLitres: truth.contentLitres,
    contentKg: truth.contentKg,
    usableLitres: truth.usableLitres,
    cylinderGaugePa: truth.highSidePa - truth.airPa,
    lineGaugePa: (plant.config.drops[drop]?.tap === "hose" ? d.hosePa : d.bodyPa) - truth.airPa,
    gasC: truth.gasK - 273.15,
    wallC: truth.wallK - 273.15,
    bodyC: truth.bodyK - 273.15,
    airC: truth.airK - 273.15,
    indicated: d.indicated,
    cylinderLeakLpm: truth.cylinderLeakLpm,
    lineLeakLpm: truth.lineLeakLpm,
  };
}

export interface StationRun {
  plant: Plant;
  /** One a drop, in the drops' order. */
  reporters: NodeReporter[];
  actors: Actor[];
  log: EventLog[];
  endS: number;
  /** Gauge Pa below which content does not count as usable. */
  usableAbovePa: number;
  truthEveryS: number;
  onLine(line: ReceivedLine): void;
  onTruth?(point: TruthPoint, drop: number): void;
}

/**
 * Runs a supply from the plant's present time to `endS`: 1 s ticks while something goes on, coarser
 * when idle. Lines come in order of receipt.
 */
export function runStation(run: StationRun): void {
  const { plant, actors, reporters } = run;
  let truthS = plant.t;
  const queue: ReceivedLine[] = [];
  const told: number[] = run.log.map(() => 0);
  while (plant.t < run.endS - 1e-9) {
    let due = run.endS;
    for (const actor of actors) if (actor.nextS < due) due = actor.nextS;
    // Ten seconds before an edge are reported at 1 s: arrive there in time.
    let dt = due - plant.t > 16 ? due - plant.t - 13 : 1;
    for (const reporter of reporters) dt = Math.min(dt, reporter.patienceS(plant.t));
    dt = Math.min(dt, truthS - plant.t);
    // Rows fall on whole seconds.
    const whole = Math.floor(plant.t + dt + 1e-6);
    const next = Math.min(
      run.endS,
      whole > plant.t + 1e-6 ? whole : Math.floor(plant.t + 1e-6) + 1,
    );
    for (;;) {
      let first: Actor | null = null;
      for (const actor of actors) {
        if (actor.nextS <= next && (!first || actor.nextS < first.nextS)) first = actor;
      }
      if (!first) break;
      if (first.nextS > plant.t) plant.step(first.nextS - plant.t);
      first.act(plant);
    }
    if (next > plant.t) plant.step(next - plant.t);
    for (const reporter of reporters) for (const pack of reporter.tick(plant)) queue.push(pack);
    run.log.forEach((log, i) => {
      while ((told[i] as number) < log.persons.length) {
        queue.push(log.persons[told[i] as number] as ReceivedPerson);
        told[i] = (told[i] as number) + 1;
      }
    });
    if (plant.t >= truthS - 1e-6) {
      if (run.onTruth) {
        for (let i = 0; i < reporters.length; i += 1) {
          run.onTruth(truthPoint(plant, i, run.usableAbovePa), i);
        }
      }
      truthS += run.truthEveryS;
    }
    letOut(queue, plant.t, run.onLine);
  }
  letOut(queue, Number.POSITIVE_INFINITY, run.onLine);
}

function letOut(queue: ReceivedLine[], t: number, onLine: (line: ReceivedLine) => void): void {
  if (queue.length === 0) return;
  queue.sort((a, b) => a.received - b.received);
  let n = 0;
  while (n < queue.length && (queue[n] as ReceivedLine).received <= t) n += 1;
  for (const line of queue.splice(0, n)) onLine(line);
}
