import type { Composition } from "../gases/composition.ts";
import { GasModel, MOLAR_GAS_CONSTANT } from "./gas-model.ts";

/**
 * Does the gas behave as its label says? Two signs: how the idle cylinder's pressure follows its
 * temperature (by the equation of state 75/25 moves a fifth more than argon, helium less), and
 * how fast the set device lets it out (molar flow through the same float goes with 1/sqrt(M)).
 */
export interface GasWatchState {
  /** Start and last step of the idle stretch, Unix s; null while none is judged. */
  since: number | null;
  t: number;
  /** Pressure at `baseK` (Pa, about `base`), its slope (Pa/K), its own drift (Pa/s); lower triangle. */
  x: Float64Array;
  p: Float32Array;
  base: number;
  baseK: number;
  startT: number;
  /** Slope over the label's slope, summed over stretches: information and information times ratio. */
  weight: number;
  weighted: number;
  /** Mean state at which it was seen: absolute Pa and K. */
  pa: number;
  k: number;
}

/** The gas settles for this long after a flow, s. */
const SETTLE_S = 2400;
const EVERY_S = 600;
/** Shortest stretch that says anything, s. */
const LEAST_S = 3 * 3600;
/** Slow error of the wall probe against the gas, K, over some three hours: 18 readings share it. */
const SLOW_K = 0.15;
const SHARED = 18;
/** Standing loss that an idle cylinder may have, 1 sigma, relative a second (0.05 L/min of 50 L at 150 bar). */
const LOSS_PER_S = 1e-7;
/** What the model of an idle cylinder itself misses in the slope, 1 sigma. */
const MODEL_SIGMA = 0.05;
/** A float may stand elsewhere than the description says: 1 sigma of the logarithm of its flow. */
const SETTING_SIGMA = 0.4;
/** Chance that a cylinder holds another gas than its label (common practice, no source). */
const PRIOR_WRONG = 0.01;

/** Gases that a shop may have taken instead. */
const candidates: readonly (readonly [string, Composition])[] = [
  ["argon", { Ar: 1 }],
  ["argon with 8 % CO2", { Ar: 0.92, CO2: 0.08 }],
  ["argon with 18 % CO2", { Ar: 0.82, CO2: 0.18 }],
  ["argon with 25 % CO2", { Ar: 0.75, CO2: 0.25 }],
  ["argon with helium", { Ar: 0.5, He: 0.5 }],
  ["helium", { He: 1 }],
  ["nitrogen", { N2: 1 }],
];

export function createGasWatch(): GasWatchState {
  return {
    since: null,
    t: 0,
    x: new Float64Array(3),
    p: new Float32Array(6),
    base: 0,
    baseK: 0,
    startT: 0,
    weight: 0,
    weighted: 0,
    pa: 0,
    k: 0,
  };
}

const at = (i: number, j: number): number =>
  i >= j ? (i * (i + 1)) / 2 + j : (j * (j + 1)) / 2 + i;

/** Idle with the valve open: absolute pressure, gas temperature as the wall tells it. */
export function takeIdlePressure(
  state: GasWatchState,
  gas: GasModel,
  reading: { t: number; pa: number; k: number; noisePa: number },
): void {
  const { t, pa, k, noisePa } = reading;
  if (state.since === null) {
    state.since = t;
    state.startT = 0;
    return;
  }
  if (t - state.since < SETTLE_S || t - state.t < EVERY_S) return;
  const slope = gas.heating(gas.densityAt(pa, k), k);
  if (!(slope > 0)) return;
  const { x, p } = state;
  if (state.startT === 0) {
    state.startT = t;
    state.base = pa;
    state.baseK = k;
    x.fill(0);
    p.fill(0);
    x[1] = slope;
    p[at(0, 0)] = (5 * slope) ** 2;
    p[at(1, 1)] = (0.6 * slope) ** 2;
    p[at(2, 2)] = (LOSS_PER_S * pa) ** 2;
  }
  state.t = t;
  const h = [1, k - state.baseK, t - state.startT];
  const gain = [0, 0, 0];
  let spread = noisePa ** 2 + SHARED * (SLOW_K * slope) ** 2;
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) gain[i]! += p[at(i, j)]! * h[j]!;
    spread += h[i]! * gain[i]!;
  }
  const innovation = pa - state.base - x[0]! - x[1]! * h[1]! - x[2]! * h[2]!;
  for (let i = 0; i < 3; i++) {
    x[i] = x[i]! + (gain[i]! / spread) * innovation;
    for (let j = 0; j <= i; j++) p[at(i, j)] = p[at(i, j)]! - (gain[i]! * gain[j]!) / spread;
  }
  state.pa = pa;
  state.k = k;
}

