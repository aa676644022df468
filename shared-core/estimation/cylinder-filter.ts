import type { GasModel } from "./gas-model.ts";

/**
 * Extended Kalman filter of one cylinder (or bank) with the conductances of its drops.
 *
 * State x, with n = FIRST_DROP + number of drops:
 *   RHO     molar density in the water volume, mol/m³ (content = density times volume)
 *   GAS     gas temperature, K
 *   WALL    wall temperature, K
 *   LOG_U   logarithm of the gas-wall heat conductance against its expected value
 *   OFFSET  cylinder sensor: offset, Pa                    (considered, see below)
 *   SPAN    cylinder sensor: error at full range beyond `OFFSET_AT_TOP` of its offset, Pa (considered)
 *   PROBE   temperature probe: constant error, K           (considered)
 *   DRIFT   temperature probe: slow error (sun, draught, contact), K
 *   SLOW    cylinder sensor: slow error (hysteresis, creep), Pa
 *   BODY    cylinder sensor: error for each kelvin its body is away from `bodyZeroK`, Pa/K
 *   ROOM    temperature that the wall tends to (air and sun together), K
 *   AIR     part of the air beside the wall that the temperature probe shows, 0 to `AIR_MOST`
 *   FIRST_LOOP + k   cylinder sensor: half-width of the part of its hysteresis that turns over
 *                    `LOOP_TURNS[k]` of its range, Pa
 *   FIRST_DROP + i   logarithm of the flow of drop i at its reference line pressure, mol/s
 *
 * Considered states cannot be told apart by ordinary data: an offset looks like content, a probe's
 * error like warmth. Whatever an update seems to learn about them is given back along the
 * direction that the readings do not see (`keepConsidered`), so that their variance never shrinks
 * by linearisation alone. Only a reading that must be zero teaches them.
 */
export const RHO = 0;
export const GAS = 1;
export const WALL = 2;
export const LOG_U = 3;
export const OFFSET = 4;
export const SPAN = 5;
export const PROBE = 6;
export const DRIFT = 7;
export const SLOW = 8;
export const BODY = 9;
export const ROOM = 10;
export const AIR = 11;
export const FIRST_LOOP = 12;
/**
 * A sensor's hysteresis is a sum of plays (Prandtl and Ishlinskii): the place on each turns from end to
 * end over twice this share of the range, and how wide each is, is learnt.
 */
export const LOOP_TURNS = [0.0001, 0.0002, 0.0004] as const;
export const LOOPS = LOOP_TURNS.length;
export const FIRST_DROP = FIRST_LOOP + LOOPS;

/** What the filter must know of the hardware. */
export interface FilterPlan {
  gas: GasModel;
  waterVolumeM3: number;
  count: number;
  /** Absolute pressure outside, Pa. */
  atmospherePa: number;
  sensorRangePa: number;
  /** Limit of the sensor's error (offset and span together), Pa. */
  sensorLimitPa: number;
  /** 1 sigma of the sensor's temperature coefficient, share of its range per kelvin. */
  driftSharePerK: number;
  /** Limit of the temperature probe's error, K. */
  probeLimitK: number;
  drops: number;
  /** A line sensor says when gas flows: fine hysteresis can be told from gas that is on or off. */
  line: boolean;
}

/** The filter's memory; plain data. */
export interface FilterState {
  t: number;
  x: Float64Array;
  /** Covariance, row by row. */
  p: Float64Array;
  /** A first pressure was taken in. */
  started: boolean;
  /** A wall temperature was taken in. */
  warm: boolean;
  /** Sensor body's temperature above `bodyZeroK`, K; 0 where nobody measures it. */
  bodyK: number;
  /** Learnt variance of the slow error, Pa², and the blocks of innovations that teach it. */
  slowVariance: number;
  /** Mean and variance that each considered state keeps: offset, span, probe. */
  considered: { i: number; mean: number; variance: number }[];
  /** Where on each play of its hysteresis the sensor stands: 1 after a fall, -1 after a rise. */
  loop: Float64Array;
  /** Gauge pressure of the state after the last update, Pa. */
  gaugePa: number | null;
  blockSum: number;
  blockSpread: number;
  blockCount: number;
  blockBefore: number;
  updates: number;
  /** Consecutive pressures that the gate refused. */
  refused: number;
  /** Learnt variance of the probe's slow error, K². */
  driftVariance: number;
  /** How little is known of the place on the loop, 0 to 1, and the fall since then, Pa. */
  loopDoubt: number;
  loopFall: number;
  /**
   * Temperature that the cylinder sensor's body counts from, K: where it was first read at rest; 20 °C without
   * a line sensor and in states of version 12 and before. Null until it was read at rest.
   */
  bodyZeroK: number | null;
}

