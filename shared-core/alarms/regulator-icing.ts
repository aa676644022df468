import type { AlarmCondition } from "./condition.ts";
import { says } from "./language/said.ts";
import { activeHigh, activeMedium, hold, normal } from "./verdicts.ts";

/** Chance that delivery falls by 5 % at which the warning is given, and withdrawn. */
const warnChance = 0.3;
const clearChance = 0.1;
/** Forecast body temperature that warns where no chance is given: water freezes, 273.15 K. */
const freezeK = 273.15;
const freezeClearK = 276.15;
/** Delivery already this far down while the body is cold: it has begun. */
const begunShare = 0.97;

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
    "Chance above 30 % that delivery falls by 5 % at the present flow; or, where only the body's temperature is known, a forecast below 0 °C.",
  deadband: "Chance back below 10 %; 3 K of forecast.",
  onDelayS: 20,
  offDelayS: 120,
  delayReason:
    "20 s: the body has a time constant of minutes, and a forecast from one sample is rough. Off after 120 s, since the body stays cold after the flow ends.",
  suppresses: [],
  alarmClass: "weld",
  latched: false,
  scope: "station",
  holdS: 120,
  untold: why,

  evaluate(snapshot, active) {
    if (snapshot.mode !== "flowing" || snapshot.gasOnSince === null) return hold;
    const begun =
      snapshot.linePa !== null &&
      snapshot.expectedLinePa !== null &&
      snapshot.regulatorK !== null &&
      snapshot.regulatorK < freezeClearK &&
      snapshot.linePa < begunShare * snapshot.expectedLinePa;
    if (begun) return activeHigh;
    if (snapshot.icing) {
      return snapshot.icing.probability >= (active ? clearChance : warnChance)
        ? activeMedium
        : normal;
    }
    if (snapshot.bodyForecastK === null) return untold;
    return snapshot.bodyForecastK < (active ? freezeClearK : freezeK) ? activeMedium : normal;
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
