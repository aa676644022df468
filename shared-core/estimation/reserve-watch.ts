import type { SupplyPlan } from "./plan.ts";

/**
 * A bank with a reserve: gas goes on flowing while the main side, low already, no longer falls as
 * that flow would make it. Then the change-over has switched.
 */
export interface ReserveState {
  /** Main side at the start of the stretch being judged, gauge Pa, and when; null while not judged. */
  fromPa: number | null;
  fromT: number;
  /** Fall that the flow since then should have made, Pa. */
  expectedPa: number;
  /** The reserve feeds since, Unix s; null while the main side does. */
  since: number | null;
}

/** The main side is judged below this above its residual pressure, Pa. */
const LOW_PA = 15e5;
/** Expected fall that is enough to tell, and the shares of it that mean "reserve" and "main". */
const ENOUGH_PA = 0.6e5;
const STANDS = 0.25;
const FALLS = 0.6;
/** A rise by this much is a fresh main side, Pa. */
const FRESH_PA = 20e5;

/** Whether a reserve, and not the main side, may feed what flows now. */
export function mayBeReserve(plan: SupplyPlan, mainPa: number | null): boolean {
  return Boolean(plan.setup.supply?.reserve) && nearChangeOver(mainPa, plan.residualPa);
}

/**
 * Whether the change-over may switch, or has: what flows is then no measure of the main side's fall,
 * nor the fall one of what flows.
 */
function nearChangeOver(mainPa: number | null, residualPa: number): boolean {
  return mainPa !== null && mainPa <= residualPa + LOW_PA;
}

export function createReserve(): ReserveState {
  return { fromPa: null, fromT: 0, expectedPa: 0, since: null };
}

/** One reading of the main side. @param fallPa fall that the flow since the last reading should make */
export function watchReserve(
  state: ReserveState,
  t: number,
  mainPa: number,
  residualPa: number,
  fallPa: number,
): void {
  if (state.fromPa !== null && mainPa > state.fromPa + FRESH_PA) {
    state.since = null;
    state.fromPa = null;
  }
  if (mainPa > residualPa + LOW_PA) {
    state.fromPa = null;
    if (state.since !== null) state.since = null;
    return;
  }
  if (state.fromPa === null) {
    state.fromPa = mainPa;
    state.fromT = t;
    state.expectedPa = 0;
    return;
  }
  state.expectedPa += fallPa;
  if (state.expectedPa < ENOUGH_PA) return;
  const share = (state.fromPa - mainPa) / state.expectedPa;
  if (share < STANDS) state.since = state.since ?? state.fromT;
  else if (share > FALLS) state.since = null;
  state.fromPa = mainPa;
  state.fromT = t;
  state.expectedPa = 0;
}
