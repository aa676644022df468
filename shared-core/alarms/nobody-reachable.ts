import type { AlarmCondition } from "./condition.ts";
import { says } from "./language/said.ts";
import { active as holds, normal } from "./verdicts.ts";

/** Alarms are raised, but no message gets through to anybody, or nobody is named for one of them. */
export const nobodyReachable: AlarmCondition = {
  condition: "nobody-reachable",
  title: "Nobody can be reached",
  cause:
    "The internet connection is down, or every way of delivery to every contact is refused; or no step and no digest names a person for an alarm that rings.",
  consequence: "An alarm would stay unheard.",
  operatorAction:
    "Watch the screen; restore the connection, or set up a contact and test it. Name somebody for each alarm.",
  timeToRespond: "30 min.",
  priority: "high",
  limit:
    "Messages wait and every way of delivery to every contact fails; or, once there are contacts, a high or medium alarm rings that no step and no digest brings to a person (e-mail, push or webhook).",
  deadband:
    "One message that gets through ends it; an alarm for nobody does when somebody acknowledges it, it goes, or somebody is named for it.",
  onDelayS: 120,
  offDelayS: 0,
  delayReason:
    "120 s: several attempts with growing pauses come first, so that a router that restarts does not ring. None for an alarm that goes to nobody: waiting changes nothing there.",
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
