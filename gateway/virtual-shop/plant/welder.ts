import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";
import type { PlantFill } from "./config.ts";
import type { DropInputs, Plant } from "./plant-interface.ts";
import type { Random } from "./random.ts";

/** What really happened at a station: the truth that events are judged by. */
export interface TrueEvent {
  t: number;
  event:
    | "gas-on"
    | "gas-off"
    | "arc-on"
    | "arc-off"
    | "re-dial"
    | "swap"
    | "valve-closed"
    | "valve-opened"
    | "line-bled"
    | "node-off"
    | "node-on";
  /** re-dial: new over old conductance of the restriction, or of the setting. */
  ratio?: number;
}

/** Whoever acts on a plant over time. */
export interface Actor {
  /** Unix seconds of the next act; Infinity for never. */
  nextS: number;
  act(plant: Plant): void;
}

export interface ActorLog {
  event(event: TrueEvent): void;
  person(t: number, entry: PersonEntry): void;
}

export interface WelderHabits {
  preflowS: number;
  postflowS: number;
  /** Shortest and longest arc; drawn evenly in the logarithm. */
  arcS: [number, number];
  /** Between two arcs of one spell of work. */
  pauseS: [number, number];
  /** Spell of work and the break after it. */
  workS: [number, number];
  breakS: [number, number];
  /** Local hours of work; both 0 and 24 for around the clock. */
  fromH: number;
  toH: number;
  utcOffsetH: number;
  /** Days of work from Monday (1) to Sunday (7). */
  days: number[];
  /** Closes the cylinder valve and bleeds the line at the end of the day. */
  closesEvenings: boolean;
  /** Leaves the bleeding out: valve closed, line under pressure. */
  bleeds: boolean;
  /** Changes the cylinder at a pause below this gauge pressure, Pa. */
  swapBelowPa: number;
  fill: PlantFill;
  /** Says "full cylinder fitted" after a swap. */
  tellsSwap: boolean;
  /** Dialled to this reading after each swap; null leaves it alone. */
  reading: number | null;
}

export const ordinaryHabits: WelderHabits = {
  preflowS: 0.5,
  postflowS: 10,
  arcS: [8, 90],
  pauseS: [10, 120],
  workS: [1500, 5400],
  breakS: [400, 1500],
  fromH: 7,
  toH: 16,
  utcOffsetH: 0,
  days: [1, 2, 3, 4, 5],
  closesEvenings: false,
  bleeds: true,
  swapBelowPa: 10e5,
  fill: { gaugePa: 200e5, temperatureK: 288.15 },
  tellsSwap: true,
  reading: null,
};

type Stage =
  | "away"
  | "ready"
  | "preflow"
  | "arc"
  | "postflow"
  | "leaving"
  | "bleeding"
  | "change-bleeding"
  | "change-off";

/** A welder at one torch: pre-flow, arc, post-flow, pauses, breaks, evenings, cylinder changes. */
export class Welder implements Actor {
  nextS: number;
  private readonly habits: WelderHabits;
  private readonly random: Random;
  private readonly drop: number;
  private readonly log: ActorLog;
  private stage: Stage = "away";
  private workEndS = 0;

  constructor(habits: WelderHabits, random: Random, startS: number, log: ActorLog, drop = 0) {
    this.habits = habits;
    this.random = random;
    this.log = log;
    this.drop = drop;
    this.nextS = this.onShift(startS) ? startS + random.between(5, 120) : this.shiftStart(startS);
  }

  private localHour(tS: number): number {
    return (((tS / 3600 + this.habits.utcOffsetH) % 24) + 24) % 24;
  }

  private onShift(tS: number): boolean {
    // Day 0 of Unix time was a Thursday (4).
    const day = ((Math.floor((tS / 3600 + this.habits.utcOffsetH) / 24) + 3) % 7) + 1;
    const hour = this.localHour(tS);
    return this.habits.days.includes(day) && hour >= this.habits.fromH && hour < this.habits.toH;
  }

