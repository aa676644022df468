import type { ReferenceName } from "../units/reference-conditions.ts";

/** `set`: dialled for this reading; `left`: nothing was touched; `redialled`: turned again. */
export type BenchAction = "set" | "left" | "redialled";

/** One row of a bench test. Pressures are gauge Pa; flows standard m³/s (`metric20`). */
export interface BenchReading {
  /** Counted from 1, as a person counts rows without the heading. */
  row: number;
  cylinderPa: number;
  /** At the station's line tap; null where it was not measured. */
  linePa: number | null;
  /** What the scale showed, on the device's own gas; null where it was not read. */
  indicatedM3PerS: number | null;
  /** Standard uncertainty of the reading, relative. */
  indicatedSigma: number;
  /** What a calibrated meter showed; null where none was read. */
  trueM3PerS: number | null;
  /** Standard uncertainty of the meter (1 sigma), relative, independent from row to row. */
  trueSigma: number;
  /** Standard uncertainty shared by all rows of this test, relative: reference or gas unknown. */
  trueSharedSigma: number;
  action: BenchAction;
  /** Gas temperature, K; null where not noted. */
  ambientK: number | null;
  /** Barometer, absolute Pa; null where not noted. */
  atmospherePa: number | null;
  /** Pressure drop of the meter in the gas's way, Pa. */
  meterDropPa: number;
}

/** How values were recorded, for asking "was this really …?". */
export interface BenchTest {
  readings: BenchReading[];
  /** Rows that cannot be used, and why. */
  refused: { row: number; line: number; why: string }[];
  /** What should be asked of whoever made the test. */
  questions: string[];
  /** Reference conditions named in the test; null where none was named. */
  references: ReferenceName[] | null;
  /** A row leaves them out although the column is there. */
  referenceMissing: boolean;
  /** A row's meter is calibrated for another gas than the one that flows. */
  otherMeterGas: boolean;
}
