import type { BenchWords } from "./bench-words.ts";
import type { BenchDevice } from "./device-model.ts";
import {
  fitReadings,
  predictAtReading,
  predictRow,
  type ReadingsFit,
  type RowPrediction,
  stateOf,
} from "./fit-readings.ts";
import type { BenchReading } from "./readings.ts";
import { fileSuppositions, rowSuppositions } from "./suppositions.ts";

/** Below this chance the rows are held not to come from one simple device. */
export const LEAST_PROBABILITY = 0.01;
/** Above this chance a supposition counts as an explanation. */
const GOOD_PROBABILITY = 0.05;
const MOST_SUSPECTS = 3;

/** A row that the others speak against. */
export interface Suspect {
  row: number;
  /** What would make it fit, each an ending of "row 3 fits if …". */
  fitsIf: string[];
  /** What the device would show there, by the other rows. */
  prediction: RowPrediction | null;
}

export interface LackOfFit {
  /** Fit that stands: of all rows, or of those left after the suspects went. */
  fit: ReadingsFit;
  suspects: Suspect[];
  /** Other rows of which it could equally be the fault. */
  rivals: number[];
  /** What would make the whole file fit. */
  fileFitsIf: string[];
  /** False where the rows contradict each other and no few of them are to blame. */
  resolved: boolean;
}

export type LackOfFitAnswer = { ok: true; value: LackOfFit } | { ok: false; why: string };

/**
 * Fits the rows; where they cannot come from one device, finds the fewest rows whose absence
 * makes the rest agree, and what recording mistakes would explain them. Nothing is averaged away
 * and no supposition is applied.
 */
export function fitWithVerdict(
  device: BenchDevice,
  readings: readonly BenchReading[],
  words: BenchWords,
): LackOfFitAnswer {
  const first = fitReadings(device, readings);
  let fit = first.ok ? first.value : null;
  if (fit !== null && fit.probability >= LEAST_PROBABILITY) {
    return { ok: true, value: { fit, suspects: [], rivals: [], fileFitsIf: [], resolved: true } };
  }
  const fileFitsIf = fileSuppositions(readings, words)
    .filter((one) => probabilityOf(device, one.readings) > GOOD_PROBABILITY)
    .map((one) => one.text);

  let kept = [...readings];
  let rivals: number[] = [];
  const suspects: Suspect[] = [];
  const most = Math.min(MOST_SUSPECTS, Math.floor((readings.length - 1) / 2));
  while ((fit === null || fit.probability < LEAST_PROBABILITY) && suspects.length < most) {
    const step = worstRow(device, kept, words);
    if (step === null) break;
    if (suspects.length === 0) rivals = step.rivals;
    suspects.push({ row: step.row, fitsIf: step.fitsIf, prediction: null });
    kept = without(kept, step.row);
    const again = fitReadings(device, kept);
    fit = again.ok ? again.value : step.fit;
  }
  if (fit === null) return { ok: false, why: first.ok ? "the rows cannot be fitted" : first.why };
  if (fit.probability < LEAST_PROBABILITY) {
    // Too many rows disagree to say which: none is singled out, and nothing may rest on the fit.
    const whole = first.ok ? first.value : fit;
    return {
      ok: true,
      value: { fit: whole, suspects: [], rivals: [], fileFitsIf, resolved: false },
    };
  }
  const settled: LackOfFit = { fit, suspects, rivals, fileFitsIf, resolved: true };
  for (const suspect of settled.suspects) {
    suspect.prediction = predictSuspect(device, readings, fit, suspect.row);
  }
  return { ok: true, value: settled };
}

interface WorstRow {
  row: number;
  fit: ReadingsFit;
  fitsIf: string[];
  rivals: number[];
}

/** The row to blame: one that a plain mistake explains, else the one whose absence helps most. */
function worstRow(
  device: BenchDevice,
  readings: readonly BenchReading[],
  words: BenchWords,
): WorstRow | null {
  const candidates = readings.flatMap((reading, index) => {
    const answer = fitReadings(device, without(readings, reading.row), "quick");
    return answer.ok ? [{ reading, index, fit: answer.value }] : [];
  });
  const helping = candidates.filter((one) => one.fit.probability >= LEAST_PROBABILITY);
  const ranked = [...(helping.length > 0 ? helping : candidates)].sort(
    (a, b) => a.fit.chiSquared - b.fit.chiSquared,
  );
  // Only the likeliest are asked about: each question costs a fit.
  const pool = ranked.slice(0, MOST_SUSPECTS).map((one) => {
    const explains = rowSuppositions(readings, one.index, words)
      .map((guess) => ({ ...guess, probability: probabilityOf(device, guess.readings) }))
      .filter((guess) => guess.probability > GOOD_PROBABILITY)
      .sort((a, b) => Number(a.frees) - Number(b.frees) || b.probability - a.probability);
    return { ...one, explains, best: explains.find((guess) => !guess.frees)?.probability ?? 0 };
  });
  if (pool.length === 0) return null;
  const [worst] = [...pool].sort((a, b) => b.best - a.best || a.fit.chiSquared - b.fit.chiSquared);
  return {
    row: worst!.reading.row,
    fit: worst!.fit,
    fitsIf: worst!.explains.map((one) => one.text),
    rivals: helping
      .map((one) => one.reading)
      .filter(
        (one) => one.row !== worst!.reading.row && !merelyFrees(readings, one, worst!.reading),
      )
      .map((one) => one.row),
  };
}

/** True where a row's absence helps only because the suspect, left alone after it, stands free. */
function merelyFrees(
  readings: readonly BenchReading[],
  rival: BenchReading,
  suspect: BenchReading,
): boolean {
  const next = readings[readings.indexOf(rival) + 1];
  return rival.action !== "left" && suspect.action === "left" && next?.row === suspect.row;
}

/** Rows without one; what was left after a removed setting starts a setting of its own. */
function without(readings: readonly BenchReading[], row: number): BenchReading[] {
  const index = readings.findIndex((reading) => reading.row === row);
  const removed = readings[index];
  return readings.flatMap((reading, k) => {
    if (k === index) return [];
    const orphan = k === index + 1 && reading.action === "left" && removed?.action !== "left";
    return [orphan ? { ...reading, action: "redialled" as const } : reading];
  });
}

function probabilityOf(device: BenchDevice, readings: readonly BenchReading[]): number {
  const answer = fitReadings(device, readings, "quick");
  return answer.ok ? answer.value.probability : 0;
}

/**
 * What the other rows expect where a suspect stands: with the setting before it where it was left
 * alone, else at its own reading.
 */
function predictSuspect(
  device: BenchDevice,
  readings: readonly BenchReading[],
  fit: ReadingsFit,
  row: number,
): RowPrediction | null {
  const index = readings.findIndex((reading) => reading.row === row);
  const reading = readings[index];
  if (reading === undefined) return null;
  const earlier = readings.slice(0, index).map((one) => one.row);
  const before = fit.rows.filter((one) => earlier.includes(one.reading.row)).at(-1);
  if (reading.action === "left") {
    if (before === undefined) return null;
    const state = stateOf(device, fit.vector, fit.settings, before.setting);
    return predictRow(device, reading, state, before.setting);
  }
  const setting = (before ?? fit.rows[0])?.setting ?? 0;
  return predictAtReading(
    device,
    reading,
    stateOf(device, fit.vector, fit.settings, setting),
    setting,
  );
}
