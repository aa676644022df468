import {
  GAS,
  OFFSET,
  PROBE,
  propagate,
  RHO,
  ROOM,
  SPAN,
  type Step,
  scratch,
  WALL,
} from "./cylinder-filter.ts";
import type { LeakEstimate } from "./estimate.ts";
import type { Update } from "./filter-update.ts";

/**
 * Standing loss of a cylinder. Long idle spells tell it: a Kalman filter of six states over one
 * spell (moles against the start, their rate, the probe's slow error, the sensor's temperature
 * coefficient and hysteresis, and how much of the air a strapped probe reads), and the sum of past spells. Pressure noise averages out in minutes; what limits is
 * the probe, whose slow error is a first-order Gauss-Markov process, and the sensor's body that
 * follows the night, so that the interval is honest after one hour and after ten.
 *
 * What is found is part of the mass balance at once. By separate-bias estimation (Friedland 1969)
 * the error that one mol/s of loss makes in every state of the cylinder's filter is carried along
 * by the filter's own steps and corrections: with each change of the estimated loss the state is
 * corrected by it. So the content falls with the loss, flowing or not, what the filter had blamed
 * on temperatures and sensor is taken back, and the conductances are freed of it.
 *
 * Most fittings are tight and some are not: the prior is a narrow part and a wide one, so that a
 * sound cylinder's content is not blurred and a leak's is not held back.
 */
export interface LeakState {
  /** State error of the cylinder's filter for 1 mol/s of loss that it does not know of. */
  error: Float32Array;
  /** Loss that the mass balance reckons with, and its 1 sigma, mol/s. */
  molPerS: number;
  sigmaMolPerS: number;
  /** Start of the idle spell, Unix s; null while gas flows or nothing is known. */
  since: number | null;
  t: number;
  /** Time of the last block taken in. */
  blockT: number;
  /** Spell: moles relative to the start, their rate mol/s, probe's slow error K, coefficient Pa/K,
   *  share of air, half-width of the hysteresis Pa. */
  x: Float64Array;
  p: Float64Array;
  baseMol: number;
  baseBodyK: number;
  /** Gas temperature as the probe tells it, lagged, K, and the lag, s. */
  gasK: number | null;
  lagS: number;
  /** Block of readings that is being averaged: its start, count and sums. */
  block: { since: number; count: number } & Block;
  /** Sum over past spells: information and information times rate. */
  weight: number;
  weighted: number;
  /** Idle hours behind it. */
  hours: number;
}

/** Readings of a block, summed or as means. */
export interface Block {
  /** Cylinder pressure, gauge Pa. */
  pa: number;
  gasK: number;
  /** Sensor's body above 20 °C, K. */
  bodyK: number;
  /** How much warmer than the wall that is towards which the wall tends, K. */
  apartK: number;
  /** Place on the sensor's hysteresis loop, -1 to 1. */
  loop: number;
}

/** The gas needs this long to settle after a flow, s. */
export const SETTLE_S = 900;
const PROBE_SIGMA_K = 0.18;
const PROBE_TIME_S = 3 * 3600;
/** Readings are averaged over this long, s. */
const BLOCK_S = 600;
/**
 * Draught in a hall wanders about a strapped probe within the half hour: its time, s (common practice, no
 * source). The first block after a pause is as wrong as the draught itself, as its mean over a block;
 * those that follow are wrong much alike, so that each tells as if its error were white noise of the
 * same spectral density. Variances, parts of the draught's.
 */
const DRAUGHT_TIME_S = 1500;
const BLOCK_SHARE = BLOCK_S / DRAUGHT_TIME_S;
const NEXT_BLOCK = 2 / BLOCK_SHARE;
const FIRST_BLOCK = NEXT_BLOCK * (1 - (1 - Math.exp(-BLOCK_SHARE)) / BLOCK_SHARE);
/** No readings for longer than this end a block, s. */
export const PAUSE_S = 300;
/** Sensor's own slow error (hysteresis, creep), share of its range. */
const SENSOR_SHARE = 0.00025;
/** Prior: a tight cylinder, a leaking one (1 sigma each, L/min), and how many leak. */
const TIGHT_LPM = 0.015;
const LEAKING_LPM = 0.4;
const LEAKING_SHARE = 0.03;
/** A 95 % interval has to hold the leaking part once it is this likely. */
const LIKELY = 0.05;
/** Any leak that anybody would call one, 1 sigma, L/min: where a spell's filter starts. */
const FIRST_LPM = 4;
/** A loss is told from here on: 1 sigma of what the readings alone say, L/min. */
const TOLD_LPM = 0.15;
/** A night is one trial: this many sigma are one false call in some two hundred nights. */
const FOUND_SIGMAS = 2.6;

