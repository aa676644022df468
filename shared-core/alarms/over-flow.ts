import { surelyAbove, z95 } from "./chance.ts";
import type { AlarmCondition } from "./condition.ts";
import { dialAdvice } from "./dial-advice.ts";
import { says } from "./language/said.ts";
import { hold, active as holds, normal } from "./verdicts.ts";
import { flowSpokenOf } from "./wording.ts";

/** The stored gas of the hose passes in the first seconds of a spell: a surge, not a setting. */
const surgeS = 5;
const deadbandShare = 0.03;

/** More gas than the weld can use. */
export const overFlow: AlarmCondition = {
  condition: "over-flow",
  title: "Too much shielding gas",
  cause:
    "Flow device set too high, or dialled up on a nearly empty cylinder and not turned back, line pressure above the one the scale is made for.",
  consequence: "Gas is wasted; a jet that turns turbulent draws air into the weld.",
  operatorAction: "Turn the flow device down to the reading given.",
  timeToRespond: "Within the shift.",
  priority: "low",
  limit: "True flow above the most of the weld procedure with 95 % confidence, while gas is on.",
  deadband: "3 % of the greatest flow.",
  onDelayS: 20,
  offDelayS: 10,
  delayReason:
    "Counted in seconds of gas-on after the first 5 s of each spell, which hold the surge of the hose; 20 s because waste does no harm within a tack. Kept for 10 min with the gas off.",
  suppresses: ["reading-shift"],
  alarmClass: "weld",
  latched: false,
  scope: "station",
  holdS: 600,

  evaluate(snapshot, active) {
    if (snapshot.job?.gasless) return normal;
    if (snapshot.mode !== "flowing" || snapshot.gasOnSince === null || snapshot.purge !== null)
      return hold;
    if (snapshot.t - snapshot.gasOnSince < surgeS) return hold;
    const most = snapshot.demand?.maximumLpm ?? null;
    if (snapshot.flow === null || most === null) return null;
    const { meanLpm, sigmaLpm } = snapshot.flow;
    const high = active
      ? meanLpm > most * (1 - deadbandShare)
      : surelyAbove(meanLpm, sigmaLpm, most, z95);
    return high ? holds : normal;
  },

  describe(snapshot) {
    const most = snapshot.demand?.maximumLpm ?? null;
    const flow = flowSpokenOf(snapshot)?.meanLpm ?? null;
    const over = most !== null && flow !== null && flow > most ? flow / most - 1 : null;
    return {
      title: [says("too-much-gas", { share: over !== null && over >= 0.01 ? over : null })],
      advice: [
        ...(dialAdvice(snapshot, "down") ?? [says("turn-flow-down")]),
        says("jet-draws-air"),
      ],
    };
  },
};
