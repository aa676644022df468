import type { SupplyPlan } from "./plan.ts";
import type { EngineState } from "./supply-state.ts";

/**
 * When a node counts as silent: three times the pace of its packs, or a last will. Each node of a
 * supply has a pace and a silence of its own; where there is but one, they are the supply's.
 */

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

/** How often packs come. */
interface Pace {
  /** Latest `received` of a pack with samples, Unix s. */
  packReceived: number | null;
  /** Last intervals between packs, by regime, s. */
  paceFlowing: number[];
  paceIdle: number[];
  /** Latest interval between packs, s. */
  packGapS: number;
}

/** What is remembered of one node's packs where a supply has several. */
export interface OwnPace extends Pace {
  /** Newest sample time of this node, Unix s. */
  newestT: number | null;
  silent: boolean;
  /** Time of the line that said so: none of its drops has one before it. */
  saidT: number | null;
}

/** The pace of a node that was not heard yet. */
export function createPace(): OwnPace {
  return {
    packReceived: null,
    paceFlowing: [],
    paceIdle: [],
    packGapS: IDLE_PACE_S,
    newestT: null,
    silent: false,
    saidT: null,
  };
}

/** A node's own pace; null where it is the only one of its supply, or never said anything. */
export function ownPace(plan: SupplyPlan, state: EngineState, node: string | null): OwnPace | null {
  if (plan.nodes.length < 2 || node === null) return null;
  const entry = state.nodes.find((one) => one.node === node);
  if (entry === undefined) return null;
  // Known from before nodes were told apart: heard as late as any of them.
  entry.own ??= { ...createPace(), packReceived: state.packReceived, newestT: state.newestT };
  return entry.own;
}

function paceOf(plan: SupplyPlan, state: EngineState, node: string | null): Pace {
  return ownPace(plan, state, node) ?? state;
}

/** Since when nothing is known of a drop for want of its node's packs, Unix s; null where they come. */
export function silentSince(plan: SupplyPlan, state: EngineState, drop: number): number | null {
  const own = ownPace(plan, state, plan.drops[drop]!.node);
  if (own === null) return state.silent ? state.packReceived : null;
  return own.silent ? own.packReceived : null;
}

/** Whether a drop's node is silent. */
export function isSilent(plan: SupplyPlan, state: EngineState, drop: number): boolean {
  return state.silent || silentSince(plan, state, drop) !== null;
}

/** Whether the node that reads the cylinder is silent while others of the supply are not. */
export function cylinderUnheard(plan: SupplyPlan, state: EngineState): boolean {
  return ownPace(plan, state, plan.node)?.silent ?? false;
}

/** Drops that a node reports; all of them where no node is named. */
export function dropsOfNode(plan: SupplyPlan, node: string | null): number[] {
  return plan.drops.flatMap((drop, i) =>
    node === null || drop.node === null || drop.node === node ? [i] : [],
  );
}

/** Seconds without a pack after which a node counts as silent: three times its pace. */
export function silenceAfterS(plan: SupplyPlan, state: EngineState, node: string | null): number {
  const pace = paceOf(plan, state, node);
  const flowing = surelyFast(plan, state, node);
  const usual = flowing ? FLOWING_PACE_S : IDLE_PACE_S;
  const learnt = learntPace(flowing ? pace.paceFlowing : pace.paceIdle);
  return Math.max(3 * Math.max(usual, learnt), LEAST_SILENCE_S);
}

/** The node that fell silent first by `now`, null for the only one, and when; null where none did. */
export function nextSilent(
  plan: SupplyPlan,
  state: EngineState,
  now: number,
): { node: string | null; until: number } | null {
  let first: { node: string | null; until: number } | null = null;
  for (const node of plan.nodes.length > 1 ? plan.nodes : [null]) {
    const own = ownPace(plan, state, node);
    const { packReceived } = own ?? state;
    if (packReceived === null || (own ?? state).silent) continue;
    // Among several nodes one that was never heard has no silence.
    if (node !== null && own === null) continue;
    const until = packReceived + silenceAfterS(plan, state, node);
    if (now > until && (first === null || until < first.until)) first = { node, until };
  }
  return first;
}

