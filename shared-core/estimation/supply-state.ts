import type { AlarmState } from "../alarms/evaluator.ts";
import type { Candidate } from "./change-watch.ts";
import type { ClockLag } from "./clock-lag.ts";
import { createDropWatch, type DropWatch } from "./condition-watch.ts";
import type { FilterState } from "./cylinder-filter.ts";
import { createFilter, FIRST_DROP, setVariance } from "./cylinder-filter.ts";
import { createDrop, type DropState } from "./drop-state.ts";
import type { PersonEntry } from "./engine.ts";
import type { ActiveAlarm, StationEvent } from "./estimate.ts";
import { createGasWatch, type GasWatchState } from "./gas-watch.ts";
import { createHabit, type HabitState } from "./habit.ts";
import type { LeakTestState } from "./leak-test-run.ts";
import { createLeak, type LeakState } from "./leak-watch.ts";
import { createLiquid, type LiquidState } from "./liquid.ts";
import { type BreakState, createBreaks } from "./merged-spells.ts";
import type { SupplyPlan } from "./plan.ts";
import { createReadingGrid, type ReadingGrid } from "./reading-grid.ts";
import { createReserve, type ReserveState } from "./reserve-watch.ts";
import type { OwnPace } from "./silence.ts";
import { createSpells, type SpellState } from "./spells.ts";
import { createTold, type ToldState } from "./told-watch.ts";
import { createTrend, type TrendState } from "./trend.ts";
import { createWallSteps, type WallSteps } from "./wall-steps.ts";

/** What is remembered of the cylinder side besides the filter; plain data. */
export interface CylinderState {
  /** Cylinder valve: open, closed, or not yet known. */
  valve: "open" | "closed" | "unknown";
  closedSince: number | null;
  /** Last reading with the valve open. */
  heldT: number | null;
  /** Latest reading (gauge Pa) and its time. */
  readingPa: number | null;
  readingT: number | null;
  wallK: number | null;
  wallT: number | null;
  /** Variance of a reading, Pa², from second differences. */
  noise: number;
  previous: number[];
  wallNoise: number;
  wallPrevious: number[];
  wallSteps: WallSteps;
  /** Readings in a row that ask for another regime, their kind, start and last value. */
  suspect: { kind: "fall" | "rise"; count: number; t: number; pa: number } | null;
  /** Gap before the first of them, s. */
  suspectGapS: number;
  /** Lowest reading since the valve was closed. */
  lowPa: number;
  /** Since when the high side stands under pressure again, before the valve counts as open. */
  risenT: number | null;
  /** The high side fell with no gas on; readings in a row that stand still since. */
  closedIdle: boolean;
  steady: number;
  /** After a swap: until the probe has caught up with the new cylinder. */
  settleUntil: number | null;
  /** Content counts as known from here on. */
  knownFrom: number | null;
  lastSwap: number | null;
  /** Zero was learnt at this time. */
  zeroT: number | null;
  /** Reading near 0 since which the high side stands still. */
  zeroRest: { t: number; pa: number } | null;
  /** A person fitted a cylinder: what they said, until the next reading confirms it. */
  announced: { t: number; entry: NonNullable<PersonEntry["swap"]> } | null;
  /** Liquid CO2 is present, as far as known. */
  liquid: boolean;
  massKg: number | null;
  wallRefused: number;
  wallTrend: TrendState;
  /** Warmest the room was in the last day or so, K. */
  dayMostK: number;
  stuckPa: number;
  stuckS: number;
}

export interface Fault {
  channel: string;
  fault: string;
  since: number;
  lastT: number;
  drop: number;
}

