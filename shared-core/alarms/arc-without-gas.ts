import { surelyBelow, z95 } from "./chance.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { says } from "./language/said.ts";
import { activeHigh, normal } from "./verdicts.ts";

/** Flow below this share of the least counts as no gas at all. */
const noGasShare = 0.25;
/** The same where the procedure gives no least flow, L/min (common practice, no source). */
const noGasLpm = 1;

/** A line below this gauge pressure gives no gas, Pa. */
export const emptyLinePa = 0.3e5;

const why =
  "an arc is seen, but whether gas flows is not known: just started, no line sensor, or its flow not learnt yet";
const untold = { active: false, cannotTell: why };

function gasMissing(snapshot: StationSnapshot): boolean | null {
  const { linePa, cylinderPa, mode } = snapshot;
  if (snapshot.hoseLetsNoneOut) return true;
  // Before the regulator nothing, and nobody sees what is left behind it: some seconds of gas at most.
  if (linePa === null && mode === "valve-closed" && cylinderPa !== null) {
    return cylinderPa < emptyLinePa ? true : null;
  }
  // From the cylinder alone gas is seen to flow far too late for this.
  if (linePa === null) return null;
  if (mode === "idle") return true;
  // A line without pressure gives no gas, whatever else is known; behind a closed valve one that
  // holds some still does. After the flow device the pressure is low with gas on, too.
  const isEmpty = linePa < emptyLinePa && snapshot.station.lineTap !== "hose";
  if (mode === "valve-closed" || mode === "unknown") return isEmpty ? true : null;
  if (mode !== "flowing" || snapshot.flow === null) return null;
  const least = snapshot.demand?.minimumLpm ?? null;
  const limit = least === null ? noGasLpm : least * noGasShare;
  return surelyBelow(snapshot.flow.meanLpm, snapshot.flow.sigmaLpm, limit, z95);
}

/** Gas that was on under the arc comes to no arc late: what shows its end needs no more than to last, s. */
const shownDelayS = 0.5;

/** Since when gas is missing, and how long that has to last, where more is known than that it is missing now. */
function whenGone(snapshot: StationSnapshot): { since?: number; onDelayS?: number } {
  const { mode, gasOffSince, arcSince, linePa, t } = snapshot;
  if (snapshot.hoseLetsNoneOut) return { onDelayS: shownDelayS };
  if (mode !== "idle" || gasOffSince === null || arcSince === null) return {};
  // A line that lost its pressure under the arc says so by itself; one that rose says since when.
  const drained = gasOffSince > arcSince && linePa !== null && linePa < emptyLinePa;
  const since = Math.min(Math.max(arcSince, gasOffSince), t);
  return drained ? { since, onDelayS: shownDelayS } : { since };
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
    "Arc seen while no gas flows, or less than a quarter of the least flow with 95 % confidence; or the line stands without pressure. Only where an arc signal is fitted. While gas cannot be told (just started, no line sensor) that is said, with the reason.",
  deadband: "None: arc and gas are both on or off.",
  onDelayS: 1,
  offDelayS: 3,
  delayReason:
    "1 s lets gas that comes with the arc or just after it show in the line: the node sends that sample at once, and a line seen to fall is waited for until its next sample. Every further second welds in air. Gas that goes off under the arc counts from where the line began to show it, once that has come half-way to its rest; a line that loses its pressure, and a hose that fills or empties under the arc, have to last 0.5 s. Off after 3 s, so that a flickering arc rings once.",
  suppresses: ["under-shielding"],
  alarmClass: "weld",
  latched: true,
  scope: "station",
  untold: why,

  evaluate(snapshot) {
    if (snapshot.arc === null) return null;
    if (!snapshot.arc || snapshot.job?.gasless) return normal;
    // Gas that came with the arc shows as a fall before it counts as gas-on, and a line that hunts, or a needle
    // that is turned, as half a rise.
    if (snapshot.mode === "idle" && snapshot.lineUnsettled) return { active: false, hold: true };
    const missing = gasMissing(snapshot);
    if (missing === null) return untold;
    if (!missing) return normal;
    return { ...activeHigh, ...whenGone(snapshot) };
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
