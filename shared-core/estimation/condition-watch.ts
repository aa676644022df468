import type { StationSnapshot } from "../alarms/condition.ts";
import type { UndecidedAlarm } from "../alarms/evaluator.ts";
import { backPressure, createBackPressure, learnBackPressure } from "./back-pressure-watch.ts";
import { FIRST_DROP, GAS, RHO, ROOM, variance } from "./cylinder-filter.ts";
import { BACK_PRESSURE_PA } from "./device.ts";
import { type DropState, hasLine } from "./drop-state.ts";
import { endIdlePressure, gasDoubt, takeIdlePressure } from "./gas-watch.ts";
import { PAUSE_S } from "./leak-watch.ts";
import { levelPa } from "./line-flow.ts";
import type { SupplyPlan } from "./plan.ts";
import { cylinderReadingSigma } from "./reading-grid.ts";
import {
  type BodySurroundings,
  createBody,
  forecastIcing,
  type IcingForecast,
  learnCold,
  stepBody,
} from "./regulator-watch.ts";
import { watchReserve } from "./reserve-watch.ts";
import { usualSpell } from "./spells.ts";
import type { EngineState } from "./supply-state.ts";
import { stepUnseenBody } from "./unseen-body.ts";

/** What the alarm conditions need beyond the estimate itself, watched from sample to sample. */
export interface DropWatch {
  body: ReturnType<typeof createBody>;
  back: ReturnType<typeof createBackPressure>;
  /** Flow as last told while gas was on, L/min with 1 sigma; null before. */
  lastFlow: { meanLpm: number; sigmaLpm: number } | null;
  /** Conditions that could not be judged at the last sample. */
  undecided: string[];
}

export function createDropWatch(heated: boolean): DropWatch {
  return {
    body: createBody(heated),
    back: createBackPressure(),
    lastFlow: null,
    undecided: [],
  };
}

/** The gas doubt is reckoned anew this often, s: it rests on hours. */
const DOUBT_EVERY_S = 300;
/** The surge of a gas-on is over after this, s. */
const SETTLED_S = 5;

/** One drop at `t`; `molPerS` is what flows through its restriction while its torch is open. */
export function watchDrop(
  plan: SupplyPlan,
  state: EngineState,
  i: number,
  t: number,
  dtS: number,
  molPerS: readonly number[],
): void {
  const drop = state.drops[i]!;
  const watch = state.watches[i]!;
  const around = surroundings(plan, state, i, molPerS);
  const reading = drop.regulatorT === t ? drop.regulatorK : null;
  if (around !== null) stepBody(watch.body, t, around, reading);
  if (drop.lineT === t) stepUnseenBody(drop.unseenBody, t, around, probedK(drop, t));
  const settled = drop.on === true && drop.onSince !== null && t - drop.onSince > SETTLED_S;
  if (!settled || !hasLine(drop, t) || state.cylinder.valve !== "open") return;
  const level = levelPa(plan.drops[i]!, drop).pa;
  if (plan.drops[i]!.tap === "hose") {
    const log = state.filter.x[FIRST_DROP + i]!;
    const sigma = Math.sqrt(variance(state.filter, FIRST_DROP + i));
    learnBackPressure(watch.back, Math.min(dtS, 60), log, sigma, level);
  } else if (reading !== null) {
    learnCold(watch.body, reading, level);
  }
}

/** A probe not heard for longer than this tells nothing of the present, s. */
const PROBE_FRESH_S = 300;

/** Temperature of a regulator's body as its probe tells it, K; null where none does at `t`. */
export function probedK({ regulatorK, regulatorT }: DropState, t: number): number | null {
  return regulatorT !== null && t - regulatorT <= PROBE_FRESH_S ? regulatorK : null;
}

/** Room, gas and flow around a drop's regulator; null before anything of it is known. */
function surroundings(
  plan: SupplyPlan,
  state: EngineState,
  i: number,
  molPerS: readonly number[],
): BodySurroundings | null {
  const { filter, cylinder } = state;
  const drop = state.drops[i]!;
  const room = drop.ambientK ?? (filter.warm ? filter.x[ROOM]! : cylinder.wallK);
  if (cylinder.readingPa === null || room === null || !filter.started) return null;
  const absolute = cylinder.readingPa + plan.filter.atmospherePa;
  const heat = plan.throttling.heat(absolute, filter.x[GAS]!);
  // Drops without a regulator of their own hang on the supply's, which passes the flow of all.
  const shared = plan.drops[i]!.station.regulator == null && plan.setup.supply !== null;
  let flow = 0;
  state.drops.forEach((other, j) => {
    if (other.on === true && (j === i || shared)) flow += molPerS[j] ?? 0;
  });
  return { roomK: room, molPerS: cylinder.valve === "closed" ? 0 : flow, heat };
}

/** Where cold is heading; null while no gas flows, or no probe sits on the body. */
export function icingNow(
  plan: SupplyPlan,
  state: EngineState,
  i: number,
  t: number,
  molPerS: number,
): IcingForecast | null {
  const drop = state.drops[i]!;
  if (drop.on !== true || drop.onSince === null || probedK(drop, t) === null) return null;
  const flows = state.drops.map((_, j) =>
    j === i ? molPerS : Math.exp(state.filter.x[FIRST_DROP + j]!),
  );
  const around = surroundings(plan, state, i, flows);
  if (around === null) return null;
  const spell = usualSpell(state.spells[i]!);
  const left = Math.max(60, (spell?.p99 ?? 300) - (t - drop.onSince));
  return forecastIcing(state.watches[i]!.body, around, left);
}

