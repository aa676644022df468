import { calibrationEndS } from "../documents/calibration.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { says } from "./language/said.ts";
import { active as holds, normal } from "./verdicts.ts";

/** When the station's calibration runs out, Unix s; null where none is on record. */
function dueT(snapshot: StationSnapshot): number | null {
  if (snapshot.calibrationDueT != null) return snapshot.calibrationDueT;
  return calibrationEndS({ calibrated: snapshot.station.flowDevice?.fit?.date });
}

const why = "the set-up gives no date: neither of a bench test nor of the sensors' calibration";
const untold = { active: false, cannotTell: why };

/** The last bench test is too long ago. */
export const calibrationOverdue: AlarmCondition = {
  condition: "calibration-overdue",
  title: "Calibration overdue",
  cause: "The last bench test or calibration is past its date.",
  consequence: "The flow figures may have drifted; records may not be accepted.",
  operatorAction: "Test the flow device at the bench, or have the sensors calibrated.",
  timeToRespond: "Within the week.",
  priority: "low",
  limit:
    "A year after the bench test on record or a sensor's calibration, or the date in the set-up.",
  deadband: "None: a date has passed or not.",
  onDelayS: 0,
  offDelayS: 0,
  delayReason: "No delay: a date does not bounce.",
  suppresses: [],
  alarmClass: "equipment",
  latched: false,
  scope: "station",
  judgedWhenSilent: true,
  untold: why,

  evaluate(snapshot) {
    const due = dueT(snapshot);
    if (due === null) return untold;
    return snapshot.t > due ? holds : normal;
  },

  describe(snapshot) {
    const due = dueT(snapshot);
    const s = due === null ? null : Math.max(86400, snapshot.t - due);
    return { title: [says("calibration-overdue", { s })], advice: [says("test-at-bench")] };
  },
};
