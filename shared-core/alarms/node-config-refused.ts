import type { AlarmCondition } from "./condition.ts";
import { says } from "./language/said.ts";
import { active as holds, normal } from "./verdicts.ts";

/** The node did not take the settings it was sent. */
export const nodeConfigRefused: AlarmCondition = {
  condition: "node-config-refused",
  title: "The node refused its settings",
  cause: "A setting is outside what the node can do, or its firmware is too old for it.",
  consequence: "The node keeps its former settings: pace, calibration or limits may be wrong.",
  operatorAction: "Correct the setting named, or update the node.",
  timeToRespond: "Within the day.",
  priority: "low",
  limit: "The node answers a settings message with an error.",
  deadband: "None: it is refused or not.",
  onDelayS: 5,
  offDelayS: 0,
  delayReason: "5 s: a corrected setting that follows at once makes it vanish.",
  suppresses: [],
  alarmClass: "equipment",
  latched: false,
  scope: "station",

  evaluate(snapshot) {
    return snapshot.node.configError === null ? normal : holds;
  },

  describe(snapshot) {
    return {
      title: [says("node-refused", { why: snapshot.node.configError })],
      advice: [says("correct-setting")],
    };
  },
};