/** A step in time after linearisation: what `propagate` needs. */
export interface Step {
  readonly dtS: number;
  readonly keep: number;
  readonly throughD: number;
  readonly heatRate: number;
  readonly rhoPerDrop: Float64Array;
  readonly gasPerDrop: Float64Array;
  readonly wallPerDrop: Float64Array;
  readonly gasPerU: number;
  readonly wallPerU: number;
  /** What one mol/s over the step does to density, gas-wall difference and wall. */
  readonly rhoPerFlow: number;
  readonly gasPerFlow: number;
  readonly wallPerFlow: number;
  readonly fade: number;
  readonly slowFade: number;
  /** Part of the way to the room that the wall goes in this step. */
  readonly toRoom: number;
  readonly uFade: number;
}

/** Steel or aluminium of a cylinder, J/K per litre of water volume (about 1.15 kg/L times 480). */
const WALL_CAPACITY_J_PER_K_L = 550;
/**
 * Gas-wall conductance of a 50 L cylinder at 9000 mol/m³, W/K; natural convection, order of
 * magnitude: argon at 150 bar follows its wall with about 90 s, the middle of 50 to 150 s.
 */
const REFERENCE_CONDUCTANCE = 62;
/** The wall follows the room with this time constant: capacity over about 9 W/(m² K). */
const ROOM_TIME_S = 2600;
/** Random walk of what the wall tends to: about 1.5 K in an hour. */
const ROOM_WALK = 1.5 / 60;
const LOG_U_SIGMA = 0.3;
const LOG_U_TIME_S = 86_400;
/** Slow error of the probe: 1 sigma at first, least and most that is learnt, K; its time; how fast it is learnt, s. */
const DRIFT_FIRST_K = 0.12;
const DRIFT_LEAST_K = 0.07;
const DRIFT_MOST_K = 0.35;
const DRIFT_TIME_S = 3600;
const DRIFT_LEARN_S = 2000;
/** A probe this many of its usual slow errors off stands in other air. */
const AIR_SIGMAS = 3;
/**
 * Part of the air beside the wall that a strapped probe shows: a good strap under foam 0.03, a loose one a
 * quarter (common practice, no source); mean, 1 sigma, and the most that is believed.
 */
export const PROBE_AIR_SHARE = 0.07;
const AIR_SIGMA = 0.05;
export const AIR_MOST = 0.7;
/** Least of it by which the air is reckoned from the probe. */
const AIR_LEAST = 0.03;
/** Time in which air changes, s. */
const AIR_FOLLOW_S = 600;
/**
 * Slow error of a pressure sensor (hysteresis, creep), and whatever else the model misses: its
 * size is learnt from how the innovations hang together. Shares of the range.
 */
const SLOW_FIRST = 0.00006;
const SLOW_TIME_S = 400;
/** Hysteresis: 1 sigma of its half-width, share of the range. */
const LOOP_SIGMA = 0.0003;
/** Without a line sensor: the half-width expected of the only play, and its 1 sigma (common practice, no source). */
const UNSEEN_LOOP = 0.00025;
const UNSEEN_LOOP_SIGMA = 0.0002;
/** Random walk of the half-width as it was learnt, share of the range per root second. */
const LOOP_WALK = 0.00012 / 60;
/** After this time without flow the sensor's place on its loop is no longer known, s. */
const LOOP_IDLE_S = 1200;
/**
 * How much of a sensor's error at zero is expected at the top of its range too: its class bounds both, and
 * does not say whether they go together. Half lies between a mere offset and errors that know nothing of each
 * other. The rest may be all of the class again (linearity is part of it): at four fifths of the range, where
 * full cylinders stand, the two make just the class.
 */
