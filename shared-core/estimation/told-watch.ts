import { addVariance, FIRST_DROP, FIRST_LOOP, LOOPS, RHO, variance } from "./cylinder-filter.ts";
import { type DropState, hasLine } from "./drop-state.ts";
import type { PersonEntry } from "./engine.ts";
import { ZERO_C } from "./gas-model.ts";
import { unseenShare } from "./merged-spells.ts";
import type { SupplyPlan } from "./plan.ts";
import { expectedLevel } from "./re-dial.ts";
import type { EngineState } from "./supply-state.ts";

/**
 * What people told of the fitted cylinder is a measurement: it is doubted where readings contradict it.
 *
 * - Fill: the pressure and the water volume tell the content; a told fill far above it is doubted.
 * - Water volume: the cylinder's fall tells flow over volume only, so a cylinder of another size
 *   looks like another flow. Where the conductance was known before (learnt on the cylinder before,
 *   bench-tested, or as described) three readings of a difference d = c - c_before are weighed:
 *   chance N(0, s²); a device that was set anew, N(0, s² + 0.3²), which with a line sensor must
 *   show in the regulator's droop as well; another water volume, N(0, s² + 0.7²) with the flow
 *   as before. The likeliest is told, and the intervals reach to every one above 2.5 %.
 *
 * The filter itself counts in told volumes throughout: flow and content scale alike with the error.
 */
export interface ToldState {
  /** Logarithm of each drop's conductance before this cylinder, and its variance. */
  before: Float32Array;
  spread: Float32Array;
  /** Gas-on seconds of each drop on this cylinder. */
  onS: Float32Array;
  /** Step of each drop's flowing level against what was learnt before, Pa, and its variance; 0: not seen. */
  stepPa: Float32Array;
  stepVariance: Float32Array;
  /** Logarithm of true over told water volume, its 1 sigma, and where the other reading would put it. */
  volumeLog: number;
  volumeSigma: number;
  otherLog: number;
  otherSigma: number;
  /** What is doubted of size and setting; null where all agrees. */
  doubt: "water-volume" | "setting" | null;
  /** What was told to be in the cylinder, mol/m³, and when; null where nobody said. */
  fillRho: number | null;
  fillT: number;
  /** The told fill contradicts the pressure; the density found instead, mol/m³. */
  fillFound: number | null;
  /** It was told as full, not by its content or its own fill pressure. */
  full: boolean;
}

/** Gas-on on one cylinder for which its size is judged, and from when, s. */
const JUDGED_S = 3600;
const LEAST_S = 120;
/** A conductance counts as learnt below this 1 sigma of its logarithm. */
export const LEARNT_SIGMA = 0.06;
/** What else may change from cylinder to cylinder, 1 sigma: with a line sensor, and without (supply-pressure effect). */
const LINE_SIGMA = 0.04;
const NO_LINE_SIGMA = 0.1;
/** How often a device is set anew at a change, and told sizes are wrong (common practice, no source). */
const SET_ANEW = 0.05;
const WRONG_SIZE = 0.01;
const SET_SIGMA = 0.3;
const SIZE_SIGMA = 0.7;
/** A 95 % interval has to hold what is this likely. */
const LIKELY = 0.025;
/** A full cylinder after an empty one: so far the level is drawn on by its slope, Pa. */
const REFILLED_PA = 1e7;
/** What the straight line misses, 1 sigma, part of the gap between idle and flowing. */
const LEVEL_SHARE = 0.2;
/** Part of a step that is not found at first, 1 sigma, and the gas-on that finds it, s. */
const FOLLOWED = 0.4;
const FOLLOWED_S = 900;
/** What the filter is told of that, 1 sigma over the same gas-on, part of the step. */
const FOLLOWS = 0.2;
/** Gas-on on a fitted cylinder after which another size would have shown, s. */
const AGREES_S = 1800;
/** The sensor's hysteresis as it was learnt is doubted by this part of it at another cylinder, 1 sigma. */
const LOOP_ANEW = 0.6;
/** Sizes differ by no more than this, logarithm: a 10 L cylinder may be told as one of 50 L. */
const LARGEST_SIZE = Math.log(6);
/** Sizes differ by more than this, relative. */
const LEAST_SIZE = 0.08;
/** A told fill is doubted where less than this share of it is there. */
const FILLED = 0.8;
/** Fills are told settled at 15 °C, K. */
const FILL_K = 288.15;
/** A told change and one that the readings showed are the same within this time, s. */
const SAME_CHANGE_S = 1200;

