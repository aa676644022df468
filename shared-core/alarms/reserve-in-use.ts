import type { AlarmCondition } from "./condition.ts";
import { says } from "./language/said.ts";
import { active as holds, normal } from "./verdicts.ts";

/** The bank has changed over to its reserve side. */
export const reserveInUse: AlarmCondition = {
  condition: "reserve-in-use",
  title: "Running on the reserve",
  cause: "The main side is empty or closed and the change-over has switched to the reserve.",
  consequence: "When the reserve ends too, every station on this supply stops.",
  operatorAction: "Change the empty side, then set the change-over back if it has to be set.",
  timeToRespond: "Within the shift.",
  priority: "medium",
  limit: "The reserve side of the supply feeds.",
  deadband: "None: a side feeds or it does not.",
  onDelayS: 10,
  offDelayS: 60,
  delayReason:
    "10 s outlasts the moment in which both sides feed; off after 60 s, so that a change-over that swings back and forth rings once.",
  suppresses: ["cylinder-low", "cylinder-empty", "runs-out-soon"],
  alarmClass: "gas",
  latched: false,
  scope: "supply",

  evaluate(snapshot) {
    const since = snapshot.reserveInUseSince;
    if (since === undefined) return snapshot.supply?.reserve ? null : normal;
    return since === null ? normal : holds;
  },

  describe() {
    return { title: [says("on-reserve")], advice: [says("change-empty-side")] };
  },
};
