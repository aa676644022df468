import type { AlarmCondition } from "./condition.ts";
import { says } from "./language/said.ts";
import { active as holds, normal } from "./verdicts.ts";

/** The node's clock is off or not set. */
export const nodeClockWrong: AlarmCondition = {
  condition: "node-clock-wrong",
  title: "The node's clock is wrong",
  cause: "The node cannot reach a time server, or its clock was set wrongly.",
  consequence: "Times in records are doubtful; time left and rates lose accuracy.",
  operatorAction: "Let the node reach the shop's time, then restart it.",
  timeToRespond: "Within the day.",
  priority: "low",
  limit: "The node's times and the gateway's do not agree, or the node has no clock.",
  deadband: "None: the gateway judges the difference.",
  onDelayS: 180,
  offDelayS: 60,
  delayReason: "180 s: after a start the node needs one or two of the minute's time messages.",
  suppresses: [],
  alarmClass: "equipment",
  latched: false,
  scope: "station",

  evaluate(snapshot) {
    return snapshot.node.clockWrong ? holds : normal;
  },

  describe() {
    return { title: [says("node-clock-wrong")], advice: [says("check-node-time")] };
  },
};