/** Whether every node of the supply that was ever heard is silent. */
export function allSilent(plan: SupplyPlan, state: EngineState): boolean {
  return plan.nodes.every((node) => {
    const own = ownPace(plan, state, node);
    return own === null || own.packReceived === null || own.silent;
  });
}

/** Second longest of the last intervals: one outage is not yet a pace. */
function learntPace(intervals: readonly number[]): number {
  return [...intervals].sort((a, b) => b - a)[1] ?? 0;
}

/** Takes in that a pack of a node came, before its samples are. */
export function learnPace(
  plan: SupplyPlan,
  state: EngineState,
  node: string,
  received: number,
): void {
  const pace = paceOf(plan, state, node);
  if (pace.packReceived === null) return;
  // A single precision keeps the state short.
  const interval = Math.fround(received - pace.packReceived);
  if (!(interval > 0.2) || interval > LONGEST_PACE_S) return;
  const fast = reportsFast(plan, state, node) && steady(plan, state, node);
  const list = fast ? pace.paceFlowing : pace.paceIdle;
  pace.packGapS = interval;
  list.push(interval);
  if (list.length > 6) list.shift();
}

/** Drops whose line a node reads: all of them where the supply has one node. */
function linesOf(plan: SupplyPlan, node: string | null): number[] {
  return dropsOfNode(plan, plan.nodes.length > 1 ? node : null);
}

/** A node that sees its line reports fast while gas flows; one without keeps one pace. */
function reportsFast(plan: SupplyPlan, state: EngineState, node: string | null): boolean {
  if (state.cylinder.valve === "closed") return false;
  return linesOf(plan, node).some((i) => {
    const drop = state.drops[i]!;
    return drop.on === true && drop.lineT !== null && drop.lineFault === null;
  });
}

/**
 * Gas is on beyond doubt and the node has switched to its fast pace. Where the line still moves
 * node and estimator may differ on whether gas flows: then only the slow pace can be relied on.
 */
function surelyFast(plan: SupplyPlan, state: EngineState, node: string | null): boolean {
  if (!reportsFast(plan, state, node) || !steady(plan, state, node)) return false;
  const pace = paceOf(plan, state, node);
  return pace.packGapS <= FAST_S || learntPace(pace.paceFlowing) > FAST_S;
}

function steady(plan: SupplyPlan, state: EngineState, node: string | null): boolean {
  return linesOf(plan, node).some((i) => {
    const drop = state.drops[i]!;
    if (drop.on !== true || drop.lineT === null || drop.offCount > 0) return false;
    const usual = drop.flowPa;
    const atLevel =
      usual === null ||
      Math.abs(drop.meanPa - usual) < Math.max(0.5 * (drop.gapPa ?? 0), 0.05 * Math.abs(usual));
    const pressed = plan.drops[i]!.tap === "hose" || drop.meanPa > 0.2e5;
    return drop.meanCount >= STEADY_READINGS && atLevel && pressed;
  });
}

/** Whether a node's last will came, with no sample of it newer. */
export function willed(plan: SupplyPlan, state: EngineState, node: string): boolean {
  // A node that the documents do not name is none of the supply's.
  if (plan.nodes.length > 0 && !plan.nodes.includes(node)) return false;
  const since = state.nodes.find((one) => one.node === node)?.offlineSince ?? null;
  if (since === null) return false;
  const newest = (ownPace(plan, state, node) ?? state).newestT;
  return !(newest !== null && newest > since);
}

/** Samples newer than a node's will override it. */
export function overrideWill(state: EngineState, node: string, newest: number): void {
  const entry = state.nodes.find((n) => n.node === node);
  if (entry?.offlineSince != null && newest > entry.offlineSince) entry.offlineSince = null;
}