export const OFFSET_AT_TOP = 0.5;
/** Air pressure against the standard atmosphere: ±15 hPa of weather, 1 sigma, Pa. */
const WEATHER_PA = 866;
/**
 * Temperature coefficient of a pressure sensor: 1 sigma, share of its range per kelvin (the class covers it
 * over some 50 K; common practice, no source).
 */
export const BODY_SHARE_PER_K = 0.00008;
/**
 * The same where the cylinder's pressure alone tells when gas flows, with the temperature that its body counts
 * from, K: there neither a closer coefficient nor another zero brought flow and intervals closer to the truth.
 */
export const BODY_SHARE_UNSEEN = 0.00007;
const BODY_ZERO_UNSEEN = 293.15;
/** A body this near the wall is at rest, K. */
const BODY_RESTS_WITHIN_K = 10;
/**
 * More than so many sigma of it is not the sensor's: a body cools while gas flows, and what the model misses
 * of the fall would be laid to its coefficient.
 */
export const BODY_SIGMAS = 1.2;
/** Random walk of the wall from weather, sun and draught, K per root second. */
const WALL_WALK = 0.0025;
/** Random walk of a conductance while gas flows: 0.6 % in half an hour. */
const DROP_WALK = 0.006 / Math.sqrt(1800);

export function createFilter(plan: FilterPlan, t: number): FilterState {
  const n = FIRST_DROP + plan.drops;
  const state: FilterState = {
    t,
    x: new Float64Array(n),
    p: new Float64Array(n * n),
    started: false,
    warm: false,
    bodyK: 0,
    slowVariance: 0,
    considered: [],
    loop: new Float64Array(LOOPS),
    gaugePa: null,
    blockSum: 0,
    blockSpread: 0,
    blockCount: 0,
    blockBefore: 0,
    updates: 0,
    refused: 0,
    driftVariance: DRIFT_FIRST_K ** 2,
    loopDoubt: 0,
    loopFall: 0,
    bodyZeroK: null,
  };
  state.x[GAS] = 293.15;
  state.x[WALL] = 293.15;
  state.x[ROOM] = 293.15;
  setVariance(state, GAS, 10 ** 2);
  setVariance(state, WALL, 10 ** 2);
  tie(state, GAS, WALL, 10 ** 2 - 0.3);
  setVariance(state, ROOM, 10 ** 2 + 3 ** 2);
  tie(state, ROOM, WALL, 10 ** 2 - 0.3);
  tie(state, ROOM, GAS, 10 ** 2 - 0.5);
  setVariance(state, LOG_U, LOG_U_SIGMA ** 2);
  // A limit a is a uniform error of variance a²/3, at zero and at the top of the range alike.
  const sensor = plan.sensorLimitPa ** 2 / 3;
  setVariance(state, OFFSET, sensor + WEATHER_PA ** 2);
  setVariance(state, SPAN, sensor);
  setVariance(state, PROBE, plan.probeLimitK ** 2 / 3);
  state.considered = [OFFSET, SPAN, PROBE].map((i) => ({
    i,
    mean: 0,
    variance: variance(state, i),
  }));
  setVariance(state, DRIFT, DRIFT_FIRST_K ** 2);
  state.slowVariance = (SLOW_FIRST * plan.sensorRangePa) ** 2;
  setVariance(state, SLOW, state.slowVariance);
  if (plan.line) {
    for (let k = 0; k < LOOPS; k++) {
      setVariance(state, FIRST_LOOP + k, (LOOP_SIGMA * plan.sensorRangePa) ** 2);
    }
  } else {
    // Starting from no width at all, what hides gas-on for its first half minute is mistaken for a gas
    // that follows its wall closely, and each spell is dated too short: the flow then reads too high.
    const only = FIRST_LOOP + LOOPS - 1;
    state.x[only] = UNSEEN_LOOP * plan.sensorRangePa;
    setVariance(state, only, (UNSEEN_LOOP_SIGMA * plan.sensorRangePa) ** 2);
  }
  setVariance(state, BODY, (plan.driftSharePerK * plan.sensorRangePa) ** 2);
  // Without a line sensor gas that goes on or off unseen looks much like other air.
  if (plan.line) {
    state.x[AIR] = PROBE_AIR_SHARE;
    setVariance(state, AIR, AIR_SIGMA ** 2);
  }
  return state;
}

