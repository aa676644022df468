import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import type { Unsuited } from "./language/english.ts";
import { says } from "./language/said.ts";
import { active as holds, normal } from "./verdicts.ts";

/** Chance that the gas is not what the label says at which a person should look, and the way back. */
const warnChance = 0.95;
const clearChance = 0.5;
/** Share of CO2 and oxygen above which a gas is no longer inert (ISO 14175 group I: none). */
const inertMost = 0.001;
/** Share of CO2 and oxygen that gas-shielded cored wire wants at least (common practice, no source). */
const coredWireLeast = 0.02;

/** Why the gas of the set-up does not suit the process; null where it does or nothing is known. */
export function unsuitedGas(
  snapshot: Pick<StationSnapshot, "station" | "supply">,
): Unsuited | null {
  const procedure = snapshot.station.procedure;
  const composition = (snapshot.supply?.cylinder ?? snapshot.station.cylinder)?.composition;
  if (procedure === undefined || composition === undefined) return null;
  const oxidising = (composition.CO2 ?? 0) + (composition.O2 ?? 0);
  const hydrogen = composition.H2 ?? 0;
  const aluminium = /alumin/i.test(procedure.material ?? "");
  // Common practice and ISO 14175 groups, from memory: TIG and aluminium take inert gas.
  if (procedure.process === "GTAW" && oxidising > inertMost) {
    return "tig-inert";
  }
  if (procedure.process === "GMAW" && aluminium && oxidising > inertMost) {
    return "aluminium-inert";
  }
  if (aluminium && hydrogen > inertMost) return "aluminium-hydrogen";
  if (procedure.process === "FCAW-G" && oxidising < coredWireLeast) {
    return "cored-wire";
  }
  return null;
}

const why =
  "nothing was seen yet that tells gases apart: the flow is not learnt, and the cylinder has not stood idle through a change of temperature";
const untold = { active: false, cannotTell: why };

/** The gas is not what the label says, or not what the weld wants. */
export const wrongGas: AlarmCondition = {
  condition: "wrong-gas",
  title: "Wrong gas",
  cause:
    "A cylinder of another gas was fitted, the label or the set-up is wrong, or the set-up does not suit the process.",
  consequence: "Spoiled welds, a burnt tungsten; every flow figure of the station is off.",
  operatorAction:
    "Stop, read the label on the cylinder: it is the primary identification, not its colour. Correct the set-up or change the cylinder.",
  timeToRespond: "Before the next weld.",
  priority: "medium",
  limit:
    "95 % chance that the gas behaves unlike its label; or a gas in the set-up that does not suit the process.",
  deadband: "Chance back below 50 %.",
  onDelayS: 60,
  offDelayS: 30,
  delayReason:
    "60 s: a wrong gas looks like a wrong flow at first, and only several samples at more than one pressure tell them apart.",
  suppresses: ["reading-shift"],
  alarmClass: "weld",
  latched: true,
  scope: "supply",
  untold: why,

  evaluate(snapshot, active) {
    if (snapshot.job?.gasless) return normal;
    if (unsuitedGas(snapshot) !== null) return holds;
    const doubt = snapshot.gasDoubt;
    if (doubt === undefined || doubt === null) return untold;
    return doubt.probability >= (active ? clearChance : warnChance) ? holds : normal;
  },

  describe(snapshot) {
    const why = unsuitedGas(snapshot);
    const gas = (snapshot.supply?.cylinder ?? snapshot.station.cylinder)?.gas ?? null;
    if (why !== null) {
      return {
        title: [says("gas-and-process", { gas })],
        advice: [says("gas-unsuited", { why })],
      };
    }
    return {
      title: [says("is-this-the-gas", { gas, like: snapshot.gasDoubt?.looksLike ?? null })],
      advice: [says("read-the-label")],
    };
  },
};
