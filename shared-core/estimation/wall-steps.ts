/**
 * A wall probe that tells whole steps only (half a kelvin, say) stands still while the wall cools:
 * its error is the same from reading to reading, so that many equal ones know no more than one. The
 * moment at which it steps is the sharper reading: then the wall is half-way between both.
 */
export interface WallSteps {
  /** Smallest step seen between two readings, K; 0 until one was. */
  stepK: number;
  lastK: number;
  /** Readings since the last step. */
  same: number;
}

// How a step is told from noise, and how long it stands: estimates without source. Rounding to a
// step is a uniform error of step/√12 (JCGM 100:2008, 4.3.7).

/** Finer steps drown in the noise, K. */
const COARSE_K = 0.15;
/** Taken for the step of a probe that has stood still for `STANDS` readings and never stepped, K. */
const UNSEEN_STEP_K = 0.5;
const STANDS = 10;
/** Readings that count as one at most: by then the wall may have moved within the step. */
const MOST_SAME = 30;
/** How well the moment of a step places the wall, part of the step, 1 sigma. */
const AT_STEP = 0.15;

export function createWallSteps(): WallSteps {
  return { stepK: 0, lastK: 0, same: 0 };
}

/**
 * Takes in a reading, K.
 *
 * @returns the temperature that it tells, K, and the error that the steps leave, 1 sigma, K
 */
export function takeStep(steps: WallSteps, kelvin: number): { kelvin: number; sigmaK: number } {
  const before = steps.lastK;
  const change = before === 0 ? 0 : Math.abs(kelvin - before);
  steps.lastK = kelvin;
  if (change > 1e-6) {
    steps.stepK = steps.stepK === 0 ? change : Math.min(steps.stepK, change);
    steps.same = 0;
  } else steps.same = Math.min(steps.same + 1, MOST_SAME);
  const unseen = steps.stepK === 0 && steps.same >= STANDS;
  const step = unseen ? UNSEEN_STEP_K : steps.stepK;
  if (step < COARSE_K) return { kelvin, sigmaK: 0 };
  if (change > 1e-6 && change < 1.5 * step) {
    return { kelvin: (kelvin + before) / 2, sigmaK: AT_STEP * step };
  }
  return { kelvin, sigmaK: (step / Math.sqrt(12)) * Math.sqrt(steps.same + 1) };
}