/** The cylinder side at `t`: the gas against its label, and a bank's change-over. */
export function watchSupply(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  dtS: number,
  readingPa: number | null,
  molPerS: readonly number[],
): void {
  const { cylinder, filter, drops } = state;
  // Without a line sensor short flows pass unseen, and an idle cylinder's pressure says too little.
  const seen = plan.drops.every((drop) => drop.lineRangePa !== null);
  const idle = seen && drops.every((drop) => drop.on === false) && cylinder.valve === "open";
  // Nobody saw what was drawn in a pause.
  const paused = dtS > PAUSE_S;
  if (
    !idle ||
    paused ||
    !filter.warm ||
    cylinder.liquid ||
    cylinder.lastSwap !== state.gasWatchSwap
  ) {
    if (state.gasWatch.since !== null) endIdlePressure(state.gasWatch, plan.gas);
    if (cylinder.lastSwap !== state.gasWatchSwap) {
      // Another cylinder: what was seen of the one before says nothing of it.
      state.gasWatchSwap = cylinder.lastSwap;
      state.gasWatch.weight = 0;
      state.gasWatch.weighted = 0;
    }
  } else if (readingPa !== null && state.leak.gasK !== null) {
    takeIdlePressure(state.gasWatch, plan.gas, {
      t,
      pa: readingPa + plan.filter.atmospherePa,
      k: state.leak.gasK,
      noisePa: cylinderReadingSigma(plan, state),
    });
  }
  if (t - state.gasDoubtT >= DOUBT_EVERY_S) {
    state.gasDoubtT = t;
    state.gasDoubt = gasDoubtNow(plan, state);
  }
  if (!plan.setup.supply?.reserve || readingPa === null) return;
  let flow = 0;
  drops.forEach((drop, i) => {
    if (drop.on === true) flow += molPerS[i] ?? 0;
  });
  const slope = plan.gas.slope(filter.x[RHO]!, filter.x[GAS]!);
  const fall = (flow * Math.min(dtS, 60) * slope) / plan.filter.waterVolumeM3;
  watchReserve(state.reserve, t, readingPa, plan.residualPa, fall);
}

/** Chance that the gas is not the label's; null until something was seen of it. */
function gasDoubtNow(
  plan: SupplyPlan,
  state: EngineState,
): { probability: number; looksLike: string | null } | null {
  if (state.cylinder.liquid || plan.liquid !== null) return null;
  // A leak moves the idle pressure in its own way: the gas is not judged through it.
  const { molPerS, sigmaMolPerS } = state.leak;
  if (molPerS > 2 * sigmaMolPerS && molPerS > 0) return null;
  const first = plan.drops[0]!;
  const device = first.device.document;
  const known = variance(state.filter, FIRST_DROP);
  const described =
    plan.drops.length === 1 && device !== null && device.reading !== undefined && known < 0.1 ** 2;
  const flow = described
    ? { away: state.filter.x[FIRST_DROP]! - first.priorLogFlow, sigma: Math.sqrt(known) }
    : null;
  return gasDoubt(state.gasWatch, plan.gas, flow, plan.otherGases());
}

/** Hose tap: present back pressure over the usual one. */
export function backPressureNow(
  plan: SupplyPlan,
  state: EngineState,
  i: number,
): { ratio: number; sigma: number } | null {
  if (plan.drops[i]!.tap !== "hose") return null;
  const sigma = Math.sqrt(variance(state.filter, FIRST_DROP + i));
  return backPressure(
    plan.drops[i]!,
    state.watches[i]!.back,
    state.filter.x[FIRST_DROP + i]!,
    sigma,
  );
}

/**
 * Whether the cylinder is too low for the regulator to hold its flow: below what a wide-open seat
 * needs for the target, or so near the line's pressure that the line already sags.
 */
export function belowHold(
  plan: SupplyPlan,
  state: EngineState,
  i: number,
  t: number,
): boolean | undefined {
  const { readingPa, valve } = state.cylinder;
  if (readingPa === null || valve !== "open") return undefined;
  const target = plan.drops[i]!.demand?.targetLpm ?? 10;
  if (readingPa < BACK_PRESSURE_PA + 0.05e5 * target) return true;
  const drop = state.drops[i]!;
  const usual = state.watches[i]!.body.warmPa ?? plan.drops[i]!.deliveryPa;
  if (plan.drops[i]!.tap === "hose" || usual === null || !hasLine(drop, t)) return false;
  const sags = drop.on === true && levelPa(plan.drops[i]!, drop).pa < 0.93 * usual;
  return sags && readingPa < 1.3 * usual + 3e5;
}

/** Keeps what a judged moment tells for later: the last flow, and what could not be decided. */
export function noteJudged(
  state: EngineState,
  i: number,
  snapshot: StationSnapshot,
  undecided: readonly UndecidedAlarm[],
): void {
  const watch = state.watches[i]!;
  watch.undecided = undecided.map(({ condition }) => condition);
  const { mode, flow, gasOnSince, t } = snapshot;
  if (mode === "flowing" && flow !== null && gasOnSince !== null && t - gasOnSince >= SETTLED_S) {
    watch.lastFlow = flow;
  }
}
