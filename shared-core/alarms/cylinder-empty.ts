import { surelyBelow, z80 } from "./chance.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { says } from "./language/said.ts";
import { activeHigh, active as holds, normal } from "./verdicts.ts";

/** Left in a cylinder at change-over where the set-up says nothing, bar (common practice: 3 to 15). */
const residualDefaultBar = 5;
/** The pressure must rise this far above the residual one before the cylinder counts as not empty. */
const deadbandPa = 1.5e5;

function cylinderOf(snapshot: StationSnapshot) {
  return snapshot.supply?.cylinder ?? snapshot.station.cylinder ?? null;
}

function sensorSigmaPa(snapshot: StationSnapshot): number {
  const sensor = snapshot.supply?.sensors?.cylinder ?? snapshot.station.sensors?.cylinder;
  return sensor === undefined
    ? 0
    : (sensor.rangeBar * 1e5 * sensor.accuracyPercentFs) / 100 / Math.sqrt(3);
}

/** The cylinder is down to what should stay in it. */
export const cylinderEmpty: AlarmCondition = {
  condition: "cylinder-empty",
  title: "Cylinder empty",
  cause: "The cylinder pressure is below the residual one that should stay in it.",
  consequence:
    "The regulator no longer holds its flow; below atmospheric pressure air and moisture get in.",
  operatorAction: "Stop, close the cylinder valve, change the cylinder.",
  timeToRespond: "Now, before the next weld.",
  priority: "medium",
  limit:
    "Cylinder pressure below the residual pressure with 80 % confidence, and the content agrees. A closed and bled valve is not empty.",
  deadband: "1.5 bar.",
  onDelayS: 20,
  offDelayS: 10,
  delayReason:
    "20 s: bleeding the high side after closing the valve runs through the same pressures in a few seconds; a 50 L cylinder at 10 bar still feeds a torch for many minutes.",
  suppresses: [
    "runs-out-soon",
    "cylinder-low",
    "under-shielding",
    "reading-shift",
    "wrong-gas",
    "back-pressure-changed",
  ],
  alarmClass: "weld",
  latched: false,
  scope: "supply",

  evaluate(snapshot, active) {
    // With the valve closed the sensor sees the high side only: nothing is concluded.
    if (snapshot.mode === "valve-closed" || snapshot.mode === "unknown") return null;
    const cylinder = cylinderOf(snapshot);
    if (snapshot.cylinderPa === null || cylinder === null) return null;
    const residualPa = (cylinder.residualBar ?? residualDefaultBar) * 1e5;
    const low = active
      ? snapshot.cylinderPa < residualPa + deadbandPa
      : surelyBelow(snapshot.cylinderPa, sensorSigmaPa(snapshot), residualPa, z80);
    if (!low) return normal;
    // A content that is surely there contradicts the pressure: the valve is being closed.
    const content = snapshot.content;
    if (content !== null && content.usableL - 2 * content.sigmaL > 0.02 * content.fullL) {
      return normal;
    }
    return snapshot.gasOnSince !== null || snapshot.arc === true ? activeHigh : holds;
  },

  describe(snapshot) {
    const known = snapshot.cylinderPa !== null && snapshot.cylinderPa >= 0;
    return {
      title: [says("cylinder-empty", { pa: known ? snapshot.cylinderPa : null })],
      advice: [says("change-empty")],
    };
  },
};
