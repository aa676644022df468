/** Straight line through recent values, older ones fading with `timeS`; plain data. */
export interface TrendState {
  t: number;
  weight: number;
  /** Weighted sums of age (negative, s), its square, value and their product, about `t`. */
  a: number;
  aa: number;
  v: number;
  av: number;
  vv: number;
  /** Value that sums are counted from, against loss of digits. */
  base: number;
}

export function createTrend(): TrendState {
  return { t: 0, weight: 0, a: 0, aa: 0, v: 0, av: 0, vv: 0, base: 0 };
}

export function addToTrend(state: TrendState, t: number, value: number, timeS: number): void {
  if (state.weight === 0) {
    state.t = t;
    state.base = value;
  }
  const dt = Math.max(t - state.t, 0);
  const fade = Math.exp(-dt / timeS);
  // Move the origin of ages to the new time, then fade.
  state.aa = fade * (state.aa - 2 * dt * state.a + dt * dt * state.weight);
  state.av = fade * (state.av - dt * state.v);
  state.a = fade * (state.a - dt * state.weight);
  state.v *= fade;
  state.vv *= fade;
  state.weight *= fade;
  state.t = t;
  const y = value - state.base;
  state.weight += 1;
  state.v += y;
  state.vv += y * y;
}

/**
 * Slope per second with its 1 sigma from the scatter and at least `noise` (1 sigma of one value);
 * null before there is a span to speak of.
 */
export function trendSlope(
  state: TrendState,
  noise: number,
): { slope: number; sigma: number; spanS: number } | null {
  if (state.weight < 2) return null;
  const { weight } = state;
  const saa = state.aa - (state.a * state.a) / weight;
  if (!(saa > 1)) return null;
  const slope = (state.av - (state.a * state.v) / weight) / saa;
  const svv = Math.max(0, state.vv - (state.v * state.v) / weight - slope * slope * saa);
  const scatter = Math.max(svv / weight, noise * noise);
  return { slope, sigma: Math.sqrt(scatter / saa), spanS: Math.sqrt(saa / weight) * 3.46 };
}
