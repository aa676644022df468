import type { AlarmCondition } from "./condition.ts";
import { says } from "./language/said.ts";
import { active as holds, normal } from "./verdicts.ts";

/** Alarms are raised, but no message gets through to anybody. */
export const nobodyReachable: AlarmCondition = {
  condition: "nobody-reachable",
  title: "Nobody can be reached",
  cause: "The internet connection is down, or every way of delivery to every contact is refused.",
  consequence: "An alarm would stay unheard.",
  operatorAction: "Watch the screen; restore the connection, or set up a contact and test it.",
  timeToRespond: "30 min.",
  priority: "high",
  limit: "Messages wait and every way of delivery to every contact fails.",
  deadband: "One message that gets through ends it.",
  onDelayS: 120,
  offDelayS: 0,
  delayReason:
    "120 s: several attempts with growing pauses come first, so that a router that restarts does not ring.",
  suppresses: [],
  alarmClass: "safety",
  latched: false,
  scope: "site",
  judgedWhenSilent: true,

  evaluate(snapshot) {
    const since = snapshot.nobodyReachableSince;
    if (since === undefined) return null;
    return since === null ? normal : { ...holds, since };
  },

  describe() {
    return { title: [says("nobody-reachable")], advice: [says("watch-the-screen")] };
  },
};
