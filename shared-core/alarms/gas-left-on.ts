import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { says } from "./language/said.ts";
import {
  type AirDanger,
  airDanger,
  airDangerNearS,
  dangerAdvice,
  dangerSaid,
  roomDanger,
} from "./room-air.ts";
import { activeHigh, activeLow, activeMedium, normal } from "./verdicts.ts";

/** Gas-on without arc beyond what is usual, s. */
const beyondUsualS = 1200;
/** What counts as usual where the station's habit is not known yet, s (common practice, no source). */
const usualDefaultS = 600;
/** Where the air is in danger the wait is shorter, s. */
const dangerWaitS = 300;
const spellsForHabit = 20;

/** Seconds of gas without an arc, as far as it can be known. */
function withoutArcS(snapshot: StationSnapshot): number {
  const gasOn = snapshot.gasOnSince ?? snapshot.t;
  return snapshot.t - Math.max(gasOn, snapshot.arcOffSince ?? gasOn);
}

/** With an arc signal the time without arc counts by itself; without one a long weld is usual too, at hours when anybody welds. */
function waitS(snapshot: StationSnapshot): number {
  if (snapshot.arc !== null || snapshot.quietHour === true) return beyondUsualS;
  const habit = snapshot.usualSpellS;
  const usual = habit !== null && habit.count >= spellsForHabit ? habit.p99 : usualDefaultS;
  return beyondUsualS + usual;
}

function dangerOf(snapshot: StationSnapshot): AirDanger | null {
  if (snapshot.gasOnSince === null) return null;
  // Who declares a purge in a confined place was told so then; what its air comes to is told still.
  const reckon = snapshot.purge === null ? airDanger : roomDanger;
  return reckon(snapshot, snapshot.flow?.meanLpm ?? 0, snapshot.t - snapshot.gasOnSince);
}

/** A purge forgotten, or a torch left open. */
export const gasLeftOn: AlarmCondition = {
  condition: "gas-left-on",
  title: "Gas left on",
  cause: "A purge that was forgotten, a torch valve left open, a gas test that stuck.",
  consequence:
    "The cylinder empties for nothing; in a small or confined room the gas displaces the air.",
  operatorAction:
    "Close the torch valve, or declare the purge. Where the air is in danger: ventilate.",
  timeToRespond: "15 min; at once where the air of the room is in danger.",
  priority: "low",
  limit:
    "Gas on for 20 min without an arc, beyond what is usual at this station and hour: where nobody ever welds at this hour, 20 min in all. An arc or a declared purge excludes it. Urgent (after 5 min) where the well-mixed room could fall to 19.5 % oxygen, or reach 0.5 % or 3 % CO2, within 30 min, or the place is confined; a limit that near is told of a declared purge too.",
  deadband: "None: the gas is on or off.",
  onDelayS: 10,
  offDelayS: 10,
  delayReason:
    "The 20 min are the limit itself, so that the habit of the station can lengthen it; the 10 s only outlast a sample that comes late.",
  suppresses: [],
  alarmClass: "safety",
  latched: false,
  scope: "station",

  evaluate(snapshot) {
    if (snapshot.mode === "unknown") return null;
    if (snapshot.mode !== "flowing" || snapshot.gasOnSince === null) return normal;
    if (snapshot.arc === true) return normal;
    const danger = dangerOf(snapshot);
    // A declared purge is followed and not told to close. That the room's air is about to pass a
    // limit is told all the same.
    if (snapshot.purge !== null) {
      return danger !== null && danger.inS < airDangerNearS ? activeHigh : normal;
    }
    const seconds = withoutArcS(snapshot);
    if (danger !== null && danger.inS < airDangerNearS && seconds >= dangerWaitS) return activeHigh;
    const wait = waitS(snapshot);
    if (seconds < wait) return normal;
    if (danger !== null) return activeHigh;
    return seconds >= 3 * wait ? activeMedium : activeLow;
  },

  describe(snapshot) {
    const s =
      snapshot.arc !== null
        ? withoutArcS(snapshot)
        : snapshot.t - (snapshot.gasOnSince ?? snapshot.t);
    const what =
      snapshot.purge !== null
        ? says("purge-on", { s })
        : snapshot.arc !== null
          ? says("gas-on-without-arc", { s })
          : says("gas-on-long", { s });
    const danger = dangerOf(snapshot);
    if (danger !== null) {
      return { title: [what, dangerSaid(danger)], advice: dangerAdvice(snapshot) };
    }
    return { title: [what], advice: [says("close-torch"), says("pools-no-monitor")] };
  },
};
