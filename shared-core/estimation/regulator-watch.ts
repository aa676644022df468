import { chanceBelow } from "../alarms/chance.ts";
import { ordinaryBody } from "../regulator/body-heat.ts";
import { deliveredEnthalpyJPerMol } from "../regulator/throttling.ts";
import type { GasModel } from "./gas-model.ts";

/**
 * Temperature of a regulator's body: an extended Kalman filter of four states on the heat balance
 *
 *   dT/dt = a (room + offset - T) - b n [h(line, T) - h(cylinder)]
 *
 * with a = heat intake over heat capacity, b = effectiveness over heat capacity (see
 * `regulator/body-heat.ts`), both learnt from the body's own probe, and from it the chance that
 * cold soon takes delivery down. Enthalpies come from the equation of state.
 */
export interface BodyState {
  /** Time of the last step, Unix s; null before the first reading. */
  t: number | null;
  /** Body K, ln a (1/s), ln b (K/J), offset of the room as the body sees it K. */
  x: Float64Array;
  /** Covariance, lower triangle row by row. */
  p: Float32Array;
  /** Gas-on share of the last ten minutes. */
  duty: number;
  /** Flowing line pressure with the body warm, gauge Pa; null until seen. */
  warmPa: number | null;
  /** Coldest body at which delivery stood undisturbed, K; warmest at which it had fallen by 5 %. */
  heldK: number;
  fallenK: number | null;
}

const n = 4;
const at = (i: number, j: number): number =>
  i >= j ? (i * (i + 1)) / 2 + j : (j * (j + 1)) / 2 + i;

/** 1 sigma of ln a (heat taken in), ln b (given to the gas) and the offset before anything is learnt (estimates, no source). */
export const PRIOR = { a: 0.4, b: 0.35, offsetK: 1.5, heatedK: 20 };
/** A body's probe: lag and contact, 1 sigma K. */
const PROBE_K = 0.5;
/** After a gap this long the body is taken anew, s. */
const LONG_GAP_S = 1800;
/** Forecast span, s. */
const HORIZON_S = 600;
/**
 * Body temperature at which delivery has fallen by 5 %: ice in humid air begins at 0 °C, and
 * passages narrow some way below (common practice, no source).
 */
const FALL_K = { mean: 261.15, sigma: 7 };
const WARM_K = 278.15;

export function createBody(heated: boolean): BodyState {
  const { heatCapacityJPerK, airConductanceWPerK, valveConductanceWPerK, effectiveness } =
    ordinaryBody;
  const x = new Float64Array(n);
  x[1] = Math.log((airConductanceWPerK + valveConductanceWPerK) / heatCapacityJPerK);
  x[2] = Math.log(effectiveness / heatCapacityJPerK);
  const p = new Float32Array((n * (n + 1)) / 2);
  p[at(1, 1)] = PRIOR.a ** 2;
  p[at(2, 2)] = PRIOR.b ** 2;
  p[at(3, 3)] = (heated ? PRIOR.heatedK : PRIOR.offsetK) ** 2;
  return { t: null, x, p, duty: 0, warmPa: null, heldK: 1000, fallenK: null };
}

/** What surrounds the body now. Pressures absolute. */
export interface BodySurroundings {
  roomK: number;
  /** Gas through the body, mol/s; 0 while none flows. */
  molPerS: number;
  heat: ThrottlingHeat;
}

/** Heat that a mole of gas takes up on its way to a body at T: `atZeroC + cp (T - 273.15)`, J/mol. */
export interface ThrottlingHeat {
  atZeroC: number;
  cp: number;
}

/** Looks up the heat of throttling; remembers what it reckoned. */
export class Throttling {
  readonly #gas: GasModel;
  readonly #known = new Map<number, ThrottlingHeat>();

  constructor(gas: GasModel) {
    this.#gas = gas;
  }

