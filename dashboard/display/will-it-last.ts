import type { TimeLeft } from "./time-left.ts";

export type LastsVerdict = "yes" | "no" | "maybe" | "unknown";

export interface Lasts {
  verdict: LastsVerdict;
  /** Probability that the gas lasts, 0 to 1; null where nothing is known. */
  probability: number | null;
}

/** Standard normal distribution function (Abramowitz & Stegun 26.2.17, error below 7.5e-8). */
export function normalCdf(x: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(x));
  const tail =
    Math.exp((-x * x) / 2) *
    0.3989422804014327 *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return x > 0 ? 1 - tail : tail;
}

/**
 * Will the gas last for so many minutes of gas-on? The bounds are a 95 % interval; each side of
 * the median is taken as half a normal distribution. "Yes" and "no" need 97.5 % certainty.
 */
export function willItLast(left: TimeLeft, minutesNeeded: number): Lasts {
  if (left.median === null) return { verdict: "unknown", probability: null };
  const below = (left.median - (left.low ?? left.median)) / 1.96;
  const above = ((left.high ?? left.median) - left.median) / 1.96;
  const sigma = minutesNeeded < left.median ? below : above;
  const gap = left.median - minutesNeeded;
  const probability = sigma > 0 ? normalCdf(gap / sigma) : gap >= 0 ? 1 : 0;
  const verdict = probability >= 0.975 ? "yes" : probability <= 0.025 ? "no" : "maybe";
  return { verdict, probability };
}

/** Gas-on minutes of a seam: length over travel speed, with pre- and post-flow at each start. */
export function seamMinutes(
  lengthM: number,
  speedCmPerMin: number,
  starts: number,
  flowOutsideArcS: number,
): number {
  return (lengthM * 100) / speedCmPerMin + (Math.max(1, starts) * flowOutsideArcS) / 60;
}
