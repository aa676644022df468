import { arcTells, arcTimes } from "./arc-gas.ts";
import { covariance, FIRST_DROP, GAS, RHO, variance } from "./cylinder-filter.ts";
import { type DropState, hasLine } from "./drop-state.ts";
import type { FlowEstimate } from "./estimate.ts";
import { MOLAR_GAS_CONSTANT } from "./gas-model.ts";
import { localTimeS, mayFlowUnseen } from "./habit.ts";
import { MOST_SIGMA, tidy } from "./interval.ts";
import {
  levelPa,
  presentFlow,
  recoveredPa,
  relativeFlow,
  relativeSlope,
  restrictionK,
} from "./line-flow.ts";
import { unseenShare } from "./merged-spells.ts";
import { type DropPlan, litresPerMol, type SupplyPlan } from "./plan.ts";
import { STEP_DATES, STEPS_SHOW, withinStepS } from "./reading-grid.ts";
import { medianSpellS } from "./spells.ts";
import type { EngineState } from "./supply-state.ts";
import { toldReach } from "./told-watch.ts";
import { stepsHide } from "./unseen-drop.ts";

/** A flow in `metric20` L/min with the 1 sigma of its logarithm. */
export interface FlowFigure {
  lpm: number;
  /** Mean over a spell as it is seen: without a line sensor less, by breaks that pass unseen. */
  meanLpm: number;
  sigma: number;
  /** Logarithms of the 95 % interval's ends over `lpm`: beside sigma what was told wrong, or leaks unseen. */
  lowLog: number;
  highLog: number;
  basis: string;
}

/** 1 sigma of the gap between idle and flowing line after the line has recovered, as its share. */
const RECOVERED_GAP = 0.4;
/** 1 sigma of how long spells are on the whole, as a line sensor dates their ends, s. */
const DATED_S = 0.2;
/** 1 sigma of the gas that fills the hose after each gas-off, as its share: how fast the regulator closes differs. */
const HOSE_SHARE = 0.15;
/** When a spell began and ended where the cylinder's pressure alone has to tell, s. */
const UNSEEN_DATED_S = 7;

/**
 * What the conductance's variance is multiplied by for the interval of a flow: the part that the
 * filter's model misses, less with use. Drops that overlap, and a cylinder that is read alone, miss
 * more. From simulated stations (`npm run accuracy`).
 *
 * @param usedS gas-on of the drop so far at this setting, s; null without a line sensor
 */
export function modelShare(drops: number, usedS: number | null): number {
  if (drops > 1) return usedS === null ? 2.5 : 1.35;
  return usedS === null ? 1.3 : 1 + 0.45 * Math.exp(-usedS / 900);
}

/** Flow of the drop at the level the line has now, or would have while flowing. */
export function flowFigure(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
  t: number,
): FlowFigure {
  const dropPlan = plan.drops[drop]!;
  const dropState = state.drops[drop]!;
  const { filter } = state;
  const line = hasLine(dropState, t);
  const flowing = dropState.on === true;
  let sigmaLine = 0;
  if (line && flowing) {
    const level = levelPa(dropPlan, dropState);
    sigmaLine = relativeSlope(dropPlan, level.pa) * level.sigma;
  } else if (line) {
    sigmaLine = dropState.flowPa === null ? 0.03 : 0.01;
  }
  const recovered = recoveredPa(dropPlan, dropState, t);
  if (recovered !== null) {
    // The gap between idle and flowing is another one at another inlet pressure.
    sigmaLine = relativeSlope(dropPlan, recovered) * RECOVERED_GAP * (dropState.gapPa ?? 0);
  }
  const gasK = filter.x[GAS]!;
  const relative =
    recovered === null
      ? presentFlow(dropPlan, dropState, t, gasK)
      : relativeFlow(dropPlan, recovered, restrictionK(dropState, gasK));
  const molPerS = Math.exp(filter.x[FIRST_DROP + drop]!) * relative;
  const leak = state.leak.error[FIRST_DROP + drop]! * state.leak.sigmaMolPerS;
  const byArc = arcTells(plan, state, drop, t);
  const dated = line
    ? Math.hypot(DATED_S, HOSE_SHARE * hoseS(dropPlan, dropState, molPerS, gasK))
    : byArc
      ? arcTimes(dropPlan, state).sigmaS
      : Math.hypot(UNSEEN_DATED_S, stepDatesS(plan, state, drop));
  const learnt =
    variance(filter, FIRST_DROP + drop) *
      modelShare(plan.drops.length, line ? Math.min(dropState.usedS, dropState.learntS) : null) +
    leak ** 2 +
    (dated / Math.max(medianSpellS(state.spells[drop]!), dated)) ** 2;
  const onS = flowing && dropState.onSince !== null ? t - dropState.onSince : null;
  // The stored hose gas leaves first: for a second or two less passes the restriction.
  const settling = onS === null ? 0 : 0.03 * Math.exp(-onS / 6) + 0.1 * Math.exp(-onS / 1.5);
  const c = variance(filter, FIRST_DROP + drop);
  const unseen =
    line || byArc ? 0 : taught(dropPlan, c) * unseenShare(state.breaks[drop]!, state.spells[drop]!);
  const sigma = Math.sqrt(
    learnt +
      sigmaLine ** 2 +
      plan.volumeSigma ** 2 +
      0.004 ** 2 +
      plan.gas.fallSigma(filter.x[RHO]!) ** 2 +
      settling ** 2 +
      early(dropPlan, dropState, c) ** 2 +
      (UNSEEN_SPREAD * unseen) ** 2,
  );
  const { told } = state;
  const reach = toldReach(told, sigma);
  const meanLpm = molPerS * Math.exp(told.volumeLog) * 60 * litresPerMol(plan);
  return {
    // With a line sensor that is lost by now the conductance was learnt of spells that it dated.
    lpm: dropPlan.lineRangePa === null ? meanLpm * Math.exp(UNSEEN_LOG * unseen) : meanLpm,
    meanLpm,
    sigma,
    lowLog: reach.low,
    highLog: reach.high,
    basis: line ? "line-pressure" : "cylinder",
  };
}

