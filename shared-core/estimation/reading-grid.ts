/**
 * A pressure that is told in whole steps: while it rests between two of them its error stays the same
 * from reading to reading, so that many equal ones know no more than one.
 */
export interface ReadingGrid {
  /** Smallest step seen between two readings, Pa; 0 until one was. */
  stepPa: number;
  lastPa: number;
  /** Readings since the last step. */
  same: number;
}

/** Readings that count as one at most: by then the cylinder may have moved within the step. */
const MOST_SAME = 60;

export function createReadingGrid(): ReadingGrid {
  return { stepPa: 0, lastPa: 0, same: 0 };
}

/**
 * Takes in a reading, Pa.
 *
 * @returns variance that the steps leave in it beside its noise, Pa²: rounding to a step is a uniform error
 *   of step/√12 (JCGM 100:2008, 4.3.7), which every further equal reading repeats
 */
export function takeOnGrid(grid: ReadingGrid, readingPa: number): number {
  const change = Math.abs(readingPa - grid.lastPa);
  const first = grid.lastPa === 0;
  grid.lastPa = readingPa;
  if (first) return 0;
  if (change > 0) {
    grid.stepPa = grid.stepPa === 0 ? change : Math.min(grid.stepPa, change);
    grid.same = 0;
    return 0;
  }
  grid.same = Math.min(grid.same + 1, MOST_SAME);
  return (grid.stepPa ** 2 / 12) * grid.same ** 2;
}