  private shiftStart(tS: number): number {
    let t = tS;
    for (let k = 0; k < 8 * 96; k += 1) {
      t += 900;
      if (this.onShift(t)) {
        const into = (this.localHour(t) - this.habits.fromH) * 3600;
        return Math.max(tS + 1, t - Math.min(900, into)) + this.random.between(0, 600);
      }
    }
    return Number.POSITIVE_INFINITY;
  }

  private span([low, high]: [number, number]): number {
    return low * (high / low) ** this.random.next();
  }

  act(plant: Plant): void {
    const t = this.nextS;
    const input = plant.inputs.drops[this.drop] as DropInputs;
    const { habits, log } = this;
    switch (this.stage) {
      case "away": {
        this.workEndS = t + this.span(habits.workS);
        this.stage = "ready";
        if (!plant.inputs.cylinderValveOpen) {
          plant.inputs.cylinderValveOpen = true;
          log.event({ t, event: "valve-opened" });
          this.nextS = t + this.random.between(20, 90);
        } else this.nextS = t + 1;
        return;
      }
      case "ready": {
        const gauge = plant.truth().highSidePa - plant.truth().airPa;
        if (gauge < habits.swapBelowPa && plant.inputs.cylinderValveOpen) {
          this.startChange(plant, t);
          return;
        }
        input.torchOpen = true;
        log.event({ t, event: "gas-on" });
        this.stage = "preflow";
        this.nextS = t + habits.preflowS;
        return;
      }
      case "preflow":
        input.arc = true;
        log.event({ t, event: "arc-on" });
        this.stage = "arc";
        this.nextS = t + this.span(habits.arcS);
        return;
      case "arc":
        input.arc = false;
        log.event({ t, event: "arc-off" });
        this.stage = "postflow";
        this.nextS = t + habits.postflowS;
        return;
      case "postflow":
        input.torchOpen = false;
        log.event({ t, event: "gas-off" });
        this.afterWeld(t);
        return;
      case "leaving":
        plant.inputs.cylinderValveOpen = false;
        log.event({ t, event: "valve-closed" });
        if (habits.bleeds) {
          input.torchOpen = true;
          log.event({ t: t + 2, event: "line-bled" });
          this.stage = "bleeding";
          this.nextS = t + 90;
        } else {
          this.stage = "away";
          this.nextS = this.shiftStart(t);
        }
        return;
      case "bleeding":
        input.torchOpen = false;
        this.stage = "away";
        this.nextS = this.shiftStart(t);
        return;
      case "change-bleeding":
        input.torchOpen = false;
        this.stage = "change-off";
        this.nextS = t + this.random.between(60, 200);
        return;
      case "change-off":
        plant.swap(habits.fill);
        plant.inputs.cylinderValveOpen = true;
        log.event({ t, event: "swap" });
        log.event({ t, event: "valve-opened" });
        if (habits.tellsSwap) log.person(t + 30, { swap: {} });
        if (habits.reading !== null) plant.setReading(habits.reading, this.drop);
        this.stage = "ready";
        this.nextS = t + this.random.between(30, 120);
        return;
    }
  }

  private afterWeld(t: number): void {
    const { habits } = this;
    if (!this.onShift(t + 60)) {
      this.stage = habits.closesEvenings ? "leaving" : "away";
      this.nextS = habits.closesEvenings ? t + 60 : this.shiftStart(t);
    } else if (t > this.workEndS) {
      this.stage = "away";
      this.nextS = t + this.span(habits.breakS);
    } else {
      this.stage = "ready";
      this.nextS = t + this.span(habits.pauseS);
    }
  }

  /** First of a cylinder change: valve closed, line emptied. */
  private startChange(plant: Plant, t: number): void {
    plant.inputs.cylinderValveOpen = false;
    (plant.inputs.drops[this.drop] as DropInputs).torchOpen = true;
    this.log.event({ t, event: "valve-closed" });
    this.stage = "change-bleeding";
    this.nextS = t + 45;
  }
}
