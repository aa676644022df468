import { surelyAbove, surelyBelow, z95 } from "./chance.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { says } from "./language/said.ts";
import { hold, active as holds, normal } from "./verdicts.ts";

/** Hose pressure over what is usual at this flow: a blockage above, an opening below. */
const blockedRatio = 1.25;
const openRatio = 0.75;
const deadband = 0.08;
/** 1 sigma where the estimator gives only two pressures. */
const roughSigma = 0.05;
const settleS = 3;

function ratioOf(snapshot: StationSnapshot): { ratio: number; sigma: number } | null {
  if (snapshot.backPressure !== undefined) return snapshot.backPressure;
  const { linePa, expectedLinePa } = snapshot;
  if (linePa === null || expectedLinePa === null || expectedLinePa <= 0) return null;
  return { ratio: linePa / expectedLinePa, sigma: roughSigma };
}

const why = "the usual hose pressure at this flow is not learnt yet";
const untold = { active: false, cannotTell: why };

/** The hose pressure at this flow is not what it used to be. Only where the sensor sits at the hose. */
export const backPressureChanged: AlarmCondition = {
  condition: "back-pressure-changed",
  title: "Hose or torch changed",
  cause:
    "Higher: a nozzle or diffuser choked with spatter, a kinked hose. Lower: a split seal, a hose off or cut, a cup missing.",
  consequence: "The gas that leaves the regulator does not reach the weld as it should.",
  operatorAction: "Look at nozzle, diffuser, torch seals and hose.",
  timeToRespond: "Before the next weld.",
  priority: "medium",
  limit:
    "Hose pressure at this flow more than 25 % off what is usual, with 95 % confidence. Needs a sensor after the flow device.",
  deadband: "8 % of the usual pressure.",
  onDelayS: 8,
  offDelayS: 10,
  delayReason:
    "8 s of gas-on, counted over several spells and after the first 3 s of each: the hose needs a moment to settle, a nozzle does not clear itself. Kept for 10 min with the gas off.",
  suppresses: [],
  alarmClass: "weld",
  latched: false,
  scope: "station",
  holdS: 600,
  untold: why,

  evaluate(snapshot, active) {
    if (snapshot.station.lineTap !== "hose") return normal;
    if (
      snapshot.mode !== "flowing" ||
      snapshot.gasOnSince === null ||
      snapshot.t - snapshot.gasOnSince < settleS
    )
      return hold;
    const seen = ratioOf(snapshot);
    if (seen === null) return untold;
    const off = active
      ? seen.ratio > blockedRatio - deadband || seen.ratio < openRatio + deadband
      : surelyAbove(seen.ratio, seen.sigma, blockedRatio, z95) ||
        surelyBelow(seen.ratio, seen.sigma, openRatio, z95);
    return off ? holds : normal;
  },

  describe(snapshot) {
    const seen = ratioOf(snapshot);
    if (seen === null) {
      return { title: [says("hose-pressure-odd")], advice: [says("look-at-torch")] };
    }
    const off = Math.abs(seen.ratio - 1);
    // Early on only the direction is known.
    const share = seen.sigma < 0.3 * off ? off : null;
    return seen.ratio > 1
      ? { title: [says("hose-blocked", { share })], advice: [says("clean-nozzle")] }
      : {
          title: [says("hose-open", { share })],
          advice: [says("look-for-opening"), says("leak-fluid")],
        };
  },
};
