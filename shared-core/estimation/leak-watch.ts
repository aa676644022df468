import type { LeakEstimate } from "./estimate.ts";

/**
 * Standing loss while nothing flows, from temperature-compensated density: a Kalman filter of
 * three states over one idle spell (density, its rate, the probe's slow error), and the sum of
 * past spells. Pressure noise averages out in minutes; what limits is the probe, whose slow error
 * is a first-order Gauss-Markov process, so that the interval is honest after one hour and after
 * ten.
 */
export interface LeakState {
  /** Start of the spell, Unix s; null while gas flows or nothing is known. */
  since: number | null;
  t: number;
  /** Density relative to the start mol/m³, rate mol/m³/s, probe's slow error K. */
  x: Float64Array;
  p: Float64Array;
  base: number;
  /** Gas temperature as the probe tells it, lagged, K. */
  gasK: number | null;
  /** Sum over past spells: information and information times rate. */
  weight: number;
  weighted: number;
  /** Idle hours behind it. */
  hours: number;
  /** Line: trend of its moles while shut in, Pa/s of pressure at constant temperature. */
  lineRate: number | null;
  lineSigma: number;
}

/** The gas needs this long to settle after a flow, s. */
const SETTLE_S = 900;
const PROBE_SIGMA_K = 0.18;
const PROBE_TIME_S = 3 * 3600;
/** Sensor's own slow error (hysteresis, drift of a body that follows the day), relative to range. */
const SENSOR_SHARE = 0.00025;

export function createLeak(): LeakState {
  return {
    since: null,
    t: 0,
    x: new Float64Array(3),
    p: new Float64Array(9),
    base: 0,
    gasK: null,
    weight: 0,
    weighted: 0,
    hours: 0,
    lineRate: null,
    lineSigma: 0,
  };
}

/** Idle cylinder as it reads now. */
export interface LeakReading {
  t: number;
  /** Density of the read pressure at the lagged probe temperature, mol/m³. */
  rho: number;
  /** d(rho)/dT at constant pressure, mol/m³/K (negative). */
  rhoPerK: number;
  /** Noise of rho, 1 sigma, and the sensor's range as a density. */
  noise: number;
  rangeRho: number;
}

/** Ends the spell and adds what it found to the sum. */
export function endIdle(state: LeakState): void {
  if (state.since !== null && state.t - state.since > SETTLE_S + 3600) {
    const variance = state.p[4]!;
    // Leaks come and go with fittings: old evidence fades to half with each long spell.
    state.weight = 0.5 * state.weight + 1 / variance;
    state.weighted = 0.5 * state.weighted + state.x[1]! / variance;
  }
  state.since = null;
}

export function takeIdle(state: LeakState, reading: LeakReading): void {
  const { t, rho, rhoPerK, noise } = reading;
  if (state.since === null) {
    state.since = t;
    state.t = t;
    return;
  }
  if (t - state.since < SETTLE_S) {
    state.t = t;
    state.p[0] = 0;
    return;
  }
  const { x, p } = state;
  if (p[0] === 0) {
    state.base = rho;
    x.fill(0);
    p.fill(0);
    p[0] = (0.02 * rho + 10) ** 2;
    // Any leak that anybody would call one: some litres a minute.
    p[4] = (0.002 * rho + 1) ** 2 / 600 ** 2;
    p[8] = PROBE_SIGMA_K ** 2 + ((SENSOR_SHARE * reading.rangeRho) / rhoPerK) ** 2;
    state.t = t;
  }
  const dt = t - state.t;
  if (dt > 0) {
    state.t = t;
    const fade = Math.exp(-dt / PROBE_TIME_S);
    x[0] = x[0]! + dt * x[1]!;
    x[2] = x[2]! * fade;
    const p01 = p[1]! + dt * p[4]!;
    p[0] = p[0]! + 2 * dt * p[1]! + dt * dt * p[4]!;
    p[1] = p01;
    p[3] = p01;
    const p02 = (p[2]! + dt * p[5]!) * fade;
    p[2] = p02;
    p[6] = p02;
    p[5] = p[5]! * fade;
    p[7] = p[5]!;
    const slow = PROBE_SIGMA_K ** 2 + ((SENSOR_SHARE * reading.rangeRho) / rhoPerK) ** 2;
    p[8] = p[8]! * fade * fade + slow * (1 - fade * fade);
    state.hours += Math.min(dt, 900) / 3600;
  }
  // rho read = rho true + rhoPerK * probe error.
  const h0 = p[0]! + rhoPerK * p[2]!;
  const h1 = p[1]! + rhoPerK * p[5]!;
  const h2 = p[2]! + rhoPerK * p[8]!;
  const spread = h0 + rhoPerK * h2 + noise * noise;
  const innovation = rho - state.base - x[0]! - rhoPerK * x[2]!;
  if (innovation * innovation > 36 * spread) return;
  const h = [h0, h1, h2];
  for (let i = 0; i < 3; i++) x[i] = x[i]! + (h[i]! / spread) * innovation;
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) p[i * 3 + j] = p[i * 3 + j]! - (h[i]! * h[j]!) / spread;
    p[i * 4] = Math.max(p[i * 4]!, 1e-20);
  }
}

/** Leak (positive) of the cylinder side, mol/m³/s, with 1 sigma; null while not judged. */
export function cylinderLeak(state: LeakState): { rate: number; sigma: number } | null {
  let weight = state.weight;
  let weighted = state.weighted;
  if (state.since !== null && state.t - state.since > SETTLE_S + 1200 && state.p[4]! > 0) {
    weight += 1 / state.p[4]!;
    weighted += state.x[1]! / state.p[4]!;
  }
  if (!(weight > 0)) return null;
  return { rate: -weighted / weight, sigma: Math.sqrt(1 / weight) };
}

/** The part of the output line. @param litresPerMinute per mol/m³/s of density */
export function leakEstimate(
  state: LeakState,
  litresPerMinute: number,
  lineLpm: { rate: number; sigma: number } | null,
): LeakEstimate {
  const cylinder = cylinderLeak(state);
  if (cylinder === null) {
    return {
      litresPerMinute: null,
      side: null,
      tested: lineLpm === null ? "none" : "line",
      why: "the cylinder was not idle for long enough yet",
    };
  }
  const rate = cylinder.rate * litresPerMinute;
  const sigma = cylinder.sigma * litresPerMinute;
  // A night is one trial: 2.6 sigma is one false call in some two hundred nights.
  const found = rate > 2.6 * sigma && rate > 0.02;
  let side: LeakEstimate["side"] = null;
  if (found) {
    // A line that falls on its own while the regulator feeds it looks like a leak before the seat.
    side = "unknown";
    if (lineLpm !== null && lineLpm.rate > 3 * lineLpm.sigma) side = "line";
  }
  return {
    litresPerMinute: Number((found ? rate : Math.max(0, rate)).toPrecision(3)),
    low: Number(Math.max(0, rate - 1.96 * sigma).toPrecision(3)),
    high: Number(Math.max(0.001, rate + 1.96 * sigma).toPrecision(3)),
    side,
    tested: lineLpm === null ? "cylinder" : "both",
  };
}
