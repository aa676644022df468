import { GAS, RHO } from "./cylinder-filter.ts";
import { millsRatio } from "./normal.ts";
import type { SupplyPlan } from "./plan.ts";
import type { EngineState } from "./supply-state.ts";

/**
 * A pressure that is told in whole steps. Each reading says that the sensor saw a pressure (noise included)
 * within half a step of it, and no more: one that stands in the middle of its step says nothing new, and the
 * moment at which it steps says the most.
 */
export interface ReadingGrid {
  /** Smallest step seen between two readings, Pa; 0 until one was. */
  stepPa: number;
  lastPa: number;
  /** Readings since the last step. */
  same: number;
  /** Wall temperature when the present reading was first told, K; null where nobody measured it. */
  wallK: number | null;
}

/** How a reading lies on its grid: what the filter takes in beside it. */
export interface GridReading {
  /** Step of the readings, Pa; where none was seen yet, the coarsest that is expected. */
  stepPa: number;
  /** Part of a reading's worth, 0 to 1: equal ones share their rounding error. */
  part: number;
}

/** A reading of a sensor that tells its pressure as fine as anybody asks. */
export const FINE: GridReading = { stepPa: 0, part: 1 };

/** Until a step was seen the coarsest one is expected, share of the range: 1 bar of 250 (common practice, no source). */
const COARSEST_SHARE = 1 / 250;
/** Usual noise of a sensor whose steps hide it, Pa, and no more than this part of the step (common practice, no source). */
const HIDDEN_NOISE_PA = 3000;
const HIDDEN_NOISE_SHARE = 0.2;
/** Steps coarser than so many sigma of noise hide it. */
const HIDES_SIGMAS = 3;
/** Finer ones than so many are carried over by the noise from reading to reading. */
const SHOWS_SIGMAS = 2;
/** Coarse readings show gas within so many of their steps, and date it to this part of one, 1 sigma. */
export const STEPS_SHOW = 1.5;
export const STEP_DATES = 0.3;
/** So many equal readings in a row, and no finer step is expected. */
const STANDS = 3;
/** No gas-on is looked for within a step for longer, s. */
const MOST_WITHIN_S = 1800;
/** Equal readings that count as one at most: by then the cylinder may have moved within the step. */
const MOST_SAME = 60;
/** The pressure moved by this part of a step, and an equal reading is news. */
const NEWS_SHARE = 1 / 8;

export function createReadingGrid(): ReadingGrid {
  return { stepPa: 0, lastPa: 0, same: 0, wallK: null };
}

/**
 * Takes in a reading, Pa, with the wall's temperature, K; null where nobody measured it.
 *
 * @param rangePa of the sensor
 * @returns variance by which the readings before were taken for too exact, Pa²: above 0 once, where it shows that
 *   they are told in steps
 */
export function takeOnGrid(
  grid: ReadingGrid,
  readingPa: number,
  wallK: number | null,
  rangePa: number,
): number {
  const before = tellsSteps(grid);
  takeReading(grid, readingPa, wallK);
  return before ? 0 : roundingPa(stepOf(grid, rangePa)) ** 2;
}

function takeReading(grid: ReadingGrid, readingPa: number, wallK: number | null): void {
  const change = Math.abs(readingPa - grid.lastPa);
  const first = grid.lastPa === 0;
  grid.lastPa = readingPa;
  if (!first && change === 0) {
    grid.same = Math.min(grid.same + 1, MOST_SAME);
    grid.wallK ??= wallK;
    return;
  }
  if (!first) grid.stepPa = grid.stepPa === 0 ? change : Math.min(grid.stepPa, change);
  grid.same = 0;
  grid.wallK = wallK;
}

/**
 * Step of the readings, Pa: as seen; where they stand still and none was seen yet, the coarsest that is expected
 * of a sensor of this range; 0 until either shows.
 */
export function stepOf(grid: ReadingGrid, rangePa: number): number {
  if (!tellsSteps(grid)) return 0;
  return grid.stepPa === 0 ? COARSEST_SHARE * rangePa : grid.stepPa;
}

/** Whether readings have shown that they are told in steps, or how fine these are. */
function tellsSteps({ stepPa, same }: ReadingGrid): boolean {
  return stepPa > 0 || same >= STANDS;
}

/** Whether steps are so coarse that readings do not show the sensor's noise. @param toldPa scatter of the readings, 1 sigma */
export function hidesNoise(stepPa: number, toldPa: number): boolean {
  return stepPa > HIDES_SIGMAS * ownNoisePa(stepPa, toldPa);
}

/**
 * The sensor's own noise, 1 sigma, Pa: the scatter of its readings less what the rounding makes of it, and where
 * they stand still what is usual.
 *
 * @param toldPa scatter of the readings, 1 sigma
 */
export function ownNoisePa(stepPa: number, toldPa: number): number {
  const usual = Math.min(HIDDEN_NOISE_PA, HIDDEN_NOISE_SHARE * stepPa);
  return Math.sqrt(Math.max(toldPa ** 2 - roundingPa(stepPa) ** 2, usual ** 2));
}

/** Error that a step leaves in a single reading, 1 sigma, Pa: a uniform one of step/√12 (JCGM 100:2008, 4.3.7). */
export function roundingPa(stepPa: number): number {
  return stepPa / Math.sqrt(12);
}

