import type { AlarmCondition } from "./condition.ts";
import { says } from "./language/said.ts";
import { active as holds, normal } from "./verdicts.ts";

/** A node on 5 V: below 4.4 V USB power is out of its range (USB 2.0, 7.2.2, from memory). */
const lowOfFiveV = 4.4;
/** A 3.3 V rail: modules want at least 3.0 V (module data sheets, from memory). */
const lowOfThreeV = 3.0;
/** Readings below this belong to a 3.3 V rail. */
const railBorderV = 3.9;
const deadbandV = 0.1;

/** The node's supply sags. */
export const nodeSupplyLow: AlarmCondition = {
  condition: "node-supply-low",
  title: "The node's power is low",
  cause: "A weak power adapter, a long thin cable, a battery near its end.",
  consequence: "Pressure readings drift with the supply, then the node falls silent.",
  operatorAction: "Change adapter, cable or battery.",
  timeToRespond: "Within the day.",
  priority: "low",
  limit: "Supply below 4.4 V on a 5 V node, below 3.0 V on a 3.3 V rail.",
  deadband: "0.1 V.",
  onDelayS: 60,
  offDelayS: 60,
  delayReason: "60 s: radio bursts pull the supply down for a moment; the value comes once a pack.",
  suppresses: [],
  alarmClass: "equipment",
  latched: false,
  scope: "station",

  evaluate(snapshot, active) {
    const volts = snapshot.supplyVoltage;
    if (volts === null) return null;
    const limit = volts < railBorderV ? lowOfThreeV : lowOfFiveV;
    return volts < limit + (active ? deadbandV : 0) ? holds : normal;
  },

  describe(snapshot) {
    return {
      title: [says("node-power-low", { volts: snapshot.supplyVoltage })],
      advice: [says("change-adapter")],
    };
  },
};
