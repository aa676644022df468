import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { says } from "./language/said.ts";
import { normal } from "./verdicts.ts";

/** The estimator's word for a temperature probe that hangs in the air. */
export const FALLEN_OFF = "fallen-off";

/** The two pressures carry every figure: losing one is worse than losing a temperature. */
function isPressure(channel: string): boolean {
  return channel === "cylinder-pressure" || channel === "line-pressure";
}

function earliest(snapshot: StationSnapshot): number {
  let since = Number.POSITIVE_INFINITY;
  for (const fault of snapshot.faults) if (fault.since < since) since = fault.since;
  return since;
}

/** A sensor gives no value, or one that cannot be believed. */
export const sensorFault: AlarmCondition = {
  condition: "sensor-fault",
  title: "Sensor fault",
  cause: "A broken or shorted cable, a wet plug, a sensor beyond its range or worn out.",
  consequence: "The figures that rest on it are missing or old; other alarms may not be judged.",
  operatorAction: "Check plug and cable, then change the sensor. Go by the gauges meanwhile.",
  timeToRespond: "Within the shift.",
  priority: "low",
  limit:
    "The node or the estimator reports a fault of a channel, or the node at a shared supply's cylinder is silent. Medium for a pressure.",
  deadband: "None: a channel is in fault or not.",
  onDelayS: 2,
  offDelayS: 60,
  delayReason:
    "2 s: a plug that is pulled and put back is no fault; open and short circuits must show within 5 s. Off after 60 s, since a bad plug comes and goes.",
  suppresses: ["reading-shift", "wrong-gas", "back-pressure-changed"],
  alarmClass: "equipment",
  latched: false,
  scope: "station",

  evaluate(snapshot) {
    if (snapshot.faults.length === 0) return normal;
    let pressure = false;
    for (const fault of snapshot.faults) if (isPressure(fault.channel)) pressure = true;
    return {
      active: true,
      priority: pressure ? "medium" : "low",
      since: earliest(snapshot),
    };
  },

  describe(snapshot) {
    const faults = snapshot.faults.map(({ channel, fault }) => `${channel}/${fault}`).join(" ");
    const count = (word: string) => snapshot.faults.filter(({ fault }) => fault === word).length;
    const unheard = count("node-silent");
    const fallen = count(FALLEN_OFF);
    return {
      title: [says("sensor-fault", { faults })],
      advice: [
        ...(unheard > 0 ? [says("find-cylinder-node")] : []),
        ...(unheard + fallen < snapshot.faults.length ? [says("change-sensor")] : []),
        ...(fallen > 0 ? [says("strap-probe")] : []),
      ],
    };
  },
};
