import { z95 } from "./chance.ts";
import type { AlarmCondition } from "./condition.ts";
import { bleedAdvice, lineLimitPa, secondsToLimit, trendUnsettled } from "./idle-line-advice.ts";
import { says } from "./language/said.ts";
import { activeHigh, normal } from "./verdicts.ts";

/** Share of the limit that counts as reached (sensor and gauge errors lie inside), and the way back. */
const reachedShare = 0.95;
const clearShare = 0.9;
/** Lead at which a rising line counts, whatever drives it, s. */
const leadS = 1200;
const leadClearS = 2400;

const why = "the set-up gives no highest line pressure (regulator.maxLineBar)";
const noLimit = { active: false, cannotTell: why };
const rising = { ...activeHigh, onDelayS: 30 };

/** The line is at its limit, or will be within minutes. */
export const linePressureHigh: AlarmCondition = {
  condition: "line-pressure-high",
  title: "Line pressure near its limit",
  cause:
    "A seat that leaks, a regulator set too high, heat on a shut-in line, or CO2 snow that turns to gas.",
  consequence: "A hose, a gauge or a regulator can burst; a relief device may open.",
  operatorAction:
    "Stand clear, close the cylinder valve, bleed the line with gas test or purge, never by the trigger with the power source on.",
  timeToRespond: "Within 10 min, at once where the limit is reached.",
  priority: "high",
  limit:
    "Line pressure at 95 % of the highest that regulator, hose and torch may see; or on its way to be there within 20 min with 95 % confidence that it rises, whatever drives it (from 120 s after gas-off).",
  deadband: "5 % of the limit.",
  onDelayS: 2,
  offDelayS: 30,
  delayReason:
    "2 s at the limit: a knock when the torch valve shuts is shorter. 30 s for a trend, which is already a mean over minutes. Off after 30 s below.",
  suppresses: ["trapped-line-pressure"],
  alarmClass: "safety",
  latched: true,
  scope: "station",
  untold: why,

  evaluate(snapshot, active, past) {
    if (snapshot.linePa === null) return null;
    const limitPa = lineLimitPa(snapshot.station);
    if (limitPa === null) return noLimit;
    if (snapshot.linePa >= limitPa * (active ? clearShare : reachedShare)) return activeHigh;
    const idle = snapshot.idleLine;
    if (idle === null || trendUnsettled(snapshot, past)) return normal;
    if (idle.trendPaPerS - z95 * idle.trendSigmaPaPerS > 0) {
      const inS = secondsToLimit(snapshot, limitPa * reachedShare);
      if (inS !== null && inS < (active ? leadClearS : leadS)) return rising;
    }
    return normal;
  },

  describe(snapshot) {
    const limitPa = lineLimitPa(snapshot.station);
    const pa = snapshot.linePa;
    const inS = limitPa === null ? null : secondsToLimit(snapshot, limitPa);
    const title =
      pa !== null && limitPa !== null && pa < limitPa * clearShare && inS !== null
        ? says("line-rises", { pa, limitPa, inS })
        : says("line-at-limit", { pa, limitPa });
    return {
      title: [title],
      advice: [
        says("close-cylinder"),
        says("may-burst"),
        bleedAdvice(snapshot.station, null),
        ...(snapshot.idleLine?.thawing ? [says("still-thawing")] : []),
      ],
    };
  },
};
