import { BAR_PA, LITRE_PER_MINUTE_M3_PER_S } from "../units/factors.ts";
import type { BenchWords } from "./bench-words.ts";
import { type BenchDevice, COVERAGE_95, type Surroundings, setsPressure } from "./device-model.ts";
import { outletGaugePa, readingAt, throttlingDropK } from "./device-operation.ts";
import { dialPressure } from "./dial-pressure.ts";
import { type ReadingsFit, ROOM_K, stateOf } from "./fit-readings.ts";
import { relativeSigma } from "./relative-sigma.ts";

/** What to dial at one cylinder pressure so that the true flow meets the target. */
export interface CardEntry {
  /** Gauge. */
  cylinderBar: number;
  /** In the unit printed on the device; null where the target cannot be reached. */
  dialTo: number | null;
  /** 95 % interval of the right reading. */
  low?: number;
  high?: number;
  unit: "CFH" | "L/min";
  why?: string;
  /** A caution beside a figure, such as a pressure that no row tested. */
  note?: string;
}

/** Wider than this (relative half-width) no figure is given. */
const WIDEST = 0.3;
/** What a straight-line regulator and one temperature miss of a real one (own estimate, no source). */
export const MODEL_SIGMA = 0.003;
/** A regulator needs this much more in the cylinder than in the line, Pa (own estimate, no source). */
const LEAST_HEADROOM_PA = 1.5 * BAR_PA;

/** Entries for cylinder pressures (gauge Pa), with the covariance of the fit carried through. */
export function dialCard(input: {
  device: BenchDevice;
  fit: ReadingsFit;
  words: BenchWords;
  targetLpm: number;
  pressuresPa: readonly number[];
  /** Widens every interval where the rows scatter more than they should. */
  inflation: number;
}): CardEntry[] {
  const tested = input.fit.rows.map((row) => row.reading.cylinderPa);
  const lowest = Math.min(...tested);
  const highest = Math.max(...tested);
  return input.pressuresPa.map((cylinderPa) => {
    const entry = cardEntry({ ...input, cylinderPa });
    const span = Math.max(highest - lowest, 0.05 * highest);
    if (
      entry.dialTo !== null &&
      (cylinderPa < lowest - 0.1 * span || cylinderPa > highest + 0.1 * span)
    ) {
      entry.note = `not tested ${cylinderPa < lowest ? "below" : "above"} ${input.words.pressure(cylinderPa < lowest ? lowest : highest)}`;
    }
    return entry;
  });
}

function cardEntry(input: {
  device: BenchDevice;
  fit: ReadingsFit;
  words: BenchWords;
  targetLpm: number;
  cylinderPa: number;
  inflation: number;
}): CardEntry {
  const { device, fit, words, cylinderPa } = input;
  const none = (why: string): CardEntry => ({
    cylinderBar: cylinderPa / BAR_PA,
    dialTo: null,
    unit: words.flowUnit,
    why,
  });
  const targetM3PerS = input.targetLpm * LITRE_PER_MINUTE_M3_PER_S;
  const molPerS = targetM3PerS * device.standardMolPerM3;
  const at: Surroundings = {
    cylinderPa,
    temperatureK: ROOM_K,
    atmospherePa: device.atmospherePa,
    meterDropPa: 0,
    throttlingDropK: throttlingDropK(device.mixture, cylinderPa, ROOM_K),
  };
  const last = fit.settings.length - 1;
  const reading = (vector: readonly number[]): number | null => {
    const state = stateOf(device, vector, fit.settings, last);
    if (setsPressure(device))
      return dialPressure(device, state, at, molPerS)?.readingM3PerS ?? null;
    return readingAt(device, state, at, molPerS).indicatedM3PerS;
  };
  const state = stateOf(device, fit.vector, fit.settings, last);
  const needed = setsPressure(device) ? dialPressure(device, state, at, molPerS) : null;
  if (setsPressure(device) && needed === null) return none("no line pressure passes the target");
  const lineGaugePa = needed?.gaugePa ?? outletGaugePa(device, state, at, molPerS);
  const { hosePa } = readingAt(device, state, at, molPerS);
  if (device.tube !== null || setsPressure(device)) {
    if (lineGaugePa + device.atmospherePa < hosePa * 1.05) {
      return none(
        `the regulator sags to ${words.pressure(Math.max(0, lineGaugePa))}: it cannot pass the target any more. Change the cylinder.`,
      );
    }
    if (cylinderPa < lineGaugePa + LEAST_HEADROOM_PA) {
      return none(
        `the cylinder is too near the line pressure of ${words.pressure(lineGaugePa)} for the regulator to hold it. Change the cylinder.`,
      );
    }
  }
  const value = reading(fit.vector);
  if (value === null || !(value > 0)) return none("the device has no reading for the target");
  const sigma = Math.hypot(relativeSigma(reading, fit, value) * input.inflation, MODEL_SIGMA);
  const half = COVERAGE_95 * sigma;
  if (device.scaleMaxM3PerS !== null && value > device.scaleMaxM3PerS * 1.001) {
    return none(
      `the target needs a reading of ${words.flow(value)}, above the top of the scale (${words.flow(device.scaleMaxM3PerS)}). Change the cylinder or the device.`,
    );
  }
  if (device.scaleMinM3PerS !== null && value < device.scaleMinM3PerS * 0.999) {
    return none(
      `the target needs a reading of ${words.flow(value)}, below the scale's first mark (${words.flow(device.scaleMinM3PerS)}). Use a device for less flow.`,
    );
  }
  if (!(half < WIDEST)) {
    return none(
      `known only to ± ${(half * 100).toFixed(0)} %: measure at or near ${words.pressure(cylinderPa)}`,
    );
  }
  return {
    cylinderBar: cylinderPa / BAR_PA,
    dialTo: words.reading(value),
    low: words.reading(value * Math.exp(-half)),
    high: words.reading(value * Math.exp(half)),
    unit: words.flowUnit,
  };
}
