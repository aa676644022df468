import { ellipseFraction } from "../flow/restriction.ts";
import { BACK_PRESSURE_PA } from "./device.ts";
import { type DropState, hasLine } from "./drop-state.ts";
import type { DropPlan } from "./plan.ts";

/** What a line pressure says about the flow through the restriction. */

/** Real valves: 0.2 to 0.5 (ISO 6358); short holes up to the ideal 0.49. */
export const CRITICAL_RATIO = 0.42;

/** Flow at a line pressure (gauge) relative to that at the drop's reference pressure. */
export function relativeFlow(plan: DropPlan, linePa: number, temperatureK: number): number {
  return (shape(plan, linePa) / shape(plan, plan.referencePa)) * Math.sqrt(293.15 / temperatureK);
}

/** d ln(flow) / d p at a line pressure, 1/Pa. */
export function relativeSlope(plan: DropPlan, linePa: number): number {
  const step = 500;
  const low = shape(plan, Math.max(linePa - step, 0));
  const high = shape(plan, linePa + step);
  const middle = Math.max(shape(plan, linePa), 1e-9);
  return (high - low) / (step + Math.min(step, Math.max(linePa, 0))) / middle;
}

/** Flow through the restriction at a line pressure (gauge Pa), in its own unit: only ratios have a meaning. */
export function shape(plan: Pick<DropPlan, "atmospherePa" | "tap">, linePa: number): number {
  const upstream = plan.atmospherePa + Math.max(linePa, 0);
  // A hose tap sits before torch and nozzle; an outlet tap before the device and all the rest.
  const back = plan.tap === "hose" ? 0 : Math.min(BACK_PRESSURE_PA, 0.3 * Math.max(linePa, 0));
  return upstream * fraction((plan.atmospherePa + back) / upstream);
}

/** Share of the choked flow at a ratio of absolute pressures (ISO 6358). */
export function fraction(ratio: number): number {
  if (ratio >= 1) return 0;
  if (ratio > 0.999) return (ellipseFraction(0.999, CRITICAL_RATIO) * (1 - ratio)) / 0.001;
  return ellipseFraction(ratio, CRITICAL_RATIO);
}

/** Temperature of the gas at the restriction: between body and room. */
export function restrictionK(state: DropState, gasK: number): number {
  const room = state.ambientK ?? gasK;
  return state.regulatorK === null ? room : 0.5 * (state.regulatorK + room);
}

/**
 * Level of the line (gauge Pa) that the flow of a drop goes with at `t`: the present one, or the
 * last one seen while flowing. Null where no line was ever read: the flow then is counted as is.
 */
export function flowingPa(plan: DropPlan, state: DropState, t: number): number | null {
  const line = hasLine(state, t);
  if (line && state.on === true) return levelPa(plan, state).pa;
  return state.refPa ?? state.flowPa ?? (line ? plan.referencePa : null);
}

/** A step of the idle line within this share of its gap to the flowing level is no other level. */
const SAME_LEVEL = 0.5;
/** A line that was fed anew has locked up after this, s. */
const FED_S = 60;

/**
 * Level that the next gas-on is to be expected at, gauge Pa, where the idle line was fed anew since
 * the last one and came to rest elsewhere: a full cylinder behind a regulator that had fallen. Null
 * where the last flowing level still says most. Only what is shown rests on it, not the filter.
 */
export function recoveredPa(plan: DropPlan, state: DropState, t: number): number | null {
  const { gapPa, offSince, idleSince, linePa, bled } = state;
  const last = state.refPa ?? state.flowPa;
  if (state.on !== false || bled || plan.tap === "hose" || !hasLine(state, t)) return null;
  if (last === null || gapPa === null || linePa === null || state.gaps < 2) return null;
  if (idleSince <= (offSince ?? 0) || t - idleSince < FED_S) return null;
  const next = levelPa(plan, state).pa - gapPa;
  const same = Math.max(SAME_LEVEL * gapPa, 0.05 * Math.abs(last));
  return next > last + same ? next : null;
}

/** Flow with the torch open relative to that at the drop's reference pressure. */
export function presentFlow(plan: DropPlan, state: DropState, t: number, gasK: number): number {
  const pa = flowingPa(plan, state, t);
  return pa === null ? 1 : relativeFlow(plan, pa, restrictionK(state, gasK));
}

/** Line pressure to reckon the flow from: the plateau's mean, with its 1 sigma. Gauge Pa. */
export function levelPa(plan: DropPlan, state: DropState): { pa: number; sigma: number } {
  const mean = state.meanCount > 0 ? state.meanPa : (plan.deliveryPa ?? plan.referencePa);
  return { pa: mean, sigma: Math.sqrt(state.noise / Math.max(state.meanCount, 1)) };
}

/** Rise of the line from flow to none, before any was seen, Pa. */
export function defaultGap(plan: DropPlan, state: DropState): number {
  const level = Math.max(state.linePa ?? 0, plan.deliveryPa ?? 0, 1e5);
  return plan.tap === "hose" ? 0.5 * level : 0.05 * level;
}
