import { surelyBelow, z95 } from "./chance.ts";
import type { AlarmCondition } from "./condition.ts";
import { raiseFlowAdvice } from "./dial-advice.ts";
import { says } from "./language/said.ts";
import { hold, active as holds, normal } from "./verdicts.ts";
import { dialName, flowSpokenOf } from "./wording.ts";

/** The valve, the hose surge and the line settle within about this time after gas-on. */
const settleS = 2;
/** The flow must come back this far above the least before it counts as enough again. */
const deadbandShare = 0.03;

/** Gas flows, but less than the weld needs. */
export const underShielding: AlarmCondition = {
  condition: "under-shielding",
  title: "Too little shielding gas",
  cause:
    "Flow device set too low or read at the wrong place, line pressure below the one the scale is made for, a cylinder near its end, a regulator that sags or ices.",
  consequence: "Air reaches the weld pool: porosity, oxidation, a spoiled tungsten, rework.",
  operatorAction:
    "Stop at the next chance, set the flow device to the reading given, or change the cylinder where the regulator no longer holds its flow.",
  timeToRespond: "Before the next weld; within 1 min.",
  priority: "high",
  limit:
    "True flow below the least of the weld procedure with 95 % confidence, while gas is on. A declared purge excludes it; it ends with an arc, and with 15 s of gas-off once its aim is reached or where it was broken off before.",
  deadband: "3 % of the least flow.",
  onDelayS: 5,
  offDelayS: 4,
  delayReason:
    "Counted in seconds of gas-on, over several spells, after the first 2 s of each: a starting value of 15 s is longer than many a tack. 5 s outlasts the surge of the hose and two packs of the node. Off after 4 s of enough flow; kept for 10 min with the gas off, so that tacks in a row ring once.",
  suppresses: ["reading-shift"],
  alarmClass: "weld",
  latched: false,
  scope: "station",
  holdS: 600,

  evaluate(snapshot, active) {
    if (snapshot.job?.gasless) return normal;
    if (snapshot.mode !== "flowing" || snapshot.gasOnSince === null || snapshot.purge !== null)
      return hold;
    if (snapshot.t - snapshot.gasOnSince < settleS) return hold;
    const least = snapshot.demand?.minimumLpm ?? null;
    if (snapshot.flow === null || least === null) return null;
    const { meanLpm, sigmaLpm } = snapshot.flow;
    const low = active
      ? meanLpm < least * (1 + deadbandShare)
      : surelyBelow(meanLpm, sigmaLpm, least, z95);
    return low ? holds : normal;
  },

  describe(snapshot) {
    const least = snapshot.demand?.minimumLpm ?? null;
    const flow = flowSpokenOf(snapshot)?.meanLpm ?? null;
    const short = least !== null && flow !== null && flow < least ? 1 - flow / least : null;
    const mayLookRight =
      snapshot.station.flowDevice?.kind === "variable-area" &&
      snapshot.indicated?.reading != null &&
      short !== null;
    return {
      title: [says("too-little-gas", { share: short !== null && short >= 0.01 ? short : null })],
      advice: [
        ...raiseFlowAdvice(snapshot),
        ...(mayLookRight ? [says("may-look-right", { device: dialName(snapshot) })] : []),
        says("check-porosity"),
      ],
    };
  },
};