export function createTold(plan: SupplyPlan): ToldState {
  const none = (): Float32Array => new Float32Array(plan.drops.length);
  return {
    before: Float32Array.from(plan.drops, (drop) => drop.priorLogFlow),
    spread: Float32Array.from(plan.drops, (drop) => drop.priorSigma ** 2),
    onS: none(),
    stepPa: none(),
    stepVariance: none(),
    volumeLog: 0,
    volumeSigma: 0,
    otherLog: 0,
    otherSigma: 0,
    doubt: null,
    fillRho: null,
    fillT: 0,
    fillFound: null,
    full: true,
  };
}

/**
 * Another cylinder hangs here: its size is judged anew, by the conductances as they are now.
 *
 * @param described its size was told anew too; else one like the last is taken to hang there
 */
export function newCylinder(state: EngineState, described: boolean): void {
  const { told, filter } = state;
  if (described) {
    // The conductances were counted in volumes that were wrong by this.
    for (let i = 0; i < told.before.length; i++) {
      filter.x[FIRST_DROP + i] = filter.x[FIRST_DROP + i]! + told.volumeLog;
    }
    told.volumeLog = 0;
    told.volumeSigma = 0;
    told.otherLog = 0;
    told.otherSigma = 0;
    told.doubt = null;
  }
  for (let i = 0; i < told.before.length; i++) {
    told.before[i] = filter.x[FIRST_DROP + i]! + told.volumeLog;
    told.spread[i] = variance(filter, FIRST_DROP + i) + told.volumeSigma ** 2;
  }
  told.onS.fill(0);
  told.stepPa.fill(0);
  told.stepVariance.fill(0);
  // The small turns of an emptying cylinder say little of the large ones of a full one.
  for (let k = FIRST_LOOP; k < FIRST_LOOP + LOOPS; k++) {
    addVariance(filter, k, (LOOP_ANEW * filter.x[k]!) ** 2);
  }
}

/** A person's flow at a drop (logarithm at the reference, 1 sigma) says how it is set now. */
export function tellSetting(told: ToldState, drop: number, log: number, sigma: number): void {
  const away = log - told.before[drop]!;
  const spread = told.spread[drop]! + sigma ** 2;
  if (away * away > 9 * spread) {
    told.before[drop] = log;
    told.spread[drop] = sigma ** 2;
    return;
  }
  const gain = told.spread[drop]! / spread;
  told.before[drop] = told.before[drop]! + gain * away;
  told.spread[drop] = (1 - gain) * told.spread[drop]!;
}

/**
 * What the flowing level does with the new cylinder, before it is learnt anew.
 *
 * @param slopeSigma 1 sigma of a regulator's supply-pressure effect, Pa of delivery for each Pa of the cylinder's
 */
export function noteLevel(
  told: ToldState,
  drop: number,
  dropState: DropState,
  cylinderPa: number,
  slopeSigma: number,
): void {
  const { level, meanPa, meanCount, noise } = dropState;
  if (level === null || meanCount < 5 || told.stepVariance[drop]! > 0) return;
  const expected = expectedLevel(level, cylinderPa);
  told.stepPa[drop] = meanPa - expected.pa;
  // A regulator that starves at the end of a cylinder teaches a slope that is not that of a full one.
  const drawnOn = (slopeSigma * REFILLED_PA) ** 2;
  told.stepVariance[drop] = expected.variance + noise / meanCount + drawnOn;
}

/** What a person said is in the cylinder now: a described one full, unless said otherwise. */
export function tellFill(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  entry: NonNullable<PersonEntry["swap"]>,
): void {
  if (plan.liquid !== null) return;
  const { told, cylinder } = state;
  const full = plan.fullMol / plan.filter.waterVolumeM3;
  let rho: number = full;
  if (entry.litres !== undefined) {
    rho = ((entry.litres / 1000) * plan.gas.standardMolPerM3) / plan.filter.waterVolumeM3;
  } else if (entry.filledBar !== undefined) {
    const kelvin = (entry.filledC ?? 15) + ZERO_C;
    rho = plan.gas.densityAt(entry.filledBar * 1e5 + plan.filter.atmospherePa, kelvin);
  }
  told.fillRho = Number.isFinite(rho) ? rho : full;
  told.fillT = t;
  told.full = entry.litres === undefined && told.fillRho > 0.85 * full;
  told.fillFound = null;
  if (cylinder.lastSwap !== null && Math.abs(t - cylinder.lastSwap) < SAME_CHANGE_S) {
    judgeFill(state);
  }
}