/** Everything an engine remembers. Plain data, so that it serialises as it stands. */
export interface EngineState {
  every: number;
  /** Newest sample time taken in. */
  newestT: number | null;
  /** Next line is for this multiple of `every`. */
  nextLine: number | null;
  /** Latest `received` of anything, and of a pack with samples. */
  received: number | null;
  packReceived: number | null;
  silent: boolean;
  /** After a silence lines resume with the data, not with the clock. */
  catchingUp: boolean;
  /** Last intervals between packs, by regime, s. */
  paceFlowing: number[];
  paceIdle: number[];
  /** Latest interval between packs, s. */
  packGapS: number;
  filter: FilterState;
  cylinder: CylinderState;
  drops: DropState[];
  candidates: Candidate[];
  /** Last start of a dial candidate, in gas-on seconds, by drop. */
  dialStarts: number[];
  habits: HabitState[];
  spells: SpellState[];
  leak: LeakState;
  liquid: LiquidState;
  /** What only alarm conditions look at, by drop and of the supply. */
  watches: DropWatch[];
  gasWatch: GasWatchState;
  /** Swap that the gas watch began with, Unix s. */
  gasWatchSwap: number | null;
  reserve: ReserveState;
  /** Chance that the gas is not the label's, as reckoned at `gasDoubtT`; null until something was seen. */
  gasDoubt: { probability: number; looksLike: string | null } | null;
  gasDoubtT: number;
  /** Alarms active after the last sample, by drop, and the evaluators' memory. */
  alarms: ActiveAlarm[][];
  alarmStates: (AlarmState | null)[];
  events: StationEvent[][];
  faults: Fault[];
  nodes: {
    node: string;
    offlineSince: number | null;
    clockWrong: boolean;
    configError: string | null;
    /** Where a supply has several nodes: the pace and the silence of this one. */
    own?: OwnPace;
    /** Where its packs come late: whether that is its clock. */
    lag?: ClockLag;
  }[];
  leakTest: LeakTestState | null;
  purges: ({
    t: number;
    entry: NonNullable<PersonEntry["purge"]>;
    usedL: number;
    /** Seconds of gas-on since it was declared; left out by versions that did not count them. */
    onS?: number;
    /** When it ends by itself, Unix s: with the shift, unless its aim is still to come. */
    until?: number;
    /** Begin of the break in its gas that it has had, Unix s; left out before. */
    brokenT?: number;
  } | null)[];
  jobs: ({
    t: number;
    entry: NonNullable<PersonEntry["job"]>;
    /** Seconds of gas-on since it was declared. */
    gasOnS: number;
    /** When its "no gas" ends, Unix s: with the shift. */
    gaslessUntil: number;
  } | null)[];
  told: ToldState;
  breaks: BreakState[];
  /** Steps in which the cylinder's sensor tells its readings. */
  grid: ReadingGrid;
}

export function createState(plan: SupplyPlan, every: number): EngineState {
  const filter = createFilter(plan.filter, 0);
  plan.drops.forEach((drop, i) => {
    filter.x[FIRST_DROP + i] = drop.priorLogFlow;
    setVariance(filter, FIRST_DROP + i, drop.priorSigma ** 2);
  });
  return {
    every,
    newestT: null,
    nextLine: null,
    received: null,
    packReceived: null,
    silent: false,
    catchingUp: false,
    paceFlowing: [],
    paceIdle: [],
    packGapS: 60,
    filter,
    cylinder: {
      valve: "unknown",
      closedSince: null,
      heldT: null,
      readingPa: null,
      readingT: null,
      wallK: null,
      wallT: null,
      noise: 3000 ** 2,
      previous: [],
      wallNoise: 0.1 ** 2,
      wallPrevious: [],
      wallSteps: createWallSteps(),
      suspect: null,
      suspectGapS: 0,
      lowPa: 0,
      risenT: null,
      closedIdle: false,
      steady: 0,
      settleUntil: null,
      knownFrom: null,
      lastSwap: null,
      zeroT: null,
      zeroRest: null,
      announced: null,
      liquid: plan.liquid !== null,
      massKg: null,
      wallRefused: 0,
      wallTrend: createTrend(),
      dayMostK: 0,
      stuckPa: 0,
      stuckS: 0,
    },
    drops: plan.drops.map(createDrop),
    candidates: [],
    dialStarts: plan.drops.map(() => 0),
    habits: plan.drops.map(createHabit),
    spells: plan.drops.map(createSpells),
    leak: createLeak(filter.x.length, plan.gas.standardMolPerM3 / 60_000),
    liquid: createLiquid(plan),
    watches: plan.drops.map((drop) => createDropWatch(drop.regulator?.heated === true)),
    gasWatch: createGasWatch(),
    gasWatchSwap: null,
    reserve: createReserve(),
    gasDoubt: null,
    gasDoubtT: 0,
    alarms: plan.drops.map(() => []),
    alarmStates: plan.drops.map(() => null),
    events: plan.drops.map(() => []),
    faults: [],
    nodes: [],
    leakTest: null,
    purges: plan.drops.map(() => null),
    jobs: plan.drops.map(() => null),
    told: createTold(plan),
    breaks: plan.drops.map(createBreaks),
    grid: createReadingGrid(),
  };
}