export function variance(state: FilterState, i: number): number {
  return state.p[i * state.x.length + i]!;
}

export function covariance(state: FilterState, i: number, j: number): number {
  return state.p[i * state.x.length + j]!;
}

/** Sets one variance and cuts the correlations of that state. */
export function setVariance(state: FilterState, i: number, value: number): void {
  const n = state.x.length;
  for (let j = 0; j < n; j++) {
    state.p[i * n + j] = 0;
    state.p[j * n + i] = 0;
  }
  state.p[i * n + i] = value;
}

/** Adds variance and keeps the correlations. */
export function addVariance(state: FilterState, i: number, value: number): void {
  const n = state.x.length;
  state.p[i * n + i] = state.p[i * n + i]! + value;
}

/** Sets the covariance of two states. */
export function tie(state: FilterState, i: number, j: number, value: number): void {
  const n = state.x.length;
  state.p[i * n + j] = value;
  state.p[j * n + i] = value;
}

/** Makes both halves of the covariance equal to the last bit: a state is written by one of them, and restores exactly. */
export function mirror(state: FilterState): void {
  const { p } = state;
  const n = state.x.length;
  for (let i = 1; i < n; i++) for (let j = 0; j < i; j++) p[j * n + i] = p[i * n + j]!;
}

/** Gas-wall conductance at the present state, W/K. */
function conductance(plan: FilterPlan, x: Float64Array): number {
  const litres = plan.waterVolumeM3 * 1000;
  const each = litres / plan.count;
  const area = plan.count * (each / 50) ** (2 / 3);
  // Free convection: h grows about as density to the power 2/3; half of that is taken, since
  // the driving difference falls along with it.
  const dense = Math.min(Math.max(x[RHO]! / 9000, 0.002), 3) ** 0.4;
  return REFERENCE_CONDUCTANCE * area * dense * Math.exp(x[LOG_U]!);
}

/** Gas follows the wall with this time constant now, s. */
export function gasTimeConstantS(plan: FilterPlan, state: FilterState): number {
  const { x } = state;
  const moles = Math.max(x[RHO]!, 1) * plan.waterVolumeM3;
  return (moles * plan.gas.cv(x[RHO]!, x[GAS]!)) / conductance(plan, x);
}

/**
 * Moves the filter to time `t` with the given flows.
 *
 * @param flows mol/s of each drop over the step, at the present conductances
 * @param extraMol mol that leave besides (a hose that fills, a known leak), with its variance
 */