/** @param states of the cylinder's filter @param molPerLpm mol/s of 1 L/min */
export function createLeak(states: number, molPerLpm: number): LeakState {
  return {
    error: new Float32Array(states),
    molPerS: 0,
    sigmaMolPerS: TIGHT_LPM * molPerLpm,
    since: null,
    t: 0,
    blockT: 0,
    x: new Float64Array(N),
    p: new Float64Array(N * N),
    baseMol: 0,
    baseBodyK: 0,
    gasK: null,
    lagS: 60,
    block: { since: 0, count: 0, pa: 0, gasK: 0, bodyK: 0, apartK: 0, loop: 0 },
    weight: 0,
    weighted: 0,
    hours: 0,
  };
}

/** Carries the signature through a step of the filter. @param open the cylinder valve is open */
export function stepLeak(leak: LeakState, step: Step, open: boolean): void {
  const { error } = leak;
  const exact = scratch(error.length);
  // Plain loops: see `stepCandidates`.
  for (let i = 0; i < exact.length; i++) exact[i] = error[i]!;
  propagate(step, exact);
  for (let i = 0; i < exact.length; i++) error[i] = exact[i]!;
  if (!open) return;
  error[RHO] = error[RHO]! + step.rhoPerFlow;
  error[WALL] = error[WALL]! + step.wallPerFlow;
  error[GAS] = error[GAS]! + step.wallPerFlow + step.gasPerFlow;
}

/** Follows a correction of the filter with the signature. */
export function correctLeak(leak: LeakState, update: Update): void {
  if (!update.accepted) return;
  const { error } = leak;
  const { row, gain } = update;
  let signature = 0;
  for (let i = 0; i < error.length; i++) signature += row[i]! * error[i]!;
  for (let i = 0; i < error.length; i++) error[i] = error[i]! - gain[i]! * signature;
  // What the filter gives back of its considered states.
  const { slope, heating, offsetRow, spanRow } = update.back;
  if (!(slope > 0)) return;
  const probe = error[PROBE]!;
  const shown = offsetRow * error[OFFSET]! + spanRow * error[SPAN]!;
  error[RHO] = error[RHO]! + (shown - heating * probe) / slope;
  for (const i of [WALL, GAS, ROOM]) error[i] = error[i]! + probe;
  error[OFFSET] = 0;
  error[SPAN] = 0;
  error[PROBE] = 0;
}

/** Content of the filter starts anew: what the loss did to it before is gone. */
export function restartLeak(leak: LeakState): void {
  leak.error.fill(0);
}

/** Another cylinder on the inlet: its joint is another. */
export function forgetLeak(leak: LeakState): void {
  restartLeak(leak);
  leak.since = null;
  leak.weight *= 0.1;
  leak.weighted *= 0.1;
}

/** Idle cylinder as it read over one block. */
export interface LeakReading {
  t: number;
  /** Moles at the mean pressure and the lagged probe temperature, and their 1 sigma of noise. */
  mol: number;
  noiseMol: number;
  /** 1 sigma of the probe's slow error in draughts, as learnt while gas flowed, K. */
  draughtK: number;
  /** Change of these moles for 1 K of the probe's error, and for 1 Pa of the sensor's. */
  molPerK: number;
  molPerPa: number;
  /** Sensor's range, Pa, and its body above 20 °C, K. */
  rangePa: number;
  bodyK: number;
  apartK: number;
  /** Part of the air that the probe shows, and its variance, as far as is known. */
  airShare: number;
  airVariance: number;
  loop: number;
  /** Temperature coefficient, Pa/K, and half-width, Pa, as known before the spell; variances. */
  coefficient: number;
  coefficientVariance: number;
  halfWidth: number;
  halfWidthVariance: number;
}

/** Ends the spell and adds what it found to the sum. */
export function endIdle(state: LeakState): void {
  if (state.since !== null && state.p[0]! > 0 && state.t - state.since > SETTLE_S + 3600) {
    const variance = state.p[RATE]!;
    // Leaks come and go with fittings: old evidence fades to half with each long spell.
    state.weight = 0.5 * state.weight + 1 / variance;
    state.weighted = 0.5 * state.weighted + state.x[1]! / variance;
  }
  state.since = null;
}

