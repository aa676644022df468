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
/**
 * In a confined place it is no longer than a weld there: with an arc signal only what runs on after an arc
 * or before one, longer than any post-flow; without one half as long again as 99 in 100 welds at this
 * station, within bounds, or what a hand weld seldom exceeds (s; common practice, no source).
 */
const confinedS = { least: 60, most: 300, unknown: 180, overUsual: 1.5 };
/**
 * Leaving a tank, or handing somebody out, takes a few minutes: a limit that is nearer than this is told as
 * soon as the gas has run for longer than a test of it, s (common practice, no source).
 */
const wayOutS = 180;
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

/** How long gas may run without an arc where it endangers the air, s. */
function dangerWait(snapshot: StationSnapshot, danger: AirDanger): number {
  const room = danger.reason === "confined" ? roomDangerOf(snapshot) : danger;
  if (room !== null && room.inS < wayOutS) return confinedS.least;
  if (danger.reason !== "confined") return dangerWaitS;
  if (snapshot.arc !== null) return confinedS.least;
  const habit = snapshot.usualSpellS;
  if (habit === null || habit.count < spellsForHabit) return confinedS.unknown;
  return Math.min(Math.max(confinedS.overUsual * habit.p99, confinedS.least), confinedS.most);
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

function dangerOf(snapshot: StationSnapshot, reckon?: typeof airDanger): AirDanger | null {
  if (snapshot.gasOnSince === null) return null;
  // Who declares a purge in a confined place was told so then; what its air comes to is told still,
  // and a purge that was forgotten there is a release like any other.
  const confinedToo = snapshot.purge === null || purgeIsLate(snapshot);
  const by = reckon ?? (confinedToo ? airDanger : roomDanger);
  return by(snapshot, snapshot.flow?.meanLpm ?? 0, snapshot.t - snapshot.gasOnSince);
}

function roomDangerOf(snapshot: StationSnapshot): AirDanger | null {
  return dangerOf(snapshot, roomDanger);
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
    "Gas on for 20 min without an arc, beyond what is usual at this station and hour: where nobody ever welds at this hour, 20 min in all. An arc excludes it, and so does a declared purge until it has run twice as long as declared and 30 min longer (without an aim: 20 min beyond what is usual), in minutes or in volumes at its own flow. Urgent where the well-mixed room could fall to 19.5 % oxygen, or reach 0.5 % or 3 % CO2, within 30 min: after 5 min; and where the place is confined: after 1 min without an arc where an arc signal is fitted, else after one and a half times what 99 in 100 welds last here, 1 min at least and 5 min at most (3 min while that is not known); after 1 min wherever a limit is less than 3 min away. A limit within 30 min is told of a declared purge too.",
  deadband: "None: the gas is on or off.",
  onDelayS: 10,
  offDelayS: 10,
  delayReason:
    "The 20 min are the limit itself, so that the habit of the station can lengthen it; the 10 s only outlast a sample that comes late. In a confined place nobody waits longer than a weld there lasts: who is inside breathes what the torch gives off, and a way out takes minutes.",
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
    const near = danger !== null && danger.inS < airDangerNearS;
    if (near && seconds >= dangerWait(snapshot, danger)) return activeHigh;
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
          : says(s < waitS(snapshot) ? "gas-on-for" : "gas-on-long", { s });
    const danger = dangerOf(snapshot);
    if (danger !== null) {
      return { title: [what, dangerSaid(danger)], advice: dangerAdvice(snapshot) };
    }
    if (late)
      return { title: [what], advice: [says("purge-still-wanted"), says("pools-no-monitor")] };
    return { title: [what], advice: [says("close-torch"), says("pools-no-monitor")] };
  },
};
