import type { AlarmCondition } from "./condition.ts";
import { says } from "./language/said.ts";
import { activeHigh, activeMedium, hold, normal } from "./verdicts.ts";
import { coldHasBegun, freezingK } from "./warm-delivery.ts";

/** Chance that delivery falls by 5 % at which the warning is given, and withdrawn. */
const warnChance = 0.3;
const clearChance = 0.1;
/** Forecast body temperature at which a warning without a chance is withdrawn; given below freezing. */
const freezeClearK = 276.15;

/**
 * A forecast warmer than this warns of no ice where this regulator was never seen to fall short in
 * the cold, K: -8 °C, the warmest at which an unknown one is taken to fall short three times in ten
 * (as the chance reckons: -12 ± 7 °C; common practice, no source). The gas itself brings no water:
 * shielding gases are dry to dew points far below that (ISO 14175, from memory).
 */
const coldEnoughK = 265.15;
/** Forecast this much above the temperature at which it once fell short still warns, K. */
const nearK = 2;

/** Cold is about to throttle the regulator. */
const why =
  "the temperature of the regulator's body is not known: no probe on it, or too few readings";
const untold = { active: false, cannotTell: why };

export const regulatorIcing: AlarmCondition = {
  condition: "regulator-icing",
  title: "Regulator about to ice up",
  cause:
    "More flow than the body can warm: expanding CO2 and mixes cool it below freezing, humid air freezes on it, CO2 can turn to snow inside.",
  consequence:
    "Delivery drifts or stops in the middle of a weld; snow left inside lifts the line later.",
  operatorAction: "Pause or lower the flow; fit a gas heater or a second cylinder for such flows.",
  timeToRespond: "A few minutes.",
  priority: "medium",
  limit:
    "Chance above 30 % that delivery falls by 5 % at the present flow, with the body forecast below -8 °C or near where this regulator once fell short; or, where only the body's temperature is known, a forecast below 0 °C. High once the line is 3 % below what it was with the body above 0 °C, beyond what the cylinder's pressure explains.",
  deadband: "Chance back below 10 %; 3 K of forecast.",
  onDelayS: 20,
  offDelayS: 120,
  delayReason:
    "20 s: the body cools over minutes, and a forecast from one sample is rough. Off after 120 s, since the body stays cold after the flow ends.",
  suppresses: [],
  alarmClass: "weld",
  latched: false,
  scope: "station",
  holdS: 120,
  untold: why,

  evaluate(snapshot, active, past) {
    if (snapshot.mode !== "flowing" || snapshot.gasOnSince === null) return hold;
    if (coldHasBegun(snapshot, past.warm)) return activeHigh;
    if (snapshot.icing) {
      const warmest = Math.max(coldEnoughK, Math.min(freezingK, (past.fellK ?? 0) + nearK));
      const cold =
        snapshot.bodyForecastK === null || snapshot.bodyForecastK < warmest + (active ? nearK : 0);
      return cold && snapshot.icing.probability >= (active ? clearChance : warnChance)
        ? activeMedium
        : normal;
    }
    if (snapshot.bodyForecastK === null) return untold;
    return snapshot.bodyForecastK < (active ? freezeClearK : freezingK) ? activeMedium : normal;
  },

  describe(snapshot) {
    return {
      title: [
        says("may-ice-up", {
          inS: snapshot.icing ? snapshot.icing.withinS : null,
          bodyK: snapshot.regulatorK,
        }),
      ],
      advice: [
        says("pause-or-less"),
        snapshot.station.regulator?.heated ? says("heater-on") : says("use-heater"),
        says("let-it-thaw"),
      ],
    };
  },
};
