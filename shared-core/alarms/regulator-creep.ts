import { surelyAbove, z95 } from "./chance.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { bleedAdvice, lineLimitPa, secondsToLimit, trendUnsettled } from "./idle-line-advice.ts";
import { says } from "./language/said.ts";
import { activeHigh, hold, active as holds, normal } from "./verdicts.ts";
import { comesBack } from "./warm-delivery.ts";

/** Rise beyond heat that counts, Pa/s: 0.005 bar/min, a tenth of what must be found in 5 min. */
const leastRisePaPerS = 8;
/**
 * A hose in the sun warms this fast, K/s: 60 K an hour, and no probe sits on it (common practice,
 * no source). 0.05 bar/min in a 4 bar line is three times as much.
 */
const sunKPerS = 60 / 3600;
const sunHours = { from: 5, to: 21 };
const standardPa = 101_325;
const roomK = 293;
/** Up to here a rise may be the last of the lock-up: it has to last, Pa/s and s. */
const slowRisePaPerS = 30;
/** Lead to the limit that makes it urgent, s. */
const urgentS = 1800;

const urgent = { ...activeHigh, onDelayS: 20 };
const slow = { ...holds, onDelayS: 900 };
const why =
  "the regulator may still be thawing after a cold run: the rise may be warming gas, CO2 snow or a leaking seat";
const thawing = { active: false, cannotTell: why };

/** Rise that sun on the hose may explain, Pa/s; 0 by night. */
function sunPaPerS(snapshot: StationSnapshot): number {
  const hour = snapshot.localHour;
  if (hour !== null && (hour < sunHours.from || hour >= sunHours.to)) return 0;
  return ((snapshot.linePa ?? 0) + standardPa) * (sunKPerS / (snapshot.ambientK ?? roomK));
}

/** The idle line rises faster than heat explains. */
export const regulatorCreep: AlarmCondition = {
  condition: "regulator-creep",
  title: "Regulator leaks through",
  cause:
    "A dirty or worn seat that lets gas through with the torch closed, or CO2 snow in a cold regulator that turns to gas.",
  consequence: "The line climbs to its limit or to cylinder pressure: hose or gauge can burst.",
  operatorAction:
    "Close the cylinder valve, bleed the line with gas test or purge, never by the trigger with the power source on; if it climbs again with the valve closed, take the regulator out of service.",
  timeToRespond: "Within the hour; within 10 min where the trend reaches the limit.",
  priority: "medium",
  limit:
    "Idle line rises faster than heat can explain by 0.005 bar/min, with 95 % confidence, from 120 s after gas-off. By day, sun on the hose may explain 60 K an hour. While a cold body thaws, only above both bounds of heat; where it was below -8 °C, only above where the line came to rest before the cold, too. With no probe on the body its cold is reckoned from the gas that flowed, on the cold side; where it may have been below -8 °C, nothing is concluded for 30 min after.",
  deadband: "The rise must fall within what heat explains.",
  onDelayS: 90,
  offDelayS: 600,
  delayReason:
    "120 s of lock-up are left out, then 90 s of steady rise, so that 0.05 bar/min is found within 5 min of idle; 15 min for a rise under 0.02 bar/min, which may be the last of the lock-up; 20 s where the limit is less than 30 min away. Off after 10 min of a steady line: a seat that holds for a moment is not mended.",
  suppresses: ["trapped-line-pressure"],
  alarmClass: "safety",
  latched: true,
  scope: "station",
  holdS: 14400,
  untold: why,

  evaluate(snapshot, active, past) {
    if (snapshot.mode === "flowing") return hold;
    if (snapshot.linePa === null) return null;
    const idle = snapshot.idleLine;
    if (idle === null) return snapshot.mode === "unknown" ? null : normal;
    if (trendUnsettled(snapshot, past)) return hold;
    const heat = Math.max(idle.heatPaPerS, sunPaPerS(snapshot));
    const bound = idle.thawing ? Math.max(heat, idle.thawPaPerS ?? Number.POSITIVE_INFINITY) : heat;
    const rises = active
      ? idle.trendPaPerS > bound
      : surelyAbove(idle.trendPaPerS, idle.trendSigmaPaPerS, bound + leastRisePaPerS, z95);
    if (!rises) return idle.thawing && idle.trendPaPerS > heat ? thawing : normal;
    if (!active && idle.thawing && comesBack(snapshot, past.warm)) return thawing;
    const limitPa = lineLimitPa(snapshot.station);
    const inS = limitPa === null ? null : secondsToLimit(snapshot, limitPa);
    return inS !== null && inS < urgentS
      ? urgent
      : idle.trendPaPerS - bound < slowRisePaPerS
        ? slow
        : holds;
  },

  describe(snapshot) {
    const idle = snapshot.idleLine;
    const limitPa = lineLimitPa(snapshot.station);
    const inS = limitPa === null ? null : secondsToLimit(snapshot, limitPa);
    const paPerMinute = idle === null || idle.trendPaPerS <= 0 ? null : idle.trendPaPerS * 60;
    return {
      title: [says("line-climbs", { paPerMinute, inS: inS === null || inS > 86400 ? null : inS })],
      // The one step that stops it first: a lock screen shows no more.
      advice: [
        says("close-cylinder"),
        says("more-than-heat"),
        says("may-burst"),
        bleedAdvice(snapshot.station, null),
      ],
    };
  },
};
