import type { Priority } from "../estimation/estimate.ts";
import type { AlarmCondition, Verdict } from "./condition.ts";

/**
 * On-delay, off-delay and holding of one condition (IEC 62682 / ISA-18.2; OPC UA Part 9, B.1.5
 * shows both delays). Times add up only while the condition is judged, so that a delay counted in
 * gas-on seconds runs on over several spells.
 */

/** A condition on its way to an alarm is dropped when it cannot be judged for longer, s. */
const pendingUnknownS = 60;
/** How long a `hold` keeps what stands where the condition does not say, s. */
const holdDefaultS = 600;

/** Times are told in milliseconds: sums of them are as good as this, s. */
const roundingS = 1e-3;

/** From the quietest to the loudest. */
export const priorities: readonly Priority[] = ["low", "medium", "high"];

export type Phase = "normal" | "pending" | "active";
const phases: readonly Phase[] = ["normal", "pending", "active"];

/** What is remembered of one condition. */
export interface Memory {
  phase: Phase;
  /** When the condition became true, before its delay, Unix s. */
  since: number;
  /** Seconds for which it was seen to hold since then. */
  trueS: number;
  /** Seconds for which an active one was seen not to hold. */
  falseS: number;
  /** Seconds since it could last be judged. */
  unjudgedS: number;
  /** Highest priority of this occurrence, as an index of `priorities`. */
  priority: number;
  /** It has been shown: what is only on its way to explain it no longer holds it back. */
  shown: boolean;
  /** What the last sample said: it holds, it does not, or neither. */
  last: "true" | "false" | "neither";
}
const lasts: readonly Memory["last"][] = ["true", "false", "neither"];

export function freshMemory(): Memory {
  return {
    phase: "normal",
    since: 0,
    trueS: 0,
    falseS: 0,
    unjudgedS: 0,
    priority: 0,
    shown: false,
    last: "false",
  };
}

function reset(memory: Memory): void {
  memory.phase = "normal";
  memory.trueS = 0;
  memory.falseS = 0;
  memory.unjudgedS = 0;
  memory.priority = 0;
  memory.shown = false;
  memory.last = "false";
}

/**
 * Takes one verdict. `dt` is the time since the last sample, s; it counts only where both samples
 * say the same.
 */
export function advance(
  memory: Memory,
  condition: AlarmCondition,
  verdict: Verdict,
  t: number,
  dt: number,
): void {
  if (verdict === null || verdict.cannotTell !== undefined) {
    if (memory.phase === "normal") return;
    memory.last = "neither";
    memory.unjudgedS += dt;
    // Missing data never end an alarm; they only stop one that is still on its way.
    if (memory.phase === "pending" && memory.unjudgedS > pendingUnknownS) reset(memory);
    return;
  }
  if (verdict.hold) {
    if (memory.phase === "normal") return;
    memory.last = "neither";
    memory.unjudgedS += dt;
    if (memory.unjudgedS > (condition.holdS ?? holdDefaultS)) reset(memory);
    return;
  }
  if (verdict.active) whenTrue(memory, condition, verdict, t, dt);
  else if (memory.phase !== "normal") whenFalse(memory, condition, verdict, dt);
}

function whenTrue(
  memory: Memory,
  condition: AlarmCondition,
  verdict: NonNullable<Verdict>,
  t: number,
  dt: number,
): void {
  if (memory.phase === "normal") {
    memory.phase = "pending";
    memory.since = verdict.since === undefined ? t : Math.min(verdict.since, t);
    memory.trueS = t - memory.since;
  } else if (memory.last === "true") {
    memory.trueS += dt;
  }
  memory.last = "true";
  memory.falseS = 0;
  memory.unjudgedS = 0;
  const priority = priorities.indexOf(verdict.priority ?? condition.priority);
  if (priority > memory.priority) memory.priority = priority;
  const onDelayS = verdict.onDelayS ?? condition.onDelayS;
  if (memory.phase === "pending" && memory.trueS >= onDelayS - roundingS) {
    memory.phase = "active";
    // Until now only the last verdict counted: a passing peak must not set the priority.
    memory.priority = priority;
  }
}

function whenFalse(
  memory: Memory,
  condition: AlarmCondition,
  verdict: NonNullable<Verdict>,
  dt: number,
): void {
  memory.unjudgedS = 0;
  if (memory.phase === "pending") {
    reset(memory);
    return;
  }
  if (memory.last === "false") memory.falseS += dt;
  memory.last = "false";
  if (memory.falseS >= (verdict.offDelayS ?? condition.offDelayS)) reset(memory);
}

/** A memory as a short array; `unpack` reads it back exactly. */
export function pack(memory: Memory): number[] {
  return [
    phases.indexOf(memory.phase),
    memory.since,
    memory.trueS,
    memory.falseS,
    memory.unjudgedS,
    memory.priority,
    memory.shown ? 1 : 0,
    lasts.indexOf(memory.last),
  ];
}

/** Fills `memory` from what `pack` gave; undefined or a foreign shape gives a fresh one. */
export function unpack(memory: Memory, packed: readonly number[] | undefined): void {
  reset(memory);
  if (packed === undefined || packed.length !== 8 || !packed.every(Number.isFinite)) return;
  memory.phase = phases[packed[0]] ?? "normal";
  memory.since = packed[1];
  memory.trueS = packed[2];
  memory.falseS = packed[3];
  memory.unjudgedS = packed[4];
  memory.priority = Math.min(Math.max(0, packed[5]), priorities.length - 1);
  memory.shown = packed[6] === 1;
  memory.last = lasts[packed[7]] ?? "neither";
}