/** The fitted cylinder was read for the first time: is in it what was told? */
export function judgeFill(state: EngineState): void {
  const { told, filter, cylinder } = state;
  const rho = filter.x[RHO]!;
  if (told.fillRho === null || cylinder.lastSwap === null) return;
  const same = Math.abs(cylinder.lastSwap - told.fillT) < SAME_CHANGE_S;
  // A change that nobody told: nobody said what is in it.
  if (!same) told.fillRho = null;
  told.fillFound = same && filter.started && rho < FILLED * told.fillRho! ? rho : null;
}

/** Difference of a conductance against before, and the variance of chance. */
interface Weight {
  d: number;
  variance: number;
}

function difference(
  state: EngineState,
  drop: number,
  t: number,
  leastS: number,
): (Weight & { settled: boolean }) | null {
  const { told, filter, drops } = state;
  const own = variance(filter, FIRST_DROP + drop);
  if (told.onS[drop]! < leastS || (leastS > 0 && own > LEARNT_SIGMA ** 2)) return null;
  // Breaks that pass unseen make the flow a mean: neither a device set anew nor another volume.
  const other = hasLine(drops[drop]!, t)
    ? LINE_SIGMA
    : Math.hypot(NO_LINE_SIGMA, unseenShare(state.breaks[drop]!, state.spells[drop]!));
  return {
    d: filter.x[FIRST_DROP + drop]! - told.before[drop]!,
    variance: 2.5 * own + told.spread[drop]! + other ** 2,
    settled: told.onS[drop]! < JUDGED_S,
  };
}

const normal = (x: number, v: number): number => Math.exp((-0.5 * x * x) / v) / Math.sqrt(v);

/** How well the level's step agrees with a flow changed by exp(d), against one that did not change. */
function droopRatio(state: EngineState, drop: number, d: number): number {
  const { told, drops } = state;
  const { gapPa, droopShare } = drops[drop]!;
  if (!(told.stepVariance[drop]! > 0) || gapPa === null) return 1;
  // The level was learnt on a cylinder that emptied; at a full one it is drawn on by a straight line.
  const v = told.stepVariance[drop]! + (LEVEL_SHARE * gapPa) ** 2;
  const step = told.stepPa[drop]!;
  const change = -gapPa * (Math.exp(d) - 1);
  const changed = normal(step - droopShare[0] * change, v + (droopShare[1] * change) ** 2);
  return Math.min(Math.max(changed / Math.max(normal(step, v), 1e-12), 0.1), 10);
}

/** Weighs the told water volume against the told or learnt setting, after `dtS` at time `t`. */
export function judgeTold(plan: SupplyPlan, state: EngineState, t: number, dtS: number): void {
  const { told, drops } = state;
  if (state.cylinder.liquid || state.cylinder.valve !== "open") return;
  let seen = false;
  plan.drops.forEach((_, i) => {
    if (drops[i]!.on !== true) return;
    told.onS[i] = Math.min(told.onS[i]! + Math.min(dtS, 20), 2 * JUDGED_S);
    seen = true;
  });
  if (seen) weighTold(plan, state, t);
  if (told.doubt === null) return;
  // What was found of a large step so far is a part: the filter is told that more may follow.
  const step = FOLLOWS * Math.max(Math.abs(told.volumeLog), Math.abs(told.otherLog));
  plan.drops.forEach((_, i) => {
    if (drops[i]!.on !== true) return;
    const fading = Math.exp(-told.onS[i]! / FOLLOWED_S);
    addVariance(
      state.filter,
      FIRST_DROP + i,
      step ** 2 * fading * (Math.min(dtS, 20) / FOLLOWED_S),
    );
  });
}

/**
 * @param leastS gas-on seconds on this cylinder from which a drop counts; 0 where a step was just found
 * @returns whether another water volume is the likeliest reading
 */
