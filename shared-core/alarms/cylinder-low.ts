import { surelyBelow, z80 } from "./chance.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { says } from "./language/said.ts";
import { active as holds, normal } from "./verdicts.ts";

const lowShare = 0.25;
/** A day's use counts up to this share of a full cylinder: otherwise a busy station would always be low. */
const dayShareMost = 0.5;
const deadbandShare = 0.03;

function lowLimitL(snapshot: StationSnapshot, fullL: number): number {
  const day = Math.min(snapshot.usePerDayL ?? 0, dayShareMost * fullL);
  return Math.max(lowShare * fullL, day);
}

/** Time to have a full cylinder at hand. */
export const cylinderLow: AlarmCondition = {
  condition: "cylinder-low",
  title: "Cylinder low",
  cause: "A quarter of the content is left, or less than a day's use.",
  consequence: "Without a full cylinder in the rack, work stops when this one ends.",
  operatorAction: "See that a full one stands ready, or order one.",
  timeToRespond: "Within the day.",
  priority: "low",
  limit:
    "Content below 25 % of full, or below a day's use (counted up to half a cylinder), with 80 % confidence.",
  deadband: "3 % of full.",
  onDelayS: 120,
  offDelayS: 30,
  delayReason:
    "120 s: after hard use the content settles while the gas warms again, and an order is not a matter of seconds.",
  suppresses: [],
  alarmClass: "gas",
  latched: false,
  scope: "supply",

  evaluate(snapshot, active) {
    const content = snapshot.content;
    if (content === null || !(content.fullL > 0)) return null;
    const limit = lowLimitL(snapshot, content.fullL);
    const low = active
      ? content.meanL < limit + deadbandShare * content.fullL
      : surelyBelow(content.meanL, content.sigmaL, limit, z80);
    return low ? holds : normal;
  },

  describe(snapshot) {
    const content = snapshot.content;
    const share = content !== null && content.fullL > 0 ? content.meanL / content.fullL : null;
    const day =
      content !== null && snapshot.usePerDayL !== null && content.meanL < snapshot.usePerDayL;
    return {
      title: [says("cylinder-low", { share })],
      advice: [says("full-one-ready"), ...(day ? [says("less-than-a-day")] : [])],
    };
  },
};