/** Gas flows, the valve is closed or nothing is known: what the stretch found is kept. */
export function endIdlePressure(state: GasWatchState, gas: GasModel): void {
  const found = stretch(state, gas);
  if (found !== null) {
    // A year of nights must not outweigh what changes: older ones fade.
    state.weight = 0.8 * state.weight + 1 / found.variance;
    state.weighted = 0.8 * state.weighted + found.ratio / found.variance;
  }
  state.since = null;
}

function stretch(state: GasWatchState, gas: GasModel): { ratio: number; variance: number } | null {
  if (state.since === null || state.startT === 0 || state.t - state.startT < LEAST_S) return null;
  const slope = gas.heating(gas.densityAt(state.base, state.baseK), state.baseK);
  const variance = state.p[at(1, 1)]! / slope ** 2;
  if (!(slope > 0) || !(variance < 0.15 ** 2)) return null;
  return { ratio: state.x[1]! / slope, variance };
}

/** The learnt flow of a drop against what its set reading lets through, as logarithms. */
export interface FlowSign {
  away: number;
  sigma: number;
}

/**
 * Chance that the gas is not the label's, and which it behaves like. Null until one of the signs
 * was seen.
 */
export function gasDoubt(
  state: GasWatchState,
  gas: GasModel,
  flow: FlowSign | null,
  models: readonly CandidateModel[],
): { probability: number; looksLike: string | null } | null {
  const now = stretch(state, gas);
  const weight = state.weight + (now === null ? 0 : 1 / now.variance);
  const weighted = state.weighted + (now === null ? 0 : now.ratio / now.variance);
  const seen = weight > 0;
  if (!seen && flow === null) return null;
  const pa = seen ? state.pa : 1.2e7;
  const k = seen ? state.k : 293.15;
  const label = signs(gas, pa, k);
  if (label === null) return null;
  const misfit = (ratio: number, shift: number): number => {
    let square = 0;
    if (seen) square += (weighted / weight - ratio) ** 2 / (1 / weight + MODEL_SIGMA ** 2);
    if (flow !== null) square += (flow.away - shift) ** 2 / (flow.sigma ** 2 + SETTING_SIGMA ** 2);
    return 0.5 * square;
  };
  const own = misfit(1, 0);
  let wrong = 0;
  let best = 0;
  let looksLike: string | null = null;
  for (const model of models) {
    const other = signs(model.gas, pa, k);
    if (other === null) continue;
    const shift = 0.5 * Math.log(label.molar / other.molar) + Math.log(other.perRho / label.perRho);
    const odds = Math.exp(Math.min(own - misfit(other.heating / label.heating, shift), 60));
    wrong += odds;
    if (odds > best) {
      best = odds;
      looksLike = model.name;
    }
  }
  const odds = (PRIOR_WRONG / (1 - PRIOR_WRONG)) * (wrong / Math.max(models.length, 1));
  const probability = odds / (1 + odds);
  return { probability, looksLike: probability > 0.5 ? looksLike : null };
}

export interface CandidateModel {
  name: string;
  gas: GasModel;
}

/** The gases that differ from the label's enough to be told apart at all. */
export function otherGases(label: Composition): CandidateModel[] {
  return candidates
    .filter(([, composition]) => distance(composition, label) > 0.05)
    .map(([name, composition]) => ({ name, gas: new GasModel(composition) }));
}

function distance(a: Composition, b: Composition): number {
  const names = new Set([...Object.keys(a), ...Object.keys(b)]) as Set<keyof Composition>;
  let most = 0;
  for (const name of names) most = Math.max(most, Math.abs((a[name] ?? 0) - (b[name] ?? 0)));
  return most;
}

/** (dp/dT) at constant density, (dp/drho) relative to the ideal gas, and molar mass; null where no gas. */
function signs(
  gas: GasModel,
  pa: number,
  k: number,
): { heating: number; perRho: number; molar: number } | null {
  const rho = gas.densityAt(pa, k);
  if (!(rho > 0)) return null;
  return {
    heating: gas.heating(rho, k),
    perRho: gas.slope(rho, k) / (MOLAR_GAS_CONSTANT * k),
    molar: gas.mixture.molarMassKgPerMol,
  };
}