export function predict(
  plan: FilterPlan,
  state: FilterState,
  t: number,
  flows: ArrayLike<number>,
  extraMol = 0,
  extraVariance = 0,
): Step | null {
  const dtS = t - state.t;
  if (!(dtS > 0)) return null;
  state.t = t;
  const { x } = state;
  const n = x.length;
  if (!state.started) return null;
  const volume = plan.waterVolumeM3;
  const rho = Math.max(x[RHO]!, 0.5);
  const cv = Math.max(plan.gas.cv(rho, x[GAS]!), 5);
  const heating = plan.gas.heating(rho, x[GAS]!);
  // n cv dT = (T p_T / rho) dn + Q: what withdrawal cools, per mol/m³.
  const coolingPerRho = (x[GAS]! * heating) / (rho * rho * cv);
  const u = conductance(plan, x);
  const capacity = WALL_CAPACITY_J_PER_K_L * volume * 1000;
  const gasRate = u / (rho * volume * cv);
  const heatRate = u / capacity;
  const rate = gasRate + heatRate;
  const keep = Math.exp(-rate * dtS);
  const lost = (1 - keep) / rate;
  let moles = extraMol;
  for (let i = 0; i < plan.drops; i++) moles += flows[i]! * dtS;
  moles = Math.min(moles, 0.5 * rho * volume);
  const forcing = (-coolingPerRho * moles) / volume / dtS;
  const difference = x[GAS]! - x[WALL]!;
  const settled = forcing / rate;
  const next = difference * keep + settled * (1 - keep);
  const integral = (difference - settled) * lost + settled * dtS;
  x[RHO] = x[RHO]! - moles / volume;
  const toRoom = 1 - Math.exp(-dtS / ROOM_TIME_S);
  x[WALL] = x[WALL]! + heatRate * integral + toRoom * (x[ROOM]! - x[WALL]!);
  x[GAS] = x[WALL]! + next;
  const rhoPerDrop = new Float64Array(plan.drops);
  const gasPerDrop = new Float64Array(plan.drops);
  const wallPerDrop = new Float64Array(plan.drops);
  for (let i = 0; i < plan.drops; i++) {
    const push = -flows[i]! / volume;
    const force = coolingPerRho * push;
    rhoPerDrop[i] = push * dtS;
    gasPerDrop[i] = force * lost;
    wallPerDrop[i] = (force * (dtS - lost)) / rate;
  }
  const fade = Math.exp(-dtS / DRIFT_TIME_S);
  const uFade = Math.exp(-dtS / LOG_U_TIME_S);
  const slowFade = Math.exp(-dtS / SLOW_TIME_S);
  // Derivative of the integral by the logarithm of the rate, at constant forcing.
  const integralPerRate = (difference - settled) * (dtS * keep - lost) - settled * (dtS - lost);
  const step: Step = {
    dtS,
    keep,
    throughD: lost,
    heatRate,
    rhoPerDrop,
    gasPerDrop,
    wallPerDrop,
    gasPerU: -rate * dtS * keep * (difference - settled) - settled * (1 - keep),
    wallPerU: integral + integralPerRate,
    rhoPerFlow: -dtS / volume,
    gasPerFlow: (-coolingPerRho / volume) * lost,
    wallPerFlow: (heatRate * (-coolingPerRho / volume) * (dtS - lost)) / rate,
    fade,
    slowFade,
    toRoom,
    uFade,
  };
  x[LOG_U] = x[LOG_U]! * uFade;
  x[DRIFT] = x[DRIFT]! * fade;
  x[SLOW] = x[SLOW]! * slowFade;
  // P = F P F': F on every column, then on every row.
  for (let j = 0; j < n; j++) propagate(step, state.p, j, n);
  for (let i = 0; i < n; i++) propagate(step, state.p, i * n, 1);
  mirror(state);
  // Process noise.
  const wall = WALL_WALK ** 2 * dtS;
  addVariance(state, WALL, wall);
  addVariance(state, GAS, wall * (1 - keep) ** 2 + 0.0008 ** 2 * dtS);
  const both = wall * (1 - keep);
  state.p[GAS * n + WALL] = state.p[GAS * n + WALL]! + both;
  state.p[WALL * n + GAS] = state.p[WALL * n + GAS]! + both;
  addVariance(state, ROOM, ROOM_WALK ** 2 * dtS);
  addVariance(state, DRIFT, state.driftVariance * (1 - fade * fade));
  addVariance(state, SLOW, state.slowVariance * (1 - slowFade * slowFade));
  addVariance(state, LOG_U, LOG_U_SIGMA ** 2 * (1 - uFade * uFade));
  addVariance(state, RHO, (extraVariance + 4e-6 ** 2 * dtS * 60) / volume ** 2);
  for (let i = 0; i < plan.drops; i++) {
    if (flows[i]! > 0) addVariance(state, FIRST_DROP + i, DROP_WALK ** 2 * dtS);
  }
  return step;
}

/**
 * The probe's slow error is as large as the filter finds it: its variance follows its second moment
 * (a step of expectation and maximisation at a time: Shumway and Stoffer 1982).
 */
export function learnDrift(state: FilterState, dtS: number): void {
  // Other air is no draught: what it does to the probe says nothing of the ordinary ones.
  if (airChanged(state)) return;
  const seen = state.x[DRIFT]! ** 2 + variance(state, DRIFT);
  const part = 1 - Math.exp(-Math.min(dtS, 60) / DRIFT_LEARN_S);
  const next = state.driftVariance + part * (seen - state.driftVariance);
  state.driftVariance = Math.min(Math.max(next, DRIFT_LEAST_K ** 2), DRIFT_MOST_K ** 2);
}

