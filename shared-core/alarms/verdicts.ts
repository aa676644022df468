import type { Verdict } from "./condition.ts";

/** Shared verdicts, so that a quiet station allocates nothing at a sample time. */

type Told = NonNullable<Verdict>;

/** The condition does not hold. */
export const normal: Told = Object.freeze({ active: false });

/** The condition has no meaning just now (gas is off): keep what stands. */
export const hold: Told = Object.freeze({ active: false, hold: true });

/** The condition holds, at its configured priority. */
export const active: Told = Object.freeze({ active: true });

/** The condition holds, at a priority of its own. */
export const activeHigh: Told = Object.freeze({ active: true, priority: "high" });
export const activeMedium: Told = Object.freeze({ active: true, priority: "medium" });
export const activeLow: Told = Object.freeze({ active: true, priority: "low" });