/** What a coarse step leaves of when a spell began and ended, 1 sigma, s; where nothing is learnt of spells, none. */
function stepDatesS(plan: SupplyPlan, state: EngineState, drop: number): number {
  return stepsHide(plan, state, drop) ? 0 : STEP_DATES * withinStepS(plan, state, drop);
}

/** No hose takes longer than this to fill at a flow worth the name, s. */
const MOST_HOSE_S = 60;

/** For how long the present flow would fill the hose to the line's pressure, s. */
function hoseS(plan: DropPlan, state: DropState, molPerS: number, kelvin: number): number {
  if (plan.tap === "hose") return 0;
  const pa = Math.max(state.flowPa ?? plan.referencePa, 0);
  const mol = (pa * plan.hoseVolumeM3) / (MOLAR_GAS_CONSTANT * kelvin);
  return Math.min(mol / Math.max(molPerS, 1e-9), MOST_HOSE_S);
}

/** Relative 1 sigma above which two drops that are mixed up are not told well. */
const MIXED_SIGMA = 0.06;

/** Station whose flow this drop's is mixed up with: only their sum is known well; null where none is. */
export function mixedWith(plan: SupplyPlan, state: EngineState, drop: number): string | null {
  const { filter } = state;
  const own = variance(filter, FIRST_DROP + drop);
  if (own < MIXED_SIGMA ** 2) return null;
  const other = plan.drops.findIndex((_, k) => {
    if (k === drop) return false;
    const both = covariance(filter, FIRST_DROP + drop, FIRST_DROP + k);
    return both < -0.7 * Math.sqrt(own * variance(filter, FIRST_DROP + k));
  });
  return other < 0 ? null : plan.drops[other]!.station.station;
}

/** How much of a flow's variance as described the cylinder has taken away, 0 to 1. */
function taught(plan: DropPlan, learntVariance: number): number {
  return Math.max(1 - learntVariance / plan.priorSigma ** 2, 0);
}

/**
 * In the first minutes of use the heat between gas and wall is hardly known, and what the
 * cylinder has taught of the flow rests on it: 1 sigma of that, by the weight it has beside the prior.
 */
function early(plan: DropPlan, state: DropState, learntVariance: number): number {
  return 0.18 * Math.exp(-state.usedS / 130) * taught(plan, learntVariance);
}

/**
 * What the cylinder teaches of spells with unseen breaks is between their mean flow and the flow while
 * gas is on: the logarithm by which it is less for each such share, and its 1 sigma. From simulated
 * stations (`npm run accuracy`).
 */
const UNSEEN_LOG = 0.4;
const UNSEEN_SPREAD = 0.8;

export function flowEstimate(figure: FlowFigure): FlowEstimate {
  if (figure.sigma > MOST_SIGMA) {
    return {
      lpm: null,
      why: "the restriction's conductance is not learnt yet: gas has to flow for some minutes",
    };
  }
  return {
    lpm: tidy(figure.lpm),
    low: tidy(figure.lpm * Math.exp(figure.lowLog)),
    high: tidy(figure.lpm * Math.exp(figure.highLog)),
    basis: figure.basis,
  };
}

/** Seconds of gas-on that the cylinder's pressure alone needs to show it, most of the time. */
const UNSEEN_S = 60;

/** Upper end of the flow of a drop that looks idle: above 0 where gas may be on and not seen yet. */
export function unseenLpm(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
  t: number,
  figure: FlowFigure,
): number {
  if (state.cylinder.valve === "closed" || hasLine(state.drops[drop]!, t)) return 0;
  if (arcTells(plan, state, drop, t) && state.drops[drop]!.arc === false) return 0;
  const habit = state.habits[drop]!;
  const local = localTimeS(habit, plan.setup.timeZone, t);
  // Before any flow is learnt nobody knows how small a one would have to be seen.
  const learnt = figure.sigma <= MOST_SIGMA;
  const unseenS = UNSEEN_S + STEPS_SHOW * withinStepS(plan, state, drop);
  if (learnt && !mayFlowUnseen(habit, local, medianSpellS(state.spells[drop]!), unseenS)) return 0;
  return tidy(figure.lpm * Math.exp(figure.highLog));
}
