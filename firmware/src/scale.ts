/** A scale under the cylinder: mass in kg from the counts of its converter, gross. */
import { noFault, openCircuit, outOfRange } from "./measure.ts";
import type { ScaleCalibration } from "./node-config.ts";
import type { Ports } from "./ports.ts";

export interface Scale {
  /** False where none is fitted. */
  there: boolean;
  /** Smoothed counts; only where `known`. */
  counts: number;
  known: boolean;
  fault: number;
  doubtful: number;
}

export function createScale(): Scale {
  return { there: false, counts: 0, known: false, fault: noFault, doubtful: 0 };
}

/** Counts of `Ports.readScale` for "fitted, does not answer". */
export const scaleSilent = -1000000000;
const doubtfulReads = 3;
const smoothing = 8;
// Beyond this of what it was calibrated with the load cell or its wiring is no longer believed.
const lowestKg = -5;
const highestKg = 500;

/** Gross mass, kg; only where the scale is calibrated and `known`. */
export function massOf(scale: Scale, calibration: ScaleCalibration): number {
  return (scale.counts - calibration.lowReads) * calibration.kgPerCount + calibration.lowIsKg;
}

/** Reads the scale; once a second. A load that changes at a stroke is followed at once. */
export function readScale(ports: Ports, scale: Scale, calibration: ScaleCalibration): void {
  const counts = ports.readScale?.();
  scale.there = counts !== undefined;
  if (counts === undefined) return;
  let seen = counts === scaleSilent ? openCircuit : noFault;
  if (seen === noFault) {
    const change = (counts - scale.counts) * calibration.kgPerCount;
    const jumped = !scale.known || change > 1 || change < -1;
    scale.counts = jumped ? counts : scale.counts + (counts - scale.counts) / smoothing;
    const kg = massOf(scale, calibration);
    if (calibration.kgPerCount !== 0 && (kg < lowestKg || kg > highestKg)) seen = outOfRange;
  }
  scale.doubtful = seen === noFault ? 0 : scale.doubtful + 1;
  scale.known = seen !== openCircuit;
  if (seen === noFault) scale.fault = noFault;
  else if (scale.doubtful >= doubtfulReads) scale.fault = seen;
}

/** Mass as a pack carries it: kg with two decimals, "" where there is none. */
export function massText(scale: Scale, calibration: ScaleCalibration): string {
  const sound = scale.there && scale.known && scale.doubtful === 0 && scale.fault === noFault;
  if (!sound || calibration.kgPerCount === 0) return "";
  return string.format("%.2f", massOf(scale, calibration));
}
