import { type Result, requireWithin, toResult } from "../errors.ts";

/**
 * The shielding jet between nozzle and work.
 *
 * A round jet leaves a core of unmixed gas that ends about 5 to 6 bores away when turbulent from
 * the start (textbook: potential core of a free round jet, near 5 bores). A laminar jet keeps its
 * core until it turns turbulent at a distance that shrinks as the Reynolds number grows.
 */
export const jetSource = "rajaratnam-1976";

/** Length of the unmixed core of a turbulent round jet, in bores. */
export const CORE_BORES = 5;

/**
 * Distance to transition times Reynolds number, in bores: a free laminar jet breaks up near
 * x/d = 10 at Re = 2000 to 3000 and near the exit above 10^4 (order of magnitude, from memory of
 * textbook photographs; no closer source).
 */
const TRANSITION_BORES_TIMES_REYNOLDS = 25_000;

export type JetAtWork = Readonly<{
  /** Distance from the nozzle at which the jet turns turbulent, m. */
  transitionM: number;
  /** Distance at which the unmixed core ends, m. */
  coreM: number;
  /** Still laminar where it meets the work. */
  laminarAtWork: boolean;
  /** The work lies inside the unmixed core. */
  workInCore: boolean;
  /**
   * Velocity of the jet over that of the draught, corrected by the root of density: the ratio of
   * momentum that decides how far the draught bends it. Null without a draught.
   */
  draughtRatio: number | null;
}>;

/**
 * Where the jet turns turbulent against the standoff, and how a draught compares with it.
 * A guide to order of magnitude: no arc, no joint, no torch angle.
 *
 * @param reynolds at the nozzle
 * @param boreM nozzle bore
 * @param standoffM nozzle to work
 * @param velocityMPerS mean exit velocity
 * @param densityRatio gas density over that of the air around it
 * @param draughtMPerS speed of the air across the torch; 0 for still air
 */
export function jetAtWork(
  reynolds: number,
  boreM: number,
  standoffM: number,
  velocityMPerS: number,
  densityRatio: number,
  draughtMPerS = 0,
): Result<JetAtWork> {
  return toResult(() => {
    requireWithin("reynolds", reynolds, 0, 1e7);
    requireWithin("boreM", boreM, 1e-3, 0.1);
    requireWithin("standoffM", standoffM, 0, 1);
    requireWithin("velocityMPerS", velocityMPerS, 0, 1000);
    requireWithin("densityRatio", densityRatio, 0.01, 100);
    requireWithin("draughtMPerS", draughtMPerS, 0, 50);
    const transitionM =
      reynolds > 0
        ? (TRANSITION_BORES_TIMES_REYNOLDS / reynolds) * boreM
        : Number.POSITIVE_INFINITY;
    const coreM = transitionM + CORE_BORES * boreM;
    return {
      transitionM,
      coreM,
      laminarAtWork: standoffM < transitionM,
      workInCore: standoffM < coreM,
      draughtRatio:
        draughtMPerS > 0 ? (velocityMPerS * Math.sqrt(densityRatio)) / draughtMPerS : null,
    };
  });
}