/**
 * The probe errs by more than any draught so far: the air about it has changed (a door was opened), and
 * with it the heat that wall and gas take in, which the filter follows in some minutes only.
 */
export function airChanged(state: FilterState): boolean {
  return state.x[DRIFT]! ** 2 > AIR_SIGMAS ** 2 * state.driftVariance;
}

/** Where the air has changed, what the wall tends to has changed by far more than the probe shows of it. */
export function followAir(state: FilterState, dtS: number): void {
  if (!airChanged(state)) return;
  const awayK = state.x[DRIFT]! / Math.max(state.x[AIR]!, AIR_LEAST);
  addVariance(state, ROOM, (awayK ** 2 * Math.min(dtS, 60)) / AIR_FOLLOW_S);
}

/**
 * Takes in the temperature (K) of the cylinder sensor's body; null where nobody measures it. It counts from
 * where it was first read at rest, near the wall (not frosted, nor a false reading): away from there by the
 * same all day, a coefficient would be one more offset, which the filter would take as learnt.
 */
export function takeBody(plan: FilterPlan, state: FilterState, bodyK: number | null): void {
  const rests =
    bodyK !== null && (!state.warm || Math.abs(bodyK - state.x[WALL]!) < BODY_RESTS_WITHIN_K);
  if (!plan.line) state.bodyZeroK = BODY_ZERO_UNSEEN;
  else if (rests) state.bodyZeroK ??= Math.fround(bodyK);
  state.bodyK = bodyK === null || state.bodyZeroK === null ? 0 : bodyK - state.bodyZeroK;
}

/** A small turn shows less of the hysteresis loop than a large one: what was learnt of its width fades. */
export function walkLoop(plan: FilterPlan, state: FilterState, dtS: number): void {
  const walk = (LOOP_WALK * plan.sensorRangePa) ** 2 * Math.min(dtS, 60);
  for (let k = 0; k < LOOPS; k++) addVariance(state, FIRST_LOOP + k, walk);
}

/**
 * Gas goes on after an idle time in which the pressure crept to and fro: where on its loop the sensor
 * stands is hardly known, so that any part of the first fall may be hidden.
 */
export function doubtLoop(state: FilterState, idleS: number): void {
  state.loopDoubt = 1 - Math.exp(-idleS / LOOP_IDLE_S);
  state.loopFall = 0;
}

/** Applies the linearised step to a vector of state errors, in place; one that lies in `v` from `at` on, `apart` each. */
export function propagate(step: Step, v: Float64Array, at = 0, apart = 1): void {
  const rhoAt = at + RHO * apart;
  const gasAt = at + GAS * apart;
  const wallAt = at + WALL * apart;
  const logUAt = at + LOG_U * apart;
  const driftAt = at + DRIFT * apart;
  const slowAt = at + SLOW * apart;
  const logU = v[logUAt]!;
  const before = v[wallAt]!;
  const difference = v[gasAt]! - before;
  let rho = v[rhoAt]!;
  let gas = difference * step.keep + step.gasPerU * logU;
  let wall = step.throughD * difference + step.wallPerU * logU;
  for (let i = 0; i < step.rhoPerDrop.length; i++) {
    const c = v[at + (FIRST_DROP + i) * apart]!;
    rho += step.rhoPerDrop[i]! * c;
    gas += step.gasPerDrop[i]! * c;
    wall += step.wallPerDrop[i]! * c;
  }
  v[rhoAt] = rho;
  const next = before + step.heatRate * wall + step.toRoom * (v[at + ROOM * apart]! - before);
  v[wallAt] = next;
  v[gasAt] = next + gas;
  v[driftAt] = v[driftAt]! * step.fade;
  v[slowAt] = v[slowAt]! * step.slowFade;
  v[logUAt] = logU * step.uFade;
}

const scratches: Float64Array[] = [];
/** A vector of `n` that is used within one call only. */
export function scratch(n: number): Float64Array {
  scratches[n] ??= new Float64Array(n);
  return scratches[n];
}
