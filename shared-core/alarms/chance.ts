/**
 * Chances from a Gaussian mean and 1 sigma. A sigma of 0 makes a sharp threshold; a sigma that is
 * not a number or negative counts as "nothing is known" and never decides.
 */

/** One-sided quantiles of the normal distribution (NIST/SEMATECH e-Handbook, 1.3.6.7.1). */
export const z80 = 0.842;
export const z90 = 1.282;
export const z95 = 1.645;
export const z99 = 2.326;

/** True when the quantity lies below `limit` with the confidence of `z`. */
export function surelyBelow(mean: number, sigma: number, limit: number, z: number): boolean {
  return sigma >= 0 && mean + z * sigma < limit;
}

/** True when the quantity lies above `limit` with the confidence of `z`. */
export function surelyAbove(mean: number, sigma: number, limit: number, z: number): boolean {
  return sigma >= 0 && mean - z * sigma > limit;
}

/**
 * Chance (0 to 1) that the quantity lies below `limit`.
 * Error function: Abramowitz and Stegun, Handbook of Mathematical Functions, 7.1.26, error < 1.5e-7.
 */
export function chanceBelow(mean: number, sigma: number, limit: number): number {
  if (!(sigma >= 0)) return Number.NaN;
  if (sigma === 0) return mean < limit ? 1 : 0;
  const x = (limit - mean) / (sigma * Math.SQRT2);
  const a = Math.abs(x);
  const k = 1 / (1 + 0.3275911 * a);
  const tail =
    ((((1.061405429 * k - 1.453152027) * k + 1.421413741) * k - 0.284496736) * k + 0.254829592) *
    k *
    Math.exp(-a * a);
  return x >= 0 ? 1 - tail / 2 : tail / 2;
}
