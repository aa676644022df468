import { arcTells } from "./arc-gas.ts";
import { hasLine } from "./drop-state.ts";
import { localTimeS, mayFlowUnseen } from "./habit.ts";
import type { SupplyPlan } from "./plan.ts";
import { standingS } from "./reading-grid.ts";
import { medianSpellS } from "./spells.ts";
import type { EngineState } from "./supply-state.ts";

/**
 * Drops that share a supply, of which one has neither line sensor nor arc signal: when it draws, nobody sees. A fall
 * of the cylinder is then no measure of any one drop's flow, for any part of it may be the unseen one's. Likewise
 * one that is alone, where the cylinder's sensor tells steps so coarse that whole spells pass within one: it tells
 * what flowed on the mean, and neither when nor how much at a time.
 */

/** Where a reading stands still for longer while gas flows, it does not tell when that is, s (simulated stations). */
const MOST_STANDING_S = 15;

/** Whether the cylinder's sensor is too coarse to tell when gas flows at a drop, as a step of it has shown. */
export function stepsHide(plan: SupplyPlan, state: EngineState, i: number): boolean {
  return standingS(plan, state, i) > MOST_STANDING_S;
}

/**
 * Neither line nor arc tells now when gas flows at this drop, and others draw from its cylinder, or the cylinder's
 * sensor is too coarse to tell it.
 */
export function drawsUnseen(plan: SupplyPlan, state: EngineState, i: number, t: number): boolean {
  if (hasLine(state.drops[i]!, t)) return false;
  if (plan.drops.length < 2 && !stepsHide(plan, state, i)) return false;
  // A job that wants no gas draws none.
  return state.jobs[i]?.entry.gasless !== true && !arcTells(plan, state, i, t);
}

/** Such a drop that never had a line: a lost one's last regime and level still count for something. */
export function staysUnseen(plan: SupplyPlan, state: EngineState, i: number, t: number): boolean {
  return state.drops[i]!.lineT === null && drawsUnseen(plan, state, i, t);
}

/** Station that draws unseen from the supply of drop `i`; null where all others are seen. */
export function unseenBeside(
  plan: SupplyPlan,
  state: EngineState,
  i: number,
  t: number,
): string | null {
  const other = plan.drops.findIndex((_, k) => k !== i && drawsUnseen(plan, state, k, t));
  return other < 0 ? null : plan.drops[other]!.station.station;
}

/** Whether the cylinder's fall may be any drop's. */
export function fallIsShared(plan: SupplyPlan, state: EngineState, t: number): boolean {
  return plan.drops.some((_, i) => drawsUnseen(plan, state, i, t));
}

/** After a fall that no drop explained it cannot be told for this long whether gas flows, s. */
const FELL_S = 7200;
/** Seconds that the cylinder's pressure alone needs to show gas, most of the time. */
const DELAY_S = 60;

/**
 * Gas at an unseen drop: unknown at hours at which anybody may weld, and after a fall that no drop explains; else
 * off. Nobody sees its habit, so that it stays the one of ordinary shops.
 */
export function followUnseen(plan: SupplyPlan, state: EngineState, t: number): void {
  state.drops.forEach((drop, i) => {
    if (!staysUnseen(plan, state, i, t)) return;
    const habit = state.habits[i]!;
    const local = localTimeS(habit, plan.setup.timeZone, t);
    const may = mayFlowUnseen(habit, local, medianSpellS(state.spells[i]!), DELAY_S);
    drop.on = may || t - drop.idleSince < FELL_S ? null : false;
    drop.onSince = null;
    if (drop.on === null) drop.offSince = null;
    else drop.offSince ??= t;
  });
}

/** Part of the time in which an unseen torch may be open, and how long its spells may last, s (common practice, no source). */
const OPEN_SHARE = 0.5;
const SPELL_S = 200;

/** Variance that an unseen drop adds to the content in `dtS`, mol²: it draws for whole spells or not at all. */
export function drawnUnseenVariance(molPerS: number, dtS: number): number {
  return OPEN_SHARE * (1 - OPEN_SHARE) * molPerS ** 2 * SPELL_S * Math.min(dtS, 60);
}