/** 1 sigma of a single cylinder reading, Pa: its noise, and the step that it is rounded to. */
export function cylinderReadingSigma(
  { filter }: SupplyPlan,
  { cylinder, grid }: EngineState,
): number {
  return Math.hypot(Math.sqrt(cylinder.noise), roundingPa(stepOf(grid, filter.sensorRangePa)));
}

/** For how long gas at a drop's flow, as described, may pass within a coarse step, s; 0 where none was seen. */
export function withinStepS(plan: SupplyPlan, state: EngineState, drop: number): number {
  const { cylinder, filter, grid } = state;
  const { gas, waterVolumeM3 } = plan.filter;
  const { stepPa } = grid;
  const toldPa = Math.sqrt(cylinder.noise);
  if (!filter.started || stepPa < SHOWS_SIGMAS * ownNoisePa(stepPa, toldPa)) return 0;
  const fallPaPerMol = gas.slope(filter.x[RHO]!, filter.x[GAS]!) / waterVolumeM3;
  const perS = fallPaPerMol * Math.exp(plan.drops[drop]!.priorLogFlow);
  return Math.min(stepPa / perS, MOST_WITHIN_S);
}

/** For how long of it a reading stands still: usual noise carries a finer one over its steps, s. */
export function standingS(plan: SupplyPlan, state: EngineState, drop: number): number {
  const withinS = withinStepS(plan, state, drop);
  return withinS > 0 ? withinS * Math.sqrt(ditherLeaves(state.grid.stepPa, 0)) : 0;
}

/**
 * Part of a rounding's variance that is left in the mean of many readings: noise carries them over the steps, and
 * averages them out, the less the smaller it is beside them (Widrow and Kollár, Quantization Noise, 2008; first
 * harmonic of the rounding's characteristic function, from memory).
 */
function ditherLeaves(stepPa: number, toldPa: number): number {
  return Math.exp(-(((2 * Math.PI * ownNoisePa(stepPa, toldPa)) / stepPa) ** 2));
}

/** Variance that the steps leave in the mean of many readings of one pressure, Pa². @param toldPa their scatter, 1 sigma */
export function roundingOfMean(stepPa: number, toldPa: number): number {
  return stepPa > 0 ? roundingPa(stepPa) ** 2 * ditherLeaves(stepPa, toldPa) : 0;
}

/** The latest reading as it lies on its grid. */
export function onGrid(grid: ReadingGrid, rangePa: number, toldPa: number): GridReading {
  const stepPa = stepOf(grid, rangePa);
  // The n-th equal reading knows its pressure as if it had n² times the rounding's variance besides.
  const rounding = (roundingPa(stepPa) / ownNoisePa(stepPa, toldPa)) ** 2;
  return { stepPa, part: 1 / (1 + rounding * grid.same ** 2) };
}

/**
 * What a reading on a grid is worth as an ordinary one: the innovation and noise variance with which a Kalman
 * update leaves mean and variance as they are, given that the pressure with its noise lies within half a step of
 * the reading (moments of a truncated normal distribution).
 *
 * @param innovationPa reading less what was expected
 * @param variance of what was expected, Pa²
 * @param toldPa scatter of the readings, 1 sigma
 * @param movedPa by how much the expected pressure has moved since the reading before
 */
export function asOrdinary(
  { stepPa, part }: GridReading,
  innovationPa: number,
  variance: number,
  toldPa: number,
  movedPa: number,
): { innovation: number; noise: number } {
  // Where noise carries readings over their steps, their scatter holds the rounding too: it is left in.
  const noise = Math.max(ownNoisePa(stepPa, toldPa), toldPa);
  const spread = variance + noise ** 2;
  const sigma = Math.sqrt(spread);
  const news = stepPa > 0 ? movedPa / (NEWS_SHARE * stepPa) : 1;
  const share = Math.min(Math.max(part, news), 1);
  const half = stepPa / 2 / sigma;
  if (!(half > NARROW)) {
    const total = spread + roundingPa(stepPa) ** 2;
    return { innovation: innovationPa, noise: total / share - variance };
  }
  const { mean, narrower } = truncated(Math.abs(innovationPa) / sigma, half);
  const away = (Math.sign(innovationPa) * mean * sigma) / narrower;
  return { innovation: away, noise: spread / (share * narrower) - variance };
}

/** An interval of less than so many sigma to either side tells as much as its middle. */
const NARROW = 0.1;
/** Least part of the variance that an interval takes away: below, it says nothing. */
const LEAST_NEWS = 1e-6;

/**
 * Standard normal distribution within `centre` ± `half` (both in sigma, centre from 0 up): its mean, and by how
 * much narrower its variance is than 1 (Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions,
 * 1994, 10.1; from memory).
 */
function truncated(centre: number, half: number): { mean: number; narrower: number } {
  const low = centre - half;
  const high = centre + half;
  // Densities and chances over the density at the lower end, which may be tiny: only their ratios count.
  const end = Math.exp((low * low - high * high) / 2);
  const chance =
    low > 0
      ? millsRatio(low) - end * millsRatio(high)
      : Math.sqrt(2 * Math.PI) * Math.exp((low * low) / 2) -
        millsRatio(-low) -
        end * millsRatio(high);
  const mean = (1 - end) / chance;
  const narrower = mean * mean - (low - high * end) / chance;
  return { mean, narrower: Math.min(Math.max(narrower, LEAST_NEWS), 1) };
}