export function weighTold(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  leastS = LEAST_S,
): boolean {
  const { told } = state;
  let weight = 0;
  let sum = 0;
  let most = -1;
  plan.drops.forEach((_, i) => {
    const one = difference(state, i, t, leastS);
    if (!one?.settled) return;
    weight += 1 / one.variance;
    sum += one.d / one.variance;
    if (most < 0 || told.onS[i]! > told.onS[most]!) most = i;
  });
  if (most < 0) return told.doubt === "water-volume";
  const d = Math.min(Math.max(sum / weight, -LARGEST_SIZE), LARGEST_SIZE);
  const v = 1 / weight;
  const droop = droopRatio(state, most, d);
  const chance = (1 - SET_ANEW - WRONG_SIZE) * normal(d, v);
  const anew = SET_ANEW * normal(d, v + SET_SIGMA ** 2) * droop;
  const size = Math.abs(d) < LEAST_SIZE ? 0 : WRONG_SIZE * normal(d, v + SIZE_SIGMA ** 2);
  const total = chance + anew + size;
  const likeliest = size > chance && size > anew;
  // A large step is followed bit by bit: what was found of it first is a part.
  const sigma = Math.hypot(
    Math.sqrt(v),
    FOLLOWED * Math.abs(d) * Math.exp(-told.onS[most]! / FOLLOWED_S),
  );
  told.volumeLog = likeliest ? -d : 0;
  told.volumeSigma = likeliest ? sigma : 0;
  const other = likeliest ? (chance + anew) / total : size / total;
  told.otherLog = other > LIKELY ? (likeliest ? 0 : -d) : told.volumeLog;
  told.otherSigma = other > LIKELY && !likeliest ? sigma : 0;
  told.doubt = likeliest ? "water-volume" : other > LIKELY ? "setting" : null;
  return likeliest;
}

/**
 * 1 sigma (logarithm) of what the filter has not followed yet of a large step in flow over volume:
 * minutes left rest on it, whichever of the two is told wrong.
 */
export function followedSigma(told: ToldState, drop: number): number {
  const step = Math.max(Math.abs(told.volumeLog), Math.abs(told.otherLog));
  return FOLLOWED * step * Math.exp(-told.onS[drop]! / FOLLOWED_S);
}

/** Where the 95 % interval of something that scales with the volume ends, by what is doubted: logarithms. */
export function toldReach(told: ToldState, sigma: number): { low: number; high: number } {
  const own = 1.96 * Math.hypot(sigma, told.volumeSigma);
  const away = told.otherLog - told.volumeLog;
  const other = 1.96 * Math.hypot(sigma, told.otherSigma);
  // Whatever the readings say, no cylinder is further from the told one.
  const least = Math.min(-own, -LARGEST_SIZE - told.volumeLog);
  const most = Math.max(own, LARGEST_SIZE - told.volumeLog);
  return {
    low: Math.max(Math.min(-own, away - other), least),
    high: Math.min(Math.max(own, away + other), most),
  };
}

/**
 * Whether the fitted cylinder behaves like the described one: what does not fit the model must not be
 * taken for draughts while the cylinder itself may be another.
 */
export function sizeAgrees(state: EngineState): boolean {
  const { told, cylinder } = state;
  if (told.doubt !== null) return false;
  return cylinder.lastSwap === null || told.onS.every((onS) => onS > AGREES_S);
}

/** Why the content is not what was told; null where nothing contradicts. */
export function toldWhy(plan: SupplyPlan, state: EngineState): string | null {
  const { told } = state;
  if (told.fillFound !== null) {
    const bar = (plan.gas.pressurePa(told.fillFound, FILL_K) - plan.filter.atmospherePa) / 1e5;
    if (!told.full)
      return "told to hold more than it was fitted with: the content follows the pressure";
    return `told as full, but it was fitted at ${Math.round(bar)} bar: the content follows the pressure`;
  }
  return sizeWhy(plan, told);
}

/** Why flow and content reach further than the readings alone. */
export function sizeWhy(plan: SupplyPlan, told: ToldState): string | null {
  if (told.doubt === null) return null;
  const litres = plan.cylinder.waterVolumeL * Math.exp(told.volumeLog);
  return told.doubt === "water-volume"
    ? `the described water volume is doubted: at the known flow the pressure falls like that of about ${Math.round(litres)} L`
    : "the pressure does not fall as flow setting and water volume say: the setting is doubted, or the cylinder is of another size";
}
