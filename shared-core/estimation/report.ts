import { alarmConditions } from "../alarms/index.ts";
import { alarmLanguages } from "../alarms/language/index.ts";
import { sayAlarm } from "../alarms/language/say.ts";
import { siteSayUnits } from "../alarms/wording.ts";
import { restsOnArc } from "./arc-gas.ts";
import { isBlind } from "./channel-faults.ts";
import {
  type ContentFigure,
  contentEstimate,
  contentFigure,
  RESERVE_UNMEASURED,
} from "./content-figure.ts";
import { hasLine } from "./drop-state.ts";
import type { ActiveAlarm, Estimate, FlowEstimate, Mode, Quantiles } from "./estimate.ts";
import { flowEstimate, flowFigure, mixedWith, unseenLpm } from "./flow-figure.ts";
import { ZERO_C } from "./gas-model.ts";
import { clockMinutes, daySpread, type HabitState, localTimeS } from "./habit.ts";
import { halfWidth95, tidy } from "./interval.ts";
import { leakTestEstimate } from "./leak-test-run.ts";
import { leakEstimate } from "./leak-watch.ts";
import type { SupplyPlan } from "./plan.ts";
import { dialTo, indicated } from "./scale-reading.ts";
import { isSilent } from "./silence.ts";
import type { EngineState } from "./supply-state.ts";
import { gasSince, toldOf } from "./told.ts";
import { followedSigma, sizeWhy } from "./told-watch.ts";
import { drawsUnseen, staysUnseen, stepsHide, unseenBeside } from "./unseen-drop.ts";

export function modeOf(plan: SupplyPlan, state: EngineState, drop: number): Mode {
  if (isSilent(plan, state, drop)) return "silent";
  if (state.cylinder.valve === "closed") return "valve-closed";
  const { on } = state.drops[drop]!;
  if (on === null) return "unknown";
  return on ? "flowing" : "idle";
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

function unknownMinutes(why: string): Quantiles {
  return { median: null, why };
}

/** Minutes by the clock in which `gasOnMinutes` are used, with the spread between days. */
function clockQuantiles(
  habit: HabitState,
  localS: number,
  gasOnMinutes: number,
  flowing: boolean,
): Quantiles {
  const median = clockMinutes(habit, localS, gasOnMinutes, 1, flowing);
  if (median === null) {
    return unknownMinutes("at this station's habit the gas lasts for more than eight weeks");
  }
  const spread = daySpread(habit);
  const busy = clockMinutes(habit, localS, gasOnMinutes, Math.exp(1.96 * spread), flowing);
  const quiet = clockMinutes(habit, localS, gasOnMinutes, Math.exp(-1.96 * spread), flowing);
  return {
    median: tidy(median),
    low: tidy(busy ?? median),
    high: tidy(quiet ?? 8 * 7 * 24 * 60),
  };
}

const COARSE_FLOW =
  "the cylinder sensor tells its pressure in coarse steps, and no line sensor tells when gas flows: this flow cannot be learnt";
const COARSE_UNKNOWN =
  "the cylinder sensor tells its pressure in coarse steps, and no line sensor or arc signal tells when gas flows here";
const RESTS_ON_ARC =
  "that gas flows rests on the arc: the cylinder's pressure has not shown it yet";

/** The line for one drop at `t`. */
export function makeEstimate(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
  t: number,
): Estimate {
  const dropPlan = plan.drops[drop]!;
  const dropState = state.drops[drop]!;
  const mode = modeOf(plan, state, drop);
  const content = contentFigure(plan, state, drop);
  const figure = flowFigure(plan, state, drop, t);
  const flowing = mode === "flowing";
  const known = flowEstimate(figure);
  const mixed = mixedWith(plan, state, drop);
  if (mixed !== null) {
    known.why = `${mixed} draws from the same supply at the same times: the two flows cannot be told apart well`;
  }
  const beside = unseenBeside(plan, state, drop, t);
  if (beside !== null) {
    known.why ??= `${beside} draws from the same supply and nobody sees when: this flow cannot be learnt from the cylinder`;
  }
  if (isTooCoarse(plan, state, drop, t)) known.why ??= COARSE_FLOW;
  const size = sizeWhy(plan, state.told);
  if (mixed === null && size !== null && known.lpm !== null) known.why = size;
  if (known.why === undefined && restsOnArc(plan, state, drop, t)) known.why = RESTS_ON_ARC;
  const gasLevel = t - (state.newestT ?? t) > 600 ? "old" : "fresh";
  let flow: FlowEstimate;
  let expected: FlowEstimate | null = null;
  if (mode === "unknown") {
    flow = { lpm: null, why: unknownWhy(plan, state, drop, t) };
  } else if (mode === "silent") {
    flow = { lpm: null, why: "no data" };
  } else if (flowing) {
    flow = known;
  } else {
    flow = { lpm: 0, low: 0, high: unseenLpm(plan, state, drop, t, figure), basis: "no-flow" };
    expected = known;
  }
  const target = dropPlan.demand?.targetLpm ?? null;
  let gasOn: Quantiles;
  let atTarget: Quantiles;
  let clock: Quantiles;
  const unread =
    content === null
      ? "no pressure has been read yet with the cylinder valve open"
      : state.reserve.since !== null
        ? RESERVE_UNMEASURED
        : null;
  if (content === null || unread !== null) {
    gasOn = unknownMinutes(unread ?? "");
    atTarget = gasOn;
    clock = gasOn;
  } else {
    const present = minutesFigure(
      content,
      figure.lpm,
      Math.hypot(
        Math.sqrt(Math.max(figure.sigma ** 2 - plan.volumeSigma ** 2, 0)),
        followedSigma(state.told, drop),
      ),
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
      // The habit counts spells as they are seen.
      const seen = (present.median * figure.lpm) / figure.meanLpm;
      clock = clockQuantiles(state.habits[drop]!, local, seen, flowing);
    }
  }
  const ambient = dropState.ambientK;
  const undecided = undecidedOf(state.watches[drop]!.undecided);
  const told = toldOf(state, drop, plan.cylinder.composition.O2 ?? 0);
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

/** The cylinder's sensor has to tell when gas flows here, and its steps hide it. */
function isTooCoarse(plan: SupplyPlan, state: EngineState, drop: number, t: number): boolean {
  return drawsUnseen(plan, state, drop, t) && stepsHide(plan, state, drop);
}

/** Standing loss; for a while after a leak test what that found. */
function leakOf(plan: SupplyPlan, state: EngineState, drop: number, t: number): Estimate["leak"] {
  const standing = leakEstimate(state.leak, plan.gas.standardMolPerM3 / 60_000);
  if (standing.litresPerMinute === null && isTooCoarse(plan, state, drop, t)) {
    standing.why = COARSE_UNKNOWN;
  }
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
    ...(alarm.ending ? { ending: alarm.ending } : {}),
    ...(text ? { title: text.title, advice: text.advice } : {}),
    ...(alarm.said ? { said: alarm.said } : {}),
  };
}

/** Times are told to the millisecond: the rest is rounding noise. */
function milliseconds(t: number): number {
  return Math.round(t * 1000) / 1000;
}

function unknownWhy(plan: SupplyPlan, state: EngineState, drop: number, t: number): string {
  if (isBlind(state, drop, t)) {
    return "neither line nor cylinder pressure is read: whether gas flows cannot be told";
  }
  if (staysUnseen(plan, state, drop, t)) {
    if (plan.drops.length < 2) return COARSE_UNKNOWN;
    return "neither a line sensor nor an arc signal tells when gas flows here, and others draw from the same supply";
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