/**
 * Collects readings into blocks: steps of a coarse probe would look
 * like evidence one by one, and the mean over ten minutes says as much.
 *
 * @returns the means of a block that is full, else null
 */
export function collect(
  state: LeakState,
  t: number,
  wallK: number,
  { pa, bodyK, apartK, loop }: Omit<Block, "gasK">,
): ({ count: number } & Block) | null {
  const { block } = state;
  if (state.since === null) {
    state.since = t;
    state.t = t;
    state.gasK = wallK;
    state.p[0] = 0;
    block.count = 0;
  }
  // What was read before a pause and after it is no mean of ten minutes.
  if (t - state.t > PAUSE_S) block.count = 0;
  // The gas follows the wall with its own time constant.
  const dt = Math.min(Math.max(t - state.t, 0), 600);
  state.t = t;
  state.gasK =
    (state.gasK ?? wallK) + (wallK - (state.gasK ?? wallK)) * (1 - Math.exp(-dt / state.lagS));
  if (t - state.since < SETTLE_S) return null;
  state.hours += dt / 3600;
  if (block.count === 0)
    Object.assign(block, { since: t, pa: 0, gasK: 0, bodyK: 0, apartK: 0, loop: 0 });
  block.count++;
  block.pa += pa;
  block.gasK += state.gasK;
  block.bodyK += bodyK;
  block.apartK += apartK;
  block.loop += loop;
  if (t - block.since < BLOCK_S) return null;
  const { count } = block;
  block.count = 0;
  const mean = (sum: number): number => sum / count;
  return {
    count,
    pa: mean(block.pa),
    gasK: mean(block.gasK),
    bodyK: mean(block.bodyK),
    apartK: mean(block.apartK),
    loop: mean(block.loop),
  };
}

/** States of a spell's filter, and the place of the rate's variance. */
const N = 6;
const RATE = N + 1;

/** Takes in a block of the idle spell. @param molPerLpm mol/s of 1 L/min */
export function takeIdle(state: LeakState, reading: LeakReading, molPerLpm: number): void {
  const { t, mol, molPerK, molPerPa, noiseMol } = reading;
  const { x, p } = state;
  // Probe's slow error and the sensor's together, as a temperature.
  const slow = PROBE_SIGMA_K ** 2 + ((SENSOR_SHARE * reading.rangePa * molPerPa) / molPerK) ** 2;
  if (p[0] === 0) {
    state.baseMol = mol;
    state.baseBodyK = reading.bodyK;
    x.fill(0);
    x[3] = reading.coefficient;
    p.fill(0);
    x[4] = reading.airShare;
    x[5] = reading.halfWidth;
    const first = [
      (0.02 * mol) ** 2 + 1,
      (FIRST_LPM * molPerLpm) ** 2,
      slow,
      Math.max(reading.coefficientVariance, 1),
      reading.airVariance,
      Math.max(reading.halfWidthVariance, 1),
    ];
    for (let i = 0; i < N; i++) p[(N + 1) * i] = first[i]!;
    state.blockT = t;
  }
  const dt = t - state.blockT;
  const draught = dt > 0 && dt < BLOCK_S + PAUSE_S ? NEXT_BLOCK : FIRST_BLOCK;
  if (dt > 0) {
    state.blockT = t;
    const fade = Math.exp(-dt / PROBE_TIME_S);
    x[0] = x[0]! + dt * x[1]!;
    x[2] = x[2]! * fade;
    for (let k = 0; k < N; k++) p[k] = p[k]! + dt * p[N + k]!;
    for (let k = 0; k < N; k++) p[N * k] = p[N * k]! + dt * p[N * k + 1]!;
    for (let k = 0; k < N; k++) p[2 * N + k] = p[2 * N + k]! * fade;
    for (let k = 0; k < N; k++) p[N * k + 2] = p[N * k + 2]! * fade;
    p[2 * N + 2] = p[2 * N + 2]! + slow * (1 - fade * fade);
  }
  // Moles read = moles + molPerK * probe's errors + molPerPa * coefficient * body's way.
  const body = reading.bodyK - state.baseBodyK;
  const row = [1, 0, molPerK, molPerPa * body, molPerK * reading.apartK, molPerPa * reading.loop];
  const h = [0, 0, 0, 0, 0, 0];
  let spread = noiseMol ** 2 + draught * (reading.draughtK * molPerK) ** 2;
  let expected = 0;
  for (let i = 0; i < N; i++) {
    for (let j = 0; j < N; j++) h[i] = h[i]! + p[N * i + j]! * row[j]!;
    spread += row[i]! * h[i]!;
    expected += row[i]! * x[i]!;
  }
  const innovation = mol - state.baseMol - expected;
  if (innovation * innovation > 36 * spread) return;
  for (let i = 0; i < N; i++) x[i] = x[i]! + (h[i]! / spread) * innovation;
  for (let i = 0; i < N; i++) {
    for (let j = 0; j < N; j++) p[N * i + j] = p[N * i + j]! - (h[i]! * h[j]!) / spread;
    p[(N + 1) * i] = Math.max(p[(N + 1) * i]!, 1e-24);
  }
}

