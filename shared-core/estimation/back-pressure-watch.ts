import { relativeFlow } from "./line-flow.ts";
import type { DropPlan } from "./plan.ts";

/**
 * Hose tap only: what holds the gas back between sensor and nozzle. At a hose tap the learnt
 * conductance is that of hose, torch and nozzle; a float turned further moves pressure and flow
 * together and leaves it as it is, a choked nozzle or a split seal changes it.
 */
export interface BackPressureState {
  /** Usual logarithm of the conductance, and the gas-on seconds behind it. */
  usual: number | null;
  seconds: number;
  /** Usual hose pressure while flowing, gauge Pa. */
  usualPa: number;
}

/** Below this 1 sigma of its logarithm a conductance counts as learnt. */
const LEARNT_SIGMA = 0.1;
/** Gas-on that makes a usual value, and over which it follows slow wear, s. */
const USUAL_AFTER_S = 600;
const FOLLOWS_S = 36_000;

export function createBackPressure(): BackPressureState {
  return { usual: null, seconds: 0, usualPa: 0 };
}

/** One step of gas-on: `log` is the learnt conductance with its 1 sigma, `levelPa` the hose pressure. */
export function learnBackPressure(
  state: BackPressureState,
  dtS: number,
  log: number,
  sigma: number,
  levelPa: number,
): void {
  if (!(sigma < LEARNT_SIGMA) || !(levelPa > 500)) return;
  if (state.usual === null) {
    state.usual = log;
    state.usualPa = levelPa;
  }
  const share = Math.min(1, dtS / Math.min(Math.max(state.seconds, 60), FOLLOWS_S));
  state.seconds += dtS;
  state.usual += share * (log - state.usual);
  state.usualPa += share * (levelPa - state.usualPa);
}

/** Hose pressure over what is usual at the same flow, with 1 sigma; null until something is usual. */
export function backPressure(
  plan: DropPlan,
  state: BackPressureState,
  log: number,
  sigma: number,
): { ratio: number; sigma: number } | null {
  if (state.usual === null || state.seconds < USUAL_AFTER_S || !(sigma < 2 * LEARNT_SIGMA)) {
    return null;
  }
  const usualPa = state.usualPa;
  const flow = (pa: number): number =>
    relativeFlow(plan, pa, 293.15) / relativeFlow(plan, usualPa, 293.15);
  const pressureFor = (share: number): number => {
    let low = 0;
    let high = Math.max(20 * usualPa, 1e5);
    for (let k = 0; k < 40; k++) {
      const middle = (low + high) / 2;
      if (flow(middle) < share) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  };
  const away = state.usual - log;
  const ratio = pressureFor(Math.exp(away)) / usualPa;
  const above = pressureFor(Math.exp(away + sigma)) / usualPa;
  return { ratio, sigma: Math.max(above - ratio, 0.02) };
}
