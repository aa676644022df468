import type { SupplyPlan } from "./plan.ts";
import type { EngineState } from "./supply-state.ts";

/** When a station counts as silent: three times the pace of its packs, or a last will. */

/** Shortest silence that is believed while gas flows, s. */
const LEAST_SILENCE_S = 10;
const FLOWING_PACE_S = 2;
const IDLE_PACE_S = 60;
/** Packs further apart than this are no fast reporting, s. */
const FAST_S = 6;
/** An interval longer than this is an outage, not a pace, s. */
const LONGEST_PACE_S = 900;
/** A flowing line has stood at its level for this many readings before its pace is relied on. */
const STEADY_READINGS = 3;

/** Seconds without a pack after which the station counts as silent: three times its pace. */
export function silenceAfterS(plan: SupplyPlan, state: EngineState): number {
  const flowing = surelyFast(plan, state);
  const usual = flowing ? FLOWING_PACE_S : IDLE_PACE_S;
  const pace = Math.max(usual, learntPace(flowing ? state.paceFlowing : state.paceIdle));
  return Math.max(3 * pace, LEAST_SILENCE_S);
}

/** Second longest of the last intervals: one outage is not yet a pace. */
function learntPace(intervals: readonly number[]): number {
  return [...intervals].sort((a, b) => b - a)[1] ?? 0;
}

/** Takes in that a pack came, before its samples are. */
export function learnPace(plan: SupplyPlan, state: EngineState, received: number): void {
  if (state.packReceived === null) return;
  // Hundredths keep the state short.
  const interval = Math.round((received - state.packReceived) * 100) / 100;
  if (!(interval > 0.2) || interval > LONGEST_PACE_S) return;
  const list = reportsFast(state) && steady(plan, state) ? state.paceFlowing : state.paceIdle;
  state.packGapS = interval;
  list.push(interval);
  if (list.length > 6) list.shift();
}

/** A node that sees its line reports fast while gas flows; one without keeps one pace. */
function reportsFast(state: EngineState): boolean {
  if (state.cylinder.valve === "closed") return false;
  return state.drops.some(
    (drop) => drop.on === true && drop.lineT !== null && drop.lineFault === null,
  );
}

/**
 * Gas is on beyond doubt and the node has switched to its fast pace. Where the line still moves
 * node and estimator may differ on whether gas flows: then only the slow pace can be relied on.
 */
function surelyFast(plan: SupplyPlan, state: EngineState): boolean {
  if (!reportsFast(state) || !steady(plan, state)) return false;
  return state.packGapS <= FAST_S || learntPace(state.paceFlowing) > FAST_S;
}

function steady(plan: SupplyPlan, state: EngineState): boolean {
  return state.drops.some((drop, i) => {
    if (drop.on !== true || drop.lineT === null || drop.offCount > 0) return false;
    const usual = drop.flowPa;
    const atLevel =
      usual === null ||
      Math.abs(drop.meanPa - usual) < Math.max(0.5 * (drop.gapPa ?? 0), 0.05 * Math.abs(usual));
    const pressed = plan.drops[i]!.tap === "hose" || drop.meanPa > 0.2e5;
    return drop.meanCount >= STEADY_READINGS && atLevel && pressed;
  });
}

/** Whether the last will of every node of the supply came, with no sample newer than it. */
export function willed(plan: SupplyPlan, state: EngineState): boolean {
  const { newestT, nodes } = state;
  const offline = new Set(
    nodes
      .filter((n) => n.offlineSince !== null && !(newestT !== null && newestT > n.offlineSince))
      .map((n) => n.node),
  );
  if (offline.size === 0) return false;
  const needed = [plan.node, ...plan.drops.map((drop) => drop.node)].filter((n) => n !== null);
  return needed.every((node) => offline.has(node));
}

/** Samples newer than a node's will override it. */
export function overrideWill(state: EngineState, node: string, newest: number): void {
  const entry = state.nodes.find((n) => n.node === node);
  if (entry?.offlineSince != null && newest > entry.offlineSince) entry.offlineSince = null;
}