  /** For a cylinder at this pressure (absolute Pa) and temperature, counted in steps of 2 bar and 2 K. */
  heat(cylinderPa: number, cylinderK: number): ThrottlingHeat {
    const steps = Math.min(Math.max(Math.round(cylinderPa / 2e5), 1), 200);
    const kelvin = Math.min(Math.max(2 * Math.round(cylinderK / 2), 230), 340);
    const key = steps * 1000 + kelvin;
    let heat = this.#known.get(key);
    if (heat === undefined) {
      heat = this.#reckon(steps * 2e5, kelvin);
      this.#known.set(key, heat);
    }
    return heat;
  }

  #reckon(cylinderPa: number, cylinderK: number): ThrottlingHeat {
    const { mixture } = this.#gas;
    const line = 4.5e5;
    try {
      const density = mixture.densityMolPerM3(line, 273.15);
      const cp = mixture.cpJPerMolK(density, 273.15);
      const out = mixture.enthalpyJPerMol(density, 273.15);
      return { atZeroC: out - deliveredEnthalpyJPerMol(mixture, cylinderPa, cylinderK), cp };
    } catch {
      // No gas at these readings: nothing is concluded from them.
      return { atZeroC: Number.NaN, cp: Number.NaN };
    }
  }
}

/** Moves the body to `t`; `readingK` is its probe where a new reading came. */
export function stepBody(
  state: BodyState,
  t: number,
  around: BodySurroundings,
  readingK: number | null,
): void {
  if (state.t === null || t - state.t > LONG_GAP_S) {
    if (readingK === null) return;
    state.t = t;
    state.duty = 0;
    state.x[0] = readingK;
    for (let j = 0; j < n; j++) state.p[at(0, j)] = 0;
    state.p[at(0, 0)] = PROBE_K ** 2;
    return;
  }
  const dt = t - state.t;
  state.t = t;
  if (dt > 0) {
    const on = around.molPerS > 0 ? 1 : 0;
    state.duty += (on - state.duty) * (1 - Math.exp(-dt / HORIZON_S));
    predictBody(state, dt, around);
  }
  if (readingK !== null) updateBody(state, readingK);
}

function predictBody(state: BodyState, dt: number, around: BodySurroundings): void {
  const { x, p } = state;
  const { atZeroC, cp } = around.heat;
  if (!Number.isFinite(atZeroC)) return;
  const a = Math.exp(x[1]!);
  const b = Math.exp(x[2]!);
  const heat = Math.max(0, around.molPerS) * (atZeroC + cp * (x[0]! - 273.15));
  const rate = a + b * Math.max(0, around.molPerS) * cp;
  const fade = Math.exp(-rate * dt);
  const span = (1 - fade) / rate;
  const pull = a * (around.roomK + x[3]! - x[0]!);
  // Row of the transition matrix for the body; the other states stay.
  const f = [fade, span * pull, -span * b * heat, span * a];
  const row = [0, 0, 0, 0];
  for (let j = 0; j < n; j++) for (let k = 0; k < n; k++) row[j]! += f[k]! * p[at(k, j)]!;
  let own = 0;
  for (let k = 0; k < n; k++) own += f[k]! * row[k]!;
  p[at(0, 0)] = own + 0.03 ** 2 * dt;
  for (let j = 1; j < n; j++) p[at(0, j)] = row[j]!;
  p[at(1, 1)] = p[at(1, 1)]! + (1e-5 * dt) / 36;
  p[at(2, 2)] = p[at(2, 2)]! + (1e-5 * dt) / 36;
  p[at(3, 3)] = p[at(3, 3)]! + (1 * dt) / 3600;
  x[0] = x[0]! + span * (pull - b * heat);
}

function updateBody(state: BodyState, readingK: number): void {
  const { x, p } = state;
  const h = [0, 1, 2, 3].map((i) => p[at(i, 0)]!);
  const spread = h[0]! + PROBE_K ** 2;
  const innovation = Math.min(Math.max(readingK - x[0]!, -8), 8);
  for (let i = 0; i < n; i++) x[i] = x[i]! + (h[i]! / spread) * innovation;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) p[at(i, j)] = p[at(i, j)]! - (h[i]! * h[j]!) / spread;
  }
  // A body stays a body: within a factor of ten of an ordinary one.
  x[1] = Math.min(Math.max(x[1]!, -8.3), -3.7);
  x[2] = Math.min(Math.max(x[2]!, -8.6), -4);
}

