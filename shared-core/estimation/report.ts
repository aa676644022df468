import { alarmConditions } from "../alarms/index.ts";
import { alarmLanguages } from "../alarms/language/index.ts";
import { sayAlarm } from "../alarms/language/say.ts";
import { siteSayUnits } from "../alarms/wording.ts";
import { isBlind } from "./channel-faults.ts";
import {
  covariance,
  FIRST_DROP,
  GAS,
  OFFSET,
  RHO,
  SPAN,
  variance,
  WALL,
} from "./cylinder-filter.ts";
import { type DropState, hasLine } from "./drop-state.ts";
import type {
  ActiveAlarm,
  ContentEstimate,
  Estimate,
  FlowEstimate,
  Mode,
  Quantiles,
} from "./estimate.ts";
import { ZERO_C } from "./gas-model.ts";
import { clockMinutes, daySpread, localTimeS, mayFlowUnseen } from "./habit.ts";
import { halfWidth95, MOST_SIGMA, tidy } from "./interval.ts";
import { leakTestEstimate } from "./leak-test-run.ts";
import { leakEstimate } from "./leak-watch.ts";
import { levelPa, presentFlow, relativeSlope } from "./line-flow.ts";
import { type DropPlan, litresPerMol, type SupplyPlan } from "./plan.ts";
import { holdPressurePa } from "./regulator-hold.ts";
import { dialTo, indicated } from "./scale-reading.ts";
import { medianSpellS } from "./spells.ts";
import type { EngineState } from "./supply-state.ts";
import { gasSince, toldOf } from "./told.ts";
import { sizeWhy, toldReach, toldWhy } from "./told-watch.ts";

/** A flow in `metric20` L/min with the 1 sigma of its logarithm. */
export interface FlowFigure {
  lpm: number;
  sigma: number;
  /** Logarithms of the 95 % interval's ends over `lpm`: beside sigma what was told wrong, or leaks unseen. */
  lowLog: number;
  highLog: number;
  basis: string;
}

/** A content in `metric20` litres. Sigmas are those of the sensor and state, without the volume's. */
export interface ContentFigure {
  litres: number;
  usable: number;
  sigma: number;
  uniformSigma: number;
  volumeSigma: number;
  /** Logarithms by which the other reading of a contradicted water volume moves the ends. */
  lowLog: number;
  highLog: number;
}

export function modeOf(state: EngineState, drop: number): Mode {
  if (state.silent) return "silent";
  if (state.cylinder.valve === "closed") return "valve-closed";
  const { on } = state.drops[drop]!;
  if (on === null) return "unknown";
  return on ? "flowing" : "idle";
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
  const molPerS =
    Math.exp(filter.x[FIRST_DROP + drop]!) * presentFlow(dropPlan, dropState, t, filter.x[GAS]!);
  // The filter knows its own model only: what it misses is put on top, more where the cylinder's
  // pressure alone has to tell when gas flowed.
  const leak = state.leak.error[FIRST_DROP + drop]! * state.leak.sigmaMolPerS;
  const learnt =
    variance(filter, FIRST_DROP + drop) * (line ? 1.35 : 2.5) +
    leak ** 2 +
    (line ? 0 : 0.025 ** 2 + blur(state.spells[drop]!) ** 2);
  const onS = flowing && dropState.onSince !== null ? t - dropState.onSince : null;
  // The stored hose gas leaves first: for a second or two less passes the restriction.
  const settling = onS === null ? 0 : 0.03 * Math.exp(-onS / 6) + 0.1 * Math.exp(-onS / 1.5);
  const sigma = Math.sqrt(
    learnt +
      sigmaLine ** 2 +
      plan.volumeSigma ** 2 +
      0.004 ** 2 +
      settling ** 2 +
      early(dropPlan, dropState, variance(filter, FIRST_DROP + drop)) ** 2,
  );
  const { told } = state;
  const reach = toldReach(told, sigma);
  return {
    lpm: molPerS * Math.exp(told.volumeLog) * 60 * litresPerMol(plan),
    sigma,
    lowLog: reach.low,
    highLog: reach.high,
    basis: line ? "line-pressure" : "cylinder",
  };
}

/** Relative 1 sigma above which two drops that are mixed up are not told well. */
const MIXED_SIGMA = 0.06;

