import type { AlarmCondition } from "./condition.ts";
import { says } from "./language/said.ts";
import { normal } from "./verdicts.ts";

/** No word from the node: nothing about the station is known. */
export const nodeSilent: AlarmCondition = {
  condition: "node-silent",
  title: "No word from the node",
  cause: "No power, no network, or the node has failed.",
  consequence: "Every figure of the station is old; no other alarm can be judged.",
  operatorAction: "Check the node's power and the network. Go by the gauges meanwhile.",
  timeToRespond: "15 min.",
  priority: "medium",
  limit:
    "The broker reports the station's node gone, or no pack of it for three times its pace, whatever other nodes of its supply say. A planned power-off excludes it until ten minutes after its end: a node that is not back by then rings. Once the gateway starts, or its machine wakes, each node has three minutes to be heard. Takes the priority of what it hides.",
  deadband: "None: packs arrive or not.",
  onDelayS: 0,
  offDelayS: 10,
  delayReason:
    "No on-delay: the three times of pace are the delay, and a last will is certain. The ten minutes after a planned power-off let node and network start. Off after 10 s, so that a node that drops out again and again rings once.",
  suppresses: [
    "under-shielding",
    "over-flow",
    "arc-without-gas",
    "runs-out-soon",
    "cylinder-low",
    "cylinder-empty",
    "reserve-in-use",
    "trapped-line-pressure",
    "line-pressure-high",
    "regulator-creep",
    "regulator-icing",
    "back-pressure-changed",
    "leak",
    "gas-left-on",
    "reading-shift",
    "wrong-gas",
    "sensor-fault",
    "node-clock-wrong",
    "node-config-refused",
    "node-supply-low",
  ],
  alarmClass: "equipment",
  latched: false,
  scope: "station",
  judgedWhenSilent: true,
  inheritsPriority: true,

  evaluate(snapshot) {
    const since = snapshot.node.silentSince;
    if (since === null || snapshot.node.plannedOff) return normal;
    return { active: true, since };
  },

  describe(snapshot, occasion) {
    const s = Math.max(0, snapshot.t - occasion.since);
    const conditions = occasion.hidden.join(" ");
    return {
      title: [says("node-silent", { s: s >= 60 ? s : null })],
      advice: [
        says("go-by-the-gauges"),
        ...(conditions === "" ? [] : [says("standing-then", { conditions })]),
      ],
    };
  },
};
