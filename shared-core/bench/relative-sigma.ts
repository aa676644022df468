import type { ReadingsFit } from "./fit-readings.ts";

/**
 * Standard uncertainty, as a share of `value`, of a figure that follows from the fit: first order,
 * from the covariance of all parameters.
 *
 * @param figure the figure for a parameter vector; null where it has none
 * @param value the figure at the fit itself, not 0
 */
export function relativeSigma(
  figure: (vector: readonly number[]) => number | null,
  fit: ReadingsFit,
  value: number,
): number {
  const gradient = fit.vector.map((own, k) => {
    const step = 0.1 * Math.sqrt(fit.covariance[k]![k]!);
    const above = figure(fit.vector.map((v, i) => (i === k ? own + step : v)));
    const below = figure(fit.vector.map((v, i) => (i === k ? own - step : v)));
    if (above === null || below === null || step === 0) return 0;
    return (above - below) / (2 * step) / value;
  });
  let variance = 0;
  gradient.forEach((a, i) => {
    gradient.forEach((b, j) => {
      variance += a * b * fit.covariance[i]![j]!;
    });
  });
  return Math.sqrt(Math.max(0, variance));
}
