/**
 * Cramér-Rao bound of the true flow from the cylinder's pressure alone.
 *
 * p(t) = a - b t + c exp(-t/tau) + white noise: offset, slope and one exponential of known time
 * constant are unknown. The covariance of the least-squares fit is the bound.
 */

/** 1 sigma of the slope, Pa/s, for samples at `times` (s). */
export function slopeBound(times: readonly number[], noisePa: number, tauS: number | null): number {
  const columns = tauS === null ? 2 : 3;
  const m = new Float64Array(columns * columns);
  for (const t of times) {
    const row = tauS === null ? [1, t] : [1, t, Math.exp(-t / tauS)];
    for (let i = 0; i < columns; i++) {
      for (let j = 0; j < columns; j++)
        m[i * columns + j] = m[i * columns + j]! + row[i]! * row[j]!;
    }
  }
  return noisePa * Math.sqrt(inverseElement(m, columns, 1));
}

/** Element (k, k) of the inverse of a small symmetric matrix, by Gauss-Jordan. */
function inverseElement(matrix: Float64Array, n: number, k: number): number {
  const a = Float64Array.from(matrix);
  const b = new Float64Array(n);
  b[k] = 1;
  for (let i = 0; i < n; i++) {
    let pivot = i;
    for (let r = i + 1; r < n; r++) {
      if (Math.abs(a[r * n + i]!) > Math.abs(a[pivot * n + i]!)) pivot = r;
    }
    for (let j = 0; j < n; j++) {
      [a[i * n + j], a[pivot * n + j]] = [a[pivot * n + j]!, a[i * n + j]!];
    }
    [b[i], b[pivot]] = [b[pivot]!, b[i]!];
    for (let r = 0; r < n; r++) {
      if (r === i) continue;
      const factor = a[r * n + i]! / a[i * n + i]!;
      for (let j = i; j < n; j++) a[r * n + j] = a[r * n + j]! - factor * a[i * n + j]!;
      b[r] = b[r]! - factor * b[i]!;
    }
  }
  return b[k]! / a[k * n + k]!;
}

/**
 * Bound of the flow in `metric20` L/min over a window.
 *
 * @param litresPerPa content of the cylinder per Pa at constant temperature, L/Pa
 */
export function flowBoundLpm(
  windowS: number,
  everyS: number,
  noisePa: number,
  tauS: number | null,
  litresPerPa: number,
): number {
  const times: number[] = [];
  for (let t = 0; t <= windowS + 1e-9; t += everyS) times.push(t);
  return slopeBound(times, noisePa, tauS) * litresPerPa * 60;
}

/** What the cylinder's pressure does when gas comes on, and how it is read. */
export interface Onset {
  /** Fall at constant temperature, Pa/s. */
  slopePaPerS: number;
  /** Heat capacity ratio at the filling: the first seconds fall that much faster. */
  capacityRatio: number;
  /** Time constant with which the wall warms the gas, s. */
  tauS: number;
  /** Fall that the sensor's hysteresis hides after a rise, Pa (both half-widths). */
  hiddenPa: number;
  noisePa: number;
  everyS: number;
}

/**
 * Shortest time, s, in which gas-on can be seen at a likelihood ratio 2 ln L = `threshold`, by
 * somebody who knows flow, thermal lag and hysteresis: the sum of (signal/noise)² has to reach it.
 */
export function detectionBoundS(onset: Onset, threshold: number): number {
  const { slopePaPerS, capacityRatio, tauS, hiddenPa, noisePa, everyS } = onset;
  let sum = 0;
  for (let t = everyS; t < 3600; t += everyS) {
    const cooled = (capacityRatio - 1) * tauS * (1 - Math.exp(-t / tauS));
    const signal = Math.max(0, slopePaPerS * (t + cooled) - hiddenPa);
    sum += (signal / noisePa) ** 2;
    if (sum >= threshold) return t;
  }
  return 3600;
}
