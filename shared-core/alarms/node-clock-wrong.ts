import type { AlarmCondition } from "./condition.ts";
import { says } from "./language/said.ts";
import { active as holds, normal } from "./verdicts.ts";

/** The node's clock is ahead, behind or not set; so far ahead that its readings are refused, it is `withRefusedClock`. */
export const nodeClockWrong: AlarmCondition = {
  condition: "node-clock-wrong",
  title: "The node's clock is wrong",
  cause:
    "The node cannot reach a time server, or its clock was set wrongly. Where several nodes say so at once, it is the gateway's own clock that is wrong.",
  consequence:
    "Times in records are doubtful; time left and rates lose accuracy. More than 5 min ahead, the node's readings are refused: every figure of the station is old, and no other alarm can be judged.",
  operatorAction:
    "Let the node reach the shop's time, then restart it. Where readings are refused, go by the gauges meanwhile.",
  timeToRespond: "Within the day; 15 min where readings are refused.",
  priority: "low",
  limit:
    "The node's times and the gateway's do not agree, or the node has no clock. Behind: its packs lag by the same, more than 2 min, for 3 min while they come as they are made; from then on its times are moved by that, so that its alarms ring. What waited for the network comes faster than it was made and is no wrong clock. More than 5 min ahead its readings are refused: then medium, or the priority of what it hides, and it explains the silence that follows, since the node is heard and looking for its power or network would be in vain.",
  deadband: "None: the gateway judges the difference.",
  onDelayS: 180,
  offDelayS: 60,
  delayReason:
    "180 s: after a start the node needs one or two of the minute's time messages. None where readings are refused: the time that they carry is the proof. Off after 60 s, so that a clock that is set to and fro rings once.",
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
