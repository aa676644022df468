import { surelyBelow, z95 } from "./chance.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { says } from "./language/said.ts";
import { activeHigh, normal } from "./verdicts.ts";

/** Flow below this share of the least counts as no gas at all. */
const noGasShare = 0.25;
/** The same where the procedure gives no least flow, L/min (common practice, no source). */
const noGasLpm = 1;

/** A line below this gauge pressure gives no gas, Pa. */
const emptyLinePa = 0.3e5;

function gasMissing(snapshot: StationSnapshot): boolean | null {
  // From the cylinder alone gas is seen to flow far too late for this.
  if (snapshot.linePa === null) return null;
  if (snapshot.mode === "idle") return true;
  // Behind a closed valve the line still gives gas while it holds pressure.
  if (snapshot.mode === "valve-closed") return snapshot.linePa < emptyLinePa ? true : null;
  if (snapshot.mode !== "flowing" || snapshot.flow === null) return null;
  const least = snapshot.demand?.minimumLpm ?? null;
  const limit = least === null ? noGasLpm : least * noGasShare;
  return surelyBelow(snapshot.flow.meanLpm, snapshot.flow.sigmaLpm, limit, z95);
}

/** An arc burns and no gas flows. The loudest alarm there is. */
export const arcWithoutGas: AlarmCondition = {
  condition: "arc-without-gas",
  title: "Welding without gas",
  cause:
    "Cylinder valve closed, cylinder empty, a gas valve that does not open, a hose off; or a job that needs no gas and was not declared.",
  consequence: "The weld is made in air: it must be ground out; tungsten and nozzle suffer.",
  operatorAction:
    "Stop the arc, open the gas. If the job needs no gas (stick, gouging, gasless wire), declare it.",
  timeToRespond: "At once.",
  priority: "high",
  limit:
    "Arc seen while no gas flows, or less than a quarter of the least flow with 95 % confidence. Only where an arc signal and a line sensor are fitted.",
  deadband: "None: arc and gas are both on or off.",
  onDelayS: 1,
  offDelayS: 3,
  delayReason:
    "1 s lets the sample that shows the gas arrive after the one that shows the arc; every further second welds in air. Off after 3 s, so that a flickering arc rings once.",
  suppresses: ["under-shielding"],
  alarmClass: "weld",
  latched: true,
  scope: "station",

  evaluate(snapshot) {
    if (snapshot.arc === null) return null;
    if (!snapshot.arc || snapshot.job?.gasless) return normal;
    const missing = gasMissing(snapshot);
    if (missing === null) return null;
    return missing ? activeHigh : normal;
  },

  describe(snapshot) {
    return {
      title: [says("welding-without-gas")],
      advice: [
        says("stop-the-arc"),
        ...(snapshot.mode === "valve-closed" ? [says("valve-is-closed")] : []),
        says("check-supply"),
        says("declare-gasless"),
        says("grind-out"),
      ],
    };
  },
};
