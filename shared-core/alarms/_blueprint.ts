import { surelyAbove, z95 } from "./chance.ts";
import type { AlarmCondition } from "./condition.ts";
import { says } from "./language/said.ts";
import { active as holds, normal } from "./verdicts.ts";

/**
 * The whole shape of an alarm condition, to copy. This one is not registered.
 *
 * 1. Copy this file to `<id>.ts`; id, file and export carry the same name.
 * 2. Fill in every part of the rationalization. An alarm to which nobody can answer is none.
 * 3. Add it to `index.ts`, and its tests to `tests/shared-core/alarms/`.
 * 4. Write the table anew: `npx tsx gateway/alarms/write-alarm-table.ts`.
 */

const limitK = 325;
const deadbandK = 3;

export const cylinderHot: AlarmCondition = {
  condition: "cylinder-hot",
  title: "Cylinder too hot",
  cause: "The sun or a heater warms the cylinder.",
  consequence: "Its pressure rises; a relief device may open.",
  operatorAction: "Move it into the shade; do not cool it with ice.",
  timeToRespond: "30 min.",
  priority: "medium",
  limit: "Cylinder wall above 52 °C with 95 % confidence.",
  deadband: "3 K.",
  onDelayS: 60,
  offDelayS: 60,
  delayReason: "60 s: a steel wall changes slowly, a sensor in the sun does not.",
  suppresses: [],
  alarmClass: "safety",
  latched: false,
  scope: "station",

  evaluate(snapshot, active) {
    if (snapshot.cylinderK === null) return null;
    const hot = active
      ? snapshot.cylinderK > limitK - deadbandK
      : surelyAbove(snapshot.cylinderK, 0.5, limitK, z95);
    return hot ? holds : normal;
  },

  describe(snapshot) {
    return {
      title: [says("cylinder-hot", { bodyK: snapshot.cylinderK })],
      advice: [says("into-the-shade")],
    };
  },
};
