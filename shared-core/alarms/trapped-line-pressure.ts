import { z95 } from "./chance.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { bleedAdvice, lineLimitPa, secondsToLimit, trendUnsettled } from "./idle-line-advice.ts";
import { says } from "./language/said.ts";
import { activeHigh, activeLow, activeMedium, hold, normal } from "./verdicts.ts";

/** A line below this gauge pressure counts as bled, Pa. */
const bledPa = 0.3e5;
const bledClearPa = 0.2e5;
/** Share of the limit at which heat becomes a matter, and at which it ceases to be one. */
const heatShare = 0.9;
const heatClearShare = 0.85;
/** Lead that a person needs to get to the line, s. */
const urgentS = 1800;

const trapped = { ...activeLow, onDelayS: 600 };
const heating = { ...activeMedium, onDelayS: 120 };
const urgent = { ...activeHigh, onDelayS: 20 };

/** True where the trend, whatever the forecast says, reaches the limit soon: no probe sits on the hose. */
function reachesSoon(snapshot: StationSnapshot, active: boolean): boolean {
  const idle = snapshot.idleLine;
  const limitPa = lineLimitPa(snapshot.station);
  if (limitPa === null || idle === null || idle.thawing) return false;
  if (idle.trendPaPerS - z95 * idle.trendSigmaPaPerS <= 0) return false;
  const inS = secondsToLimit(snapshot, limitPa);
  return inS !== null && inS < urgentS * (active ? 1.5 : 1);
}

/** True where heat alone nears the limit at the day's hottest. While the body thaws that says nothing. */
function heatsTowardsLimit(snapshot: StationSnapshot, active: boolean): boolean {
  const limitPa = lineLimitPa(snapshot.station);
  const idle = snapshot.idleLine;
  if (limitPa === null || idle === null || idle.thawing) return false;
  return idle.forecastPa >= limitPa * (active ? heatClearShare : heatShare);
}

/** A shut-in line holds pressure, or warms towards its limit. */
export const trappedLinePressure: AlarmCondition = {
  condition: "trapped-line-pressure",
  title: "Pressure left in the line",
  cause:
    "The cylinder valve was closed but the line was not bled, or the sun or a warm shop heats a shut-in line.",
  consequence:
    "Hose, gauge and regulator stay loaded; heat raises the pressure further, and a coupling opened under pressure can hurt.",
  operatorAction:
    "Close the cylinder valve; bleed the line to 0 with gas test or purge, never by the trigger with the power source on; back the screw off.",
  timeToRespond: "Before leaving; within 30 min where heat carries it to the limit.",
  priority: "low",
  limit:
    "Cylinder valve closed with more than 0.3 bar in the line; or the forecast for the day's hottest, by heat alone, reaches 90 % of the line's limit; or its trend is there within 30 min.",
  deadband: "0.1 bar of line pressure; 5 % of the line's limit.",
  onDelayS: 600,
  offDelayS: 10,
  delayReason:
    "10 min for a line that is merely shut in: the valve is often closed for a short break, and the line bled on leaving. 2 min where heat nears the limit, 20 s where the trend reaches it within 30 min. Off 10 s after bleeding.",
  suppresses: [],
  alarmClass: "safety",
  latched: false,
  scope: "station",
  holdS: 600,

  evaluate(snapshot, active, past) {
    if (snapshot.mode === "flowing") return hold;
    if (snapshot.linePa === null) return null;
    if (snapshot.linePa < (active ? bledClearPa : bledPa)) return normal;
    if (!trendUnsettled(snapshot, past) && reachesSoon(snapshot, active)) return urgent;
    if (heatsTowardsLimit(snapshot, active)) return heating;
    if (snapshot.mode === "valve-closed") return trapped;
    return snapshot.mode === "unknown" ? null : normal;
  },

  describe(snapshot) {
    const pa = snapshot.linePa;
    const limitPa = lineLimitPa(snapshot.station);
    const idle = snapshot.idleLine;
    const soon = reachesSoon(snapshot, true);
    if ((soon || heatsTowardsLimit(snapshot, true)) && idle !== null && limitPa !== null) {
      const inS = soon ? (secondsToLimit(snapshot, limitPa) ?? 0) : null;
      const reachPa = soon ? limitPa : Math.max(idle.forecastPa, pa ?? 0);
      return {
        title: [says("line-warms", { pa, reachPa, inS })],
        advice: [
          bleedAdvice(snapshot.station, snapshot.mode === "valve-closed"),
          says("may-burst"),
        ],
      };
    }
    return {
      title: [says("line-left-full", { pa })],
      advice: [
        bleedAdvice(snapshot.station, snapshot.mode === "valve-closed"),
        ...(idle !== null && !idle.thawing && limitPa !== null
          ? [says("heat-alone", { pa: idle.forecastPa, limitPa })]
          : []),
      ],
    };
  },
};
