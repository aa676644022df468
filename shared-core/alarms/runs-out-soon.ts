import { chanceBelow } from "./chance.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { says } from "./language/said.ts";
import { activeHigh, active as holds, normal } from "./verdicts.ts";

/** Chance at which the warning is given; it is the lead in 99 of 100 run-outs that sets it. */
const warnChance = 0.05;
const clearChance = 0.01;
/** Change-over time where the set-up gives none, min (common practice, no source). */
const changeoverDefaultMin = 10;
/** Weld at hand where the habit is not known, and at most, min (common practice, no source). */
const weldDefaultMin = 5;
const weldMostMin = 15;
/** A spell that outlasts the usual one still needs this much, min. */
const weldLeastMin = 1;
/** A warning earlier than this, or than four change-over times, would be needless, min. */
const needlessMin = 40;
const spellsForHabit = 20;

function changeoverMin(snapshot: StationSnapshot): number {
  return snapshot.station.changeover?.minutes ?? changeoverDefaultMin;
}

/** Gas-on minutes that a usual weld here still needs. */
function usualWeldMin(snapshot: StationSnapshot): number {
  const habit = snapshot.usualSpellS;
  const whole =
    habit !== null && habit.count >= spellsForHabit
      ? Math.min(habit.p99 / 60, weldMostMin)
      : weldDefaultMin;
  const done = snapshot.gasOnSince === null ? 0 : (snapshot.t - snapshot.gasOnSince) / 60;
  return Math.max(weldLeastMin, whole - done);
}

/** Gas-on minutes that the declared job still needs; null where none is planned. */
function plannedMin(snapshot: StationSnapshot): number | null {
  const job = snapshot.job;
  if (job === null || job.plannedArcMinutes === null || job.gasless) return null;
  return Math.max(0, job.plannedArcMinutes - (job.gasOnMinutesDone ?? 0));
}

/** The gas will end before a change could be made and the weld at hand finished. */
export const runsOutSoon: AlarmCondition = {
  condition: "runs-out-soon",
  title: "Gas ends soon",
  cause: "The cylinder nears its end at the present or the target flow.",
  consequence: "The gas ends in the middle of a weld.",
  operatorAction: "Bring a full cylinder now; start no weld that is longer than the time given.",
  timeToRespond:
    "As long as a cylinder change takes here: the station's change-over time, else 10 min.",
  priority: "medium",
  limit:
    "Chance above 5 % that the gas ends within the change-over time plus the weld at hand, and the expected end is nearer than the larger of 40 min and four change-over times; or a declared job needs more than is left.",
  deadband: "Chance back below 1 %.",
  onDelayS: 20,
  offDelayS: 5,
  delayReason:
    "20 s: a short burst of high flow (a purge of the line) shortens the time left only while it lasts; against a change-over time of minutes it costs nothing. Off after 5 s: a new cylinder is plain to see.",
  suppresses: ["cylinder-low"],
  alarmClass: "gas",
  latched: false,
  scope: "supply",

  evaluate(snapshot, active) {
    const left = snapshot.remainingMinutes;
    if (left === null) return null;
    const changeover = changeoverMin(snapshot);
    const limit = active ? clearChance : warnChance;
    const need = changeover + usualWeldMin(snapshot);
    const near = left.median < Math.max(needlessMin, 4 * changeover) * (active ? 1.1 : 1);
    if (near && chanceBelow(left.median, left.sigma, need) >= limit) {
      return chanceBelow(left.median, left.sigma, changeover) >= warnChance ? activeHigh : holds;
    }
    const planned = plannedMin(snapshot);
    // A planned job is worth a word as soon as it is more likely than not to outlast the gas.
    if (planned !== null && chanceBelow(left.median, left.sigma, planned) >= (active ? 0.3 : 0.5)) {
      return holds;
    }
    return normal;
  },

  describe(snapshot) {
    const left = snapshot.remainingMinutes;
    const changeover = changeoverMin(snapshot);
    const changeS = changeover * 60;
    if (left === null) {
      return { title: [says("gas-ends-soon")], advice: [says("bring-full", { changeS: null })] };
    }
    const planned = plannedMin(snapshot);
    const s = Math.max(0, left.median) * 60;
    if (planned !== null && left.median > changeover + usualWeldMin(snapshot)) {
      return {
        title: [says("gas-left-job", { s, jobS: planned * 60 })],
        advice: [says("plan-change", { changeS })],
      };
    }
    const sure = Math.max(0, Math.floor(left.median - 1.645 * left.sigma));
    return {
      title: [says("gas-left", { s })],
      advice: [
        says("bring-full", { changeS }),
        sure >= 1 ? says("weld-at-most", { s: sure * 60 }) : says("no-new-weld"),
      ],
    };
  },
};