/** Delivery against what it was with a warm body: what cold does to this regulator. */
export function learnCold(state: BodyState, bodyK: number, levelPa: number): void {
  if (bodyK > WARM_K || state.warmPa === null) {
    if (bodyK <= WARM_K) return;
    state.warmPa = state.warmPa === null ? levelPa : state.warmPa + 0.02 * (levelPa - state.warmPa);
    return;
  }
  if (levelPa > 0.98 * state.warmPa) state.heldK = Math.min(state.heldK, bodyK);
  else if (levelPa < 0.95 * state.warmPa && bodyK < 273.15) {
    state.fallenK = Math.max(state.fallenK ?? 0, bodyK);
  }
}

/**
 * Another cylinder, or a flow that was set anew: the regulator delivers at another level, by its
 * supply-pressure effect or its droop, and no cold did that. What cold does to it is still true.
 */
export function forgetWarmLevel(state: BodyState): void {
  state.warmPa = null;
}

export interface IcingForecast {
  /** Lowest body temperature over the next minutes at the present flow, K. */
  bodyK: number;
  sigmaK: number;
  /** Chance that delivery falls by 5 % in that time. */
  probability: number;
  withinS: number;
}

/**
 * Where the body is heading if gas flows on as now.
 * @param spellLeftS what a usual weld here still needs; beyond it the duty of the last minutes counts
 */
export function forecastIcing(
  state: BodyState,
  around: BodySurroundings,
  spellLeftS: number,
): IcingForecast | null {
  const { x, p } = state;
  const { atZeroC, cp } = around.heat;
  if (state.t === null || !Number.isFinite(atZeroC)) return null;
  const share = Math.max(state.duty, Math.min(1, spellLeftS / HORIZON_S));
  const flow = around.molPerS * share;
  const a = Math.exp(x[1]!);
  const b = Math.exp(x[2]!);
  const rate = a + b * flow * cp;
  const room = around.roomK + x[3]!;
  const settled = (a * room - b * flow * (atZeroC - cp * 273.15)) / rate;
  const fade = Math.exp(-rate * HORIZON_S);
  const later = settled + (x[0]! - settled) * fade;
  const bodyK = Math.min(x[0]!, later);
  const taken = (b * flow * (atZeroC + cp * (settled - 273.15))) / rate;
  const d = [
    fade,
    (1 - fade) * taken - (x[0]! - settled) * a * HORIZON_S * fade,
    -(1 - fade) * taken,
    (1 - fade) * (a / rate),
  ];
  let variance = 0;
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) variance += d[i]! * d[j]! * p[at(i, j)]!;
  const sigmaK = Math.sqrt(Math.max(variance, 0.01));
  return { bodyK, sigmaK, probability: chanceOfFall(state, bodyK, sigmaK), withinS: HORIZON_S };
}

/** Chance that the body passes the temperature at which delivery falls, given what held so far. */
function chanceOfFall(state: BodyState, bodyK: number, sigmaK: number): number {
  if (state.fallenK !== null) return chanceBelow(bodyK, Math.hypot(sigmaK, 1.5), state.fallenK);
  const { mean, sigma } = FALL_K;
  const possible = chanceBelow(mean, sigma, state.heldK);
  if (possible < 1e-6) return chanceBelow(bodyK, sigmaK, state.heldK);
  // Gauss-Hermite, three points (Abramowitz and Stegun, table 25.10).
  const points: [number, number][] = [
    [bodyK - Math.sqrt(3) * sigmaK, 1 / 6],
    [bodyK, 2 / 3],
    [bodyK + Math.sqrt(3) * sigmaK, 1 / 6],
  ];
  let chance = 0;
  for (const [k, weight] of points) {
    chance += (weight * Math.max(0, possible - chanceBelow(mean, sigma, k))) / possible;
  }
  return chance;
}
