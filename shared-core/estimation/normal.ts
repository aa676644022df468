/** Standard normal distribution function at x. */
export function normalCdf(x: number): number {
  const away = Math.abs(x);
  const tail = (millsRatio(away) * Math.exp((-away * away) / 2)) / Math.sqrt(2 * Math.PI);
  return x > 0 ? 1 - tail : tail;
}

/**
 * Chance above x over the density at x, standard normal (Mills' ratio), x from 0 up: it stays exact where both
 * are tiny. Complementary error function of Press and others, Numerical Recipes (2007), 6.2.2: relative error
 * below 1.2e-7 (from memory).
 */
export function millsRatio(x: number): number {
  const t = 1 / (1 + 0.5 * (x / Math.SQRT2));
  let sum = 0;
  for (const c of ERFC) sum = sum * t + c;
  return Math.sqrt(Math.PI / 2) * t * Math.exp(sum);
}

const ERFC = [
  0.17087277, -0.82215223, 1.48851587, -1.13520398, 0.27886807, -0.18628806, 0.09678418, 0.37409196,
  1.00002368, -1.26551223,
] as const;
