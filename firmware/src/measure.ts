/**
 * From raw readings to gauge pressure: five readings a turn, the outermost two dropped, ratio to
 * the transducers' supply, two-point calibration, and the faults that a channel can show by itself.
 */
import { faultWord } from "../../shared-core/messages/wire-names.ts";
import type { Calibration } from "./node-config.ts";
import type { AdcChannel, Ports } from "./ports.ts";

/** Fault of a channel: 0 none; index into `faultNames` otherwise. */
export const faultNames: readonly string[] = [
  "",
  faultWord.openCircuit,
  faultWord.shortCircuit,
  faultWord.outOfRange,
  faultWord.stuck,
  faultWord.noisy,
];
export const noFault = 0;
export const openCircuit = 1;
export const shortCircuit = 2;
export const outOfRange = 3;
export const stuck = 4;
export const noisy = 5;

/** True where a fault takes the place of the channel's value. */
export function replacesValue(fault: number): boolean {
  return fault >= openCircuit && fault <= outOfRange;
}

/** The middle of five readings: mean of the three between the extremes, and their spread. */
export interface Burst {
  answered: boolean;
  meanUv: number;
  spreadUv: number;
  /** All five alike: what a converter or a wire that hangs looks like. */
  flat: boolean;
}

/** Reads a channel's burst into `into`. A spike in one reading out of five leaves no trace. */
export function readBurst(ports: Ports, channel: AdcChannel, into: Burst): void {
  const [a, b, c, d, e] = ports.readAdc(channel);
  if (a === undefined || b === undefined || c === undefined || d === undefined || e === undefined) {
    into.answered = false;
    return;
  }
  const low = Math.min(a, b, c, d, e);
  const high = Math.max(a, b, c, d, e);
  into.answered = true;
  into.meanUv = (a + b + c + d + e - low - high) / 3;
  into.flat = low === high;
  into.spreadUv = middleSpread(a, b, c, d, e, low, high);
}

/** Range of the three readings that remain when one lowest and one highest are taken away. */
function middleSpread(
  a: number,
  b: number,
  c: number,
  d: number,
  e: number,
  low: number,
  high: number,
): number {
  let lowLeft = 1;
  let highLeft = 1;
  let least = high;
  let most = low;
  for (let index = 1; index <= 5; index++) {
    const value = index === 1 ? a : index === 2 ? b : index === 3 ? c : index === 4 ? d : e;
    if (value === low && lowLeft > 0) {
      lowLeft -= 1;
    } else if (value === high && highLeft > 0) {
      highLeft -= 1;
    } else {
      least = Math.min(least, value);
      most = Math.max(most, value);
    }
  }
  return most >= least ? most - least : 0;
}

/** One pressure channel's state, its latest burst included. */
export interface PressureChannel extends Burst {
  channel: AdcChannel;
  fault: number;
  /** Latest gauge pressure, whole pascals; only where `fault` leaves a value. */
  pressurePa: number;
  /** Turns in a row that showed `candidate`. */
  candidate: number;
  candidateTurns: number;
  /** Share of noisy turns, in 0 … 40. */
  noiseScore: number;
  /** Raw level of the last change, and how long nothing has changed. */
  flatUv: number;
  flatSinceS: number;
}

export function createChannel(channel: AdcChannel): PressureChannel {
  return {
    channel,
    answered: false,
    meanUv: 0,
    spreadUv: 0,
    flat: false,
    fault: noFault,
    pressurePa: 0,
    candidate: noFault,
    candidateTurns: 0,
    noiseScore: 0,
    flatUv: -1,
    flatSinceS: 0,
  };
}

// Ratiometric transducers give 10 … 90 % of their supply; wires that break or touch leave 5 … 95 %.
const openBelow = 0.05;
const shortAbove = 0.95;
const pressureBelow = -0.025; // of range: below any offset within class
const pressureAbove = 1.05;
const setTurns = 2;
const clearTurns = 8;
const noisySpread = 0.016; // of the supply: 2 % of range within a quarter of a second
const noisyScore = 24; // of 40
const leastSupplyUv = 4000000;
const stuckAfterS = 1800;

function judge(burst: Burst, supplyUv: number, share: number, ratio: number): number {
  if (!burst.answered || supplyUv <= 0) return openCircuit;
  if (supplyUv < leastSupplyUv) return outOfRange;
  if (ratio < openBelow) return openCircuit;
  if (ratio > shortAbove) return shortCircuit;
  return share < pressureBelow || share > pressureAbove ? outOfRange : noFault;
}

function settle(state: PressureChannel, seen: number): void {
  const current = replacesValue(state.fault) ? state.fault : noFault;
  if (seen === current) {
    state.candidateTurns = 0;
    return;
  }
  if (seen !== state.candidate) {
    state.candidate = seen;
    state.candidateTurns = 0;
  }
  state.candidateTurns += 1;
  if (state.candidateTurns >= (seen === noFault ? clearTurns : setTurns)) {
    state.fault = seen;
    state.candidateTurns = 0;
    state.noiseScore = 0;
  }
}

function watchNoise(state: PressureChannel, supplyUv: number): void {
  const loud = state.spreadUv > noisySpread * supplyUv;
  state.noiseScore = loud ? Math.min(40, state.noiseScore + 1) : Math.max(0, state.noiseScore - 1);
  if (state.fault === noFault && state.noiseScore >= noisyScore) state.fault = noisy;
  else if (state.fault === noisy && state.noiseScore === 0) state.fault = noFault;
}

/**
 * A transducer that lives always trembles by a step or two of the converter. One that shows the
 * very same five readings for half an hour while it is under pressure hangs.
 */
function watchStuck(state: PressureChannel, share: number, uptimeS: number): void {
  if (!state.flat || state.meanUv !== state.flatUv) {
    state.flatUv = state.meanUv;
    state.flatSinceS = uptimeS;
    if (state.fault === stuck) state.fault = noFault;
  } else if (state.fault === noFault && share > 0.02 && uptimeS - state.flatSinceS >= stuckAfterS) {
    state.fault = stuck;
  }
}

/**
 * Measures one channel. `supplyUv` is what the transducers are fed with. Returns true where the
 * channel has a value this turn (a doubtful turn that is not yet a fault keeps none).
 */
export function measure(
  ports: Ports,
  state: PressureChannel,
  calibration: Calibration,
  supplyUv: number,
  uptimeS: number,
): boolean {
  readBurst(ports, state.channel, state);
  const ratio = state.answered && supplyUv > 0 ? state.meanUv / supplyUv : 0;
  const share = (ratio - 0.1) / 0.8;
  const seen = judge(state, supplyUv, share, ratio);
  settle(state, seen);
  if (seen !== noFault || replacesValue(state.fault)) return false;
  watchNoise(state, supplyUv);
  watchStuck(state, share, uptimeS);
  const readsPa = share * calibration.rangePa;
  state.pressurePa = Math.floor(readsPa * calibration.gain + calibration.offsetPa + 0.5);
  return true;
}