/** Information on the loss, and information times loss (positive), of all idle spells. */
function evidence(state: LeakState): { weight: number; match: number } {
  let { weight, weighted } = state;
  if (state.since !== null && state.p[0]! > 0) {
    weight += 1 / state.p[RATE]!;
    weighted += state.x[1]! / state.p[RATE]!;
  }
  return { weight, match: -weighted };
}

/**
 * Reckons the loss anew, mean and 1 sigma of the two-part prior's posterior, never below 0.
 *
 * @param molPerLpm mol/s of 1 L/min
 * @returns the change of the loss, mol/s
 */
export function reckonLeak(leak: LeakState, molPerLpm: number): number {
  const { weight, match } = evidence(leak);
  const part = (sigma: number): { mean: number; variance: number; log: number } => {
    const variance = 1 / (weight + 1 / sigma ** 2);
    const mean = match * variance;
    return { mean, variance, log: 0.5 * match * mean + 0.5 * Math.log(variance / sigma ** 2) };
  };
  const tight = part(TIGHT_LPM * molPerLpm);
  const wide = part(LEAKING_LPM * molPerLpm);
  // A loss is no gain: the wide part counts only where it points to a loss.
  const odds = (1 - LEAKING_SHARE) / LEAKING_SHARE;
  const share = wide.mean > 0 ? 1 / (1 + odds * Math.exp(Math.min(tight.log - wide.log, 300))) : 0;
  const between = share * (1 - share) * (wide.mean - tight.mean) ** 2;
  leak.sigmaMolPerS = Math.sqrt(
    share < LIKELY
      ? tight.variance
      : share * wide.variance + (1 - share) * tight.variance + between,
  );
  const before = leak.molPerS;
  leak.molPerS = Math.max(0, share * wide.mean + (1 - share) * tight.mean);
  return leak.molPerS - before;
}

/** Loss (positive) that the readings alone show, mol/s, with 1 sigma; null while not judged. */
export function cylinderLeak(
  leak: LeakState,
  molPerLpm: number,
): { rate: number; sigma: number } | null {
  const { weight, match } = evidence(leak);
  if (!(weight > 0)) return null;
  const sigma = 1 / Math.sqrt(weight);
  return sigma > TOLD_LPM * molPerLpm ? null : { rate: match / weight, sigma };
}

/** The part of the output line. */
export function leakEstimate(leak: LeakState, molPerLpm: number): LeakEstimate {
  const found = cylinderLeak(leak, molPerLpm);
  if (found === null) {
    return {
      litresPerMinute: null,
      side: null,
      tested: "none",
      why: "the cylinder was not idle for long enough yet",
    };
  }
  const rate = found.rate / molPerLpm;
  const sigma = found.sigma / molPerLpm;
  const leaks = rate > FOUND_SIGMAS * sigma && rate > 0.02;
  return {
    litresPerMinute: Number(Math.max(0, rate).toPrecision(3)),
    // Nothing found is no loss for certain: among many nights some noise points to one.
    low: leaks ? Number(Math.max(0, rate - 1.96 * sigma).toPrecision(3)) : 0,
    high: Number(Math.max(0.001, rate + 1.96 * sigma).toPrecision(3)),
    // With the valve open a loss before the seat and one behind it look alike.
    side: leaks ? "unknown" : null,
    tested: "cylinder",
  };
}
