import { purgeAimS, purgeLateS } from "../estimation/told.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { type Said, says } from "./language/said.ts";
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

/** What a weld lasts here, s: the station's habit where it is known. */
function usualS(snapshot: StationSnapshot): number {
  const habit = snapshot.usualSpellS;
  return habit !== null && habit.count >= spellsForHabit ? habit.p99 : usualDefaultS;
}

/** With an arc signal the time without arc counts by itself; without one a long weld is usual too, at hours when anybody welds. */
function waitS(snapshot: StationSnapshot): number {
  if (snapshot.arc !== null || snapshot.quietHour === true) return beyondUsualS;
  return beyondUsualS + usualS(snapshot);
}

type Purge = NonNullable<StationSnapshot["purge"]>;

/** Gas-on seconds of a declared purge: how long it has run, what its aim takes, and when it counts as forgotten. */
function purgeRun(
  purge: Purge,
  snapshot: StationSnapshot,
): { onS: number; aimS: number | null; lateS: number } {
  const onS = purge.gasOnS ?? snapshot.t - purge.since;
  const { volumesPassed, targetVolumes, minutes = null } = purge;
  const aimS = purgeAimS({ minutes, volumesWanted: targetVolumes, volumesPassed, onS });
  return { onS, aimS, lateS: aimS === null ? beyondUsualS + usualS(snapshot) : purgeLateS(aimS) };
}

/** What a declared purge that was left on says: what was wanted, and what it has come to. */
function purgeLeftOn(purge: Purge, snapshot: StationSnapshot): Said {
  const { onS, aimS } = purgeRun(purge, snapshot);
  if (aimS === null) return says("purge-long", { s: onS });
  const { targetVolumes, volumesPassed, minutes = null } = purge;
  return targetVolumes !== null && volumesPassed !== null
    ? says("purge-past-volumes", { wanted: targetVolumes, passed: volumesPassed })
    : says("purge-past-time", { s: onS, wantedS: (minutes ?? 0) * 60 });
}

function purgeIsLate(snapshot: StationSnapshot): boolean {
  if (snapshot.purge === null) return false;
  const { onS, lateS } = purgeRun(snapshot.purge, snapshot);
  return onS >= lateS;
}

function dangerOf(snapshot: StationSnapshot): AirDanger | null {
  if (snapshot.gasOnSince === null) return null;
  // Who declares a purge in a confined place was told so then; what its air comes to is told still,
  // and a purge that was forgotten there is a release like any other.
  const reckon = snapshot.purge === null || purgeIsLate(snapshot) ? airDanger : roomDanger;
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
    "Close the torch valve, or declare the purge; of a declared one that runs on: ask whether it is still wanted. Where the air is in danger: ventilate.",
  timeToRespond: "15 min; at once where the air of the room is in danger.",
  priority: "low",
  limit:
    "Gas on for 20 min without an arc, beyond what is usual at this station and hour: where nobody ever welds at this hour, 20 min in all. An arc excludes it, and so does a declared purge until it has run twice as long as declared and 30 min longer (without an aim: 20 min beyond what is usual), in minutes or in volumes at its own flow. Urgent (after 5 min) where the well-mixed room could fall to 19.5 % oxygen, or reach 0.5 % or 3 % CO2, within 30 min, or the place is confined; a limit that near is told of a declared purge too.",
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
    // A declared purge is followed and not told to close while its aim is ahead. That the room's air
    // is about to pass a limit is told all the same.
    if (snapshot.purge !== null) {
      if (danger !== null && danger.inS < airDangerNearS) return activeHigh;
      const { onS, lateS } = purgeRun(snapshot.purge, snapshot);
      if (onS < lateS) return normal;
      return onS >= 3 * lateS ? activeMedium : activeLow;
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
    const late = purgeIsLate(snapshot);
    const what =
      snapshot.purge !== null
        ? late
          ? purgeLeftOn(snapshot.purge, snapshot)
          : says("purge-on", { s })
        : snapshot.arc !== null
          ? says("gas-on-without-arc", { s })
          : says("gas-on-long", { s });
    const danger = dangerOf(snapshot);
    if (danger !== null) {
      return { title: [what, dangerSaid(danger)], advice: dangerAdvice(snapshot) };
    }
    if (late)
      return { title: [what], advice: [says("purge-still-wanted"), says("pools-no-monitor")] };
    return { title: [what], advice: [says("close-torch"), says("pools-no-monitor")] };
  },
};
