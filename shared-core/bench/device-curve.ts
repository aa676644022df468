import { BAR_PA, LITRE_PER_MINUTE_M3_PER_S } from "../units/factors.ts";
import {
  type BenchDevice,
  COVERAGE_95,
  type DeviceState,
  type Surroundings,
  setsPressure,
} from "./device-model.ts";
import { flowAtReading, operate, throttlingDropK } from "./device-operation.ts";
import { MODEL_SIGMA } from "./dial-card.ts";
import { dialPressure } from "./dial-pressure.ts";
import { type ReadingsFit, ROOM_K, stateOf } from "./fit-readings.ts";
import { relativeSigma } from "./relative-sigma.ts";

/** A share in percent with its 95 % interval. */
export interface CurveFigure {
  percent: number;
  low: number;
  high: number;
}

/** How a device errs at one cylinder pressure; null where it has no such flow or it is not known. */
export interface CurvePoint {
  /** Gauge. */
  cylinderBar: number;
  /** True flow above the target while the device shows the target. */
  error: CurveFigure | null;
  /** True flow above the target where it was right at full and nothing was touched since. */
  leftAlone: CurveFigure | null;
}

/** What a straight-line regulator misses from full down to one pressure (own estimate, no source). */
const LEFT_ALONE_SIGMA = 0.008;
/** Wider than this (half-width, percent) no figure is given. */
const WIDEST = 30;

/**
 * The two errors of a device against cylinder pressure (gauge Pa): dialled back to the mark, and
 * left alone since the cylinder was full.
 *
 * @param inflation widens every interval where the rows scatter more than they should
 */
export function deviceCurve(input: {
  device: BenchDevice;
  fit: ReadingsFit;
  targetLpm: number;
  pressuresPa: readonly number[];
  inflation: number;
}): CurvePoint[] {
  const { device, fit, inflation } = input;
  const targetM3PerS = input.targetLpm * LITRE_PER_MINUTE_M3_PER_S;
  const targetMolPerS = targetM3PerS * device.standardMolPerM3;
  const last = fit.settings.length - 1;
  const state = (vector: readonly number[]) => stateOf(device, vector, fit.settings, last);
  const surroundings = input.pressuresPa.map((pressure) => settledAt(device, pressure));
  const full = settledAt(device, device.fullPa);
  const figure = (
    modelSigma: number,
    molPerS: (vector: readonly number[]) => number | null,
  ): CurveFigure | null => {
    const value = molPerS(fit.vector);
    if (value === null || !(value > 0)) return null;
    const sigma = Math.hypot(relativeSigma(molPerS, fit, value) * inflation, modelSigma);
    const percent = (flow: number) => (flow / targetMolPerS - 1) * 100;
    const half = COVERAGE_95 * sigma;
    if (!(half * 100 < WIDEST)) return null;
    return {
      percent: percent(value),
      low: percent(value * Math.exp(-half)),
      high: percent(value * Math.exp(half)),
    };
  };
  return surroundings.map((at) => ({
    cylinderBar: at.cylinderPa / BAR_PA,
    error: figure(MODEL_SIGMA, (vector) => flowAtReading(device, state(vector), at, targetM3PerS)),
    leftAlone: figure(LEFT_ALONE_SIGMA, (vector) => {
      const set = setRight(device, state(vector), full, targetMolPerS);
      return set && operate(device, set, at).molPerS;
    }),
  }));
}

function settledAt(device: BenchDevice, cylinderPa: number): Surroundings {
  return {
    cylinderPa,
    temperatureK: ROOM_K,
    atmospherePa: device.atmospherePa,
    meterDropPa: 0,
    throttlingDropK: throttlingDropK(device.mixture, cylinderPa, ROOM_K),
  };
}

/** The device turned until the flow is right; null where no setting passes it. */
function setRight(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  molPerS: number,
): DeviceState | null {
  if (setsPressure(device)) {
    const needed = dialPressure(device, state, at, molPerS);
    if (needed === null) return null;
    return { ...state, setting: needed.gaugePa, setAtPa: at.cylinderPa, setMolPerS: molPerS };
  }
  let set = state;
  // Flow goes nearly as the valve's opening, so a few proportional steps are enough.
  for (let k = 0; k < 30; k++) {
    const passes = operate(device, set, at).molPerS;
    const step = Math.log(molPerS / passes);
    if (Math.abs(step) < 1e-9) return set;
    set = { ...set, setting: set.setting + step };
  }
  return null;
}