/** Station whose flow this drop's is mixed up with: only their sum is known well; null where none is. */
function mixedWith(plan: SupplyPlan, state: EngineState, drop: number): string | null {
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

/**
 * In the first minutes of use the heat between gas and wall is hardly known, and what the
 * cylinder has taught of the flow rests on it: 1 sigma of that, by how much it has taught.
 */
function early(plan: DropPlan, state: DropState, learntVariance: number): number {
  const taught = Math.max(1 - learntVariance / plan.priorSigma ** 2, 0);
  return 0.25 * Math.exp(-state.usedS / 130) * Math.sqrt(taught);
}

/** Without a line sensor short spells merge into their mean: 1 sigma of what that does to the flow. */
function blur(spells: EngineState["spells"][number]): number {
  return 0.17 * Math.exp(-medianSpellS(spells) / 150);
}

function flowEstimate(figure: FlowFigure): FlowEstimate {
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
function unseenLpm(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
  t: number,
  figure: FlowFigure,
): number {
  if (state.cylinder.valve === "closed" || hasLine(state.drops[drop]!, t)) return 0;
  const habit = state.habits[drop]!;
  const local = localTimeS(habit, plan.setup.timeZone, t);
  // Before any flow is learnt nobody knows how small a one would have to be seen.
  const learnt = figure.sigma <= MOST_SIGMA;
  if (learnt && !mayFlowUnseen(habit, local, medianSpellS(state.spells[drop]!), UNSEEN_S)) return 0;
  return tidy(figure.lpm * Math.exp(figure.highLog));
}

/** Pressure (gauge Pa) down to which the content can be used. */
function leastUsablePa(plan: SupplyPlan, state: EngineState, drop: number): number {
  const target = plan.drops[drop]!.demand?.targetLpm ?? 10;
  return Math.max(plan.residualPa, holdPressurePa(plan.drops[drop]!, state.drops[drop]!, target));
}

export function contentFigure(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
): ContentFigure | null {
  const { filter } = state;
  if (!filter.started) return null;
  const { x } = filter;
  const { told } = state;
  const perDensity = plan.filter.waterVolumeM3 * Math.exp(told.volumeLog) * litresPerMol(plan);
  const reach = toldReach(told, 0);
  const litres = x[RHO]! * perDensity;
  const least = plan.gas.densityAt(
    leastUsablePa(plan, state, drop) + plan.filter.atmospherePa,
    x[WALL]!,
  );
  const usable = Math.max(0, (x[RHO]! - (Number.isFinite(least) ? least : 0)) * perDensity);
  const total = variance(filter, RHO) + (state.leak.error[RHO]! * state.leak.sigmaMolPerS) ** 2;
  // Share of the variance that the sensor's own limits make: the uniform part.
  const offset = covariance(filter, RHO, OFFSET) ** 2 / variance(filter, OFFSET);
  const span = covariance(filter, RHO, SPAN) ** 2 / variance(filter, SPAN);
  const uniform = Math.min(offset + span, total);
  return {
    litres,
    usable,
    sigma: Math.sqrt(total) * perDensity,
    uniformSigma: Math.sqrt(uniform) * perDensity,
    volumeSigma: litres * Math.hypot(plan.volumeSigma, plan.gas.modelSigma(x[RHO]!)),
    lowLog: reach.low,
    highLog: reach.high,
  };
}

function contentEstimate(
  plan: SupplyPlan,
  state: EngineState,
  figure: ContentFigure | null,
  t: number,
): ContentEstimate {
  const { cylinder } = state;
  if (figure === null) return { litres: null, why: "no cylinder pressure has been read yet" };
  const uniform = figure.uniformSigma ** 2;
  const half = halfWidth95(uniform, figure.sigma ** 2 - uniform + figure.volumeSigma ** 2);
  const estimate: ContentEstimate = {
    litres: tidy(figure.litres),
    low: tidy(Math.max(0, figure.litres - half) * Math.exp(figure.lowLog)),
    high: tidy((figure.litres + half) * Math.exp(figure.highLog)),
    usableLitres: tidy(figure.usable),
  };
  const why = heldWhy(state, t);
  if (cylinder.heldT !== null && (why !== null || cylinder.valve === "closed")) {
    estimate.ageS = Math.max(0, Math.round(t - cylinder.heldT));
    if (why !== null) estimate.why = why;
  }
  const told = toldWhy(plan, state);
  if (why === null && told !== null) estimate.why = told;
  return estimate;
}

/** Content counts as held once no reading has confirmed it for this long, s. */
const HELD_S = 300;

/** Why the content rests on an old reading though the valve is not closed; null where it does not. */
function heldWhy(state: EngineState, t: number): string | null {
  const { heldT, valve } = state.cylinder;
  const fault = state.faults.find(
    ({ channel, drop }) => drop < 0 && channel === "cylinder-pressure",
  );
  if (fault !== undefined) {
    return `the cylinder's pressure sensor is in fault (${fault.fault}): held from its last good reading`;
  }
  if (valve === "closed" || heldT === null) return null;
  if (state.silent) return "no data: held from the last reading";
  return t - heldT > HELD_S ? "no cylinder pressure is read: held from the last reading" : null;
}

/** Minutes that `usable` lasts at a flow; the common scale error of volume cancels. */
export function minutesFigure(
  content: ContentFigure,
  lpm: number,
  sigmaFlow: number,
): { median: number; sigma: number; uniformSigma: number } {
  const median = content.usable / lpm;
  return {
    median,
    sigma: Math.hypot(content.sigma / lpm, median * sigmaFlow),
    uniformSigma: content.uniformSigma / lpm,
  };
}

function quantiles(figure: { median: number; sigma: number; uniformSigma: number }): Quantiles {
  const uniform = Math.min(figure.uniformSigma ** 2, figure.sigma ** 2);
  const half = halfWidth95(uniform, figure.sigma ** 2 - uniform);
  return {
    median: tidy(figure.median),
    low: tidy(Math.max(0, figure.median - half)),
    high: tidy(figure.median + half),
  };
}

/** At a flow that is given a contradicted water volume counts in full. */
function reaching(minutes: Quantiles, { lowLog, highLog }: ContentFigure): Quantiles {
  const { low, high } = minutes;
  if (low == null || high == null || (lowLog === 0 && highLog === 0)) return minutes;
  return { ...minutes, low: tidy(low * Math.exp(lowLog)), high: tidy(high * Math.exp(highLog)) };
}

/** The line for one drop at `t`. */
export function makeEstimate(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
  t: number,
): Estimate {
  const dropPlan = plan.drops[drop]!;
  const dropState = state.drops[drop]!;
  const mode = modeOf(state, drop);
  const content = contentFigure(plan, state, drop);
  const figure = flowFigure(plan, state, drop, t);
  const flowing = mode === "flowing";
  const known = flowEstimate(figure);
  const mixed = mixedWith(plan, state, drop);
  if (mixed !== null) {
    known.why = `${mixed} draws from the same supply at the same times: the two flows cannot be told apart well`;
  }
  const size = sizeWhy(plan, state.told);
  if (mixed === null && size !== null && known.lpm !== null) known.why = size;
  const gasLevel = t - (state.newestT ?? t) > 600 ? "old" : "fresh";
  let flow: FlowEstimate;
  let expected: FlowEstimate | null = null;
  if (mode === "unknown") {
    flow = { lpm: null, why: unknownWhy(state, drop, t) };
  } else if (mode === "silent") {
    flow = { lpm: null, why: "no data" };
  } else if (flowing) {
    flow = known;
  } else {
    flow = { lpm: 0, low: 0, high: unseenLpm(plan, state, drop, t, figure), basis: "no-flow" };
    expected = known;
  }
  const target = dropPlan.demand?.targetLpm ?? null;
  const unknownMinutes = (why: string): Quantiles => ({ median: null, why });
  let gasOn: Quantiles;
  let atTarget: Quantiles;
  let clock: Quantiles;
  if (content === null) {
    gasOn = unknownMinutes("no cylinder pressure has been read yet");
    atTarget = gasOn;
    clock = gasOn;
  } else {
    const present = minutesFigure(
      content,
      figure.lpm,
      Math.sqrt(Math.max(figure.sigma ** 2 - plan.volumeSigma ** 2, 0)),
    );
    gasOn =
      known.lpm === null
        ? unknownMinutes(known.why ?? "the flow is not known")
        : quantiles(present);
    atTarget =
      target === null
        ? unknownMinutes("the station has no target flow")
        : reaching(quantiles(minutesFigure(content, target, plan.volumeSigma)), content);
    if (known.lpm === null) {
      clock = unknownMinutes(known.why ?? "the flow is not known");
    } else {
      const local = localTimeS(state.habits[drop]!, plan.setup.timeZone, t);
      const habit = state.habits[drop]!;
      const spread = daySpread(habit);
      const at = (factor: number): number | null =>
        clockMinutes(habit, local, present.median, factor, flowing);
      const median = at(1);
      clock =
        median === null
          ? unknownMinutes("at this station's habit the gas lasts for more than eight weeks")
          : {
              median: tidy(median),
              low: tidy(at(Math.exp(1.96 * spread)) ?? median),
              high: tidy(at(Math.exp(-1.96 * spread)) ?? 8 * 7 * 24 * 60),
            };
    }
  }
  const ambient = dropState.ambientK;
  const undecided = undecidedOf(state.watches[drop]!.undecided);
  const told = toldOf(state, drop);
  return {
    t,
    mode,
    gasSince: gasSince(dropState),
    ...(told === null ? {} : { told }),
    flow,
    expected,
    content: contentEstimate(plan, state, content, t),
    remaining: { gasOnMinutes: gasOn, atTargetMinutes: atTarget, clockMinutes: clock },
    indicated: indicated(plan, state, drop, t, figure, flowing),
    dialTo: dialTo(plan, state, drop, t, figure, known.lpm !== null),
    demand: dropPlan.demand,
    regulatorC: dropState.regulatorK === null ? null : tidy(dropState.regulatorK - ZERO_C),
    leak: leakOf(plan, state, drop, t),
    measured: {
      cylinderPa: inFault(state, "cylinder-pressure") ? null : state.cylinder.readingPa,
      linePa: gasLevel === "fresh" && hasLine(dropState, t) ? dropState.linePa : null,
      cylinderC:
        state.cylinder.wallK === null || inFault(state, "cylinder-temperature")
          ? null
          : tidy(state.cylinder.wallK - ZERO_C),
      ambientC: ambient === null ? null : tidy(ambient - ZERO_C),
      arc: dropState.arc,
    },
    events: state.events[drop]!.map((event) => ({ ...event, t: milliseconds(event.t) })),
    alarms: state.alarms[drop]!.map((alarm) => sayingOf(alarm, plan, drop)),
    ...(undecided.length > 0 ? { undecided } : {}),
  };
}

/** A test with the valve closed says more than idle hours do: for this long its figure is told, s. */
const TEST_TOLD_S = 3600;

/** Standing loss; for a while after a leak test what that found. */
function leakOf(plan: SupplyPlan, state: EngineState, drop: number, t: number): Estimate["leak"] {
  const standing = leakEstimate(state.leak, plan.gas.standardMolPerM3 / 60_000);
  const test = leakTestEstimate(state, drop);
  if (test === null) return standing;
  const worst = [test.cylinder, test.line].reduce(
    (most, one) => (one && (!most || one.cm3PerMin > most.cm3PerMin) ? one : most),
    null,
  );
  if (!test.side || !test.tested || t > test.until + TEST_TOLD_S) return { ...standing, test };
  const side = test.side === "none" ? null : test.side === "both" ? "unknown" : test.side;
  const unmeasured = test.cautions?.includes("high-side-empty") && !test.cylinder;
  if (!worst || unmeasured) {
    // It emptied before it could be measured: a leak, with no figure.
    return side === null
      ? { ...standing, test }
      : { litresPerMinute: null, side, tested: test.tested, test };
  }
  return {
    litresPerMinute: worst.cm3PerMin / 1000,
    low: worst.low / 1000,
    high: worst.high / 1000,
    side,
    tested: test.tested,
    test,
  };
}

/** An alarm with its text in the site's language and units. */
function sayingOf(alarm: ActiveAlarm, plan: SupplyPlan, drop: number): ActiveAlarm {
  const site = plan.setup.site;
  const units = siteSayUnits(plan.drops[drop]!.device.document?.readingUnit, site?.units);
  const text = alarm.said && sayAlarm(alarm.said, alarmLanguages[site?.language ?? "en"], units);
  return {
    condition: alarm.condition,
    priority: alarm.priority,
    since: milliseconds(alarm.since),
    ...(text ? { title: text.title, advice: text.advice } : {}),
    ...(alarm.said ? { said: alarm.said } : {}),
  };
}

/** Times are told to the millisecond: the rest is rounding noise. */
function milliseconds(t: number): number {
  return Math.round(t * 1000) / 1000;
}

function unknownWhy(state: EngineState, drop: number, t: number): string {
  if (isBlind(state, drop, t)) {
    return "neither line nor cylinder pressure is read: whether gas flows cannot be told";
  }
  return "just started: whether gas flows cannot be told yet";
}

/** A channel in a standing fault shows no value, whatever it said last. */
function inFault(state: EngineState, channel: string): boolean {
  return state.faults.some((fault) => fault.drop < 0 && fault.channel === channel);
}

/** Why each condition cannot be told where it cannot, by its id. */
const untold = new Map(alarmConditions.map((one) => [one.condition as string, one.untold ?? ""]));

function undecidedOf(ids: readonly string[]): { condition: string; why: string }[] {
  const out: { condition: string; why: string }[] = [];
  for (const condition of ids) {
    const why = untold.get(condition);
    if (why !== undefined) out.push({ condition, why });
  }
  return out;
}
