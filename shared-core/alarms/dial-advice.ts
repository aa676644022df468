import type { StationSnapshot } from "./condition.ts";
import { dialName, inDeviceUnit, rounded } from "./wording.ts";

/** Share by which a reading may pass a limit of the procedure before it counts as outside. */
const readingTolerance = 0.01;

/**
 * What to set: `Turn the float up to 12.6 L/min`. Null where the target cannot be reached or the
 * reading is not known.
 */
export function dialSentence(
  snapshot: StationSnapshot,
  direction: "up" | "down" | "back",
): string | null {
  const reading = snapshot.dialTo?.reading;
  if (reading === null || reading === undefined) return null;
  const unit = snapshot.dialTo?.unit ?? snapshot.station.flowDevice?.readingUnit ?? "L/min";
  return `Turn the ${dialName(snapshot)} ${direction} to ${rounded(reading)} ${unit}.${outsideProcedure(snapshot, reading)}`;
}

/** Says so where the reading to set lies outside the limits that the procedure itself states. */
function outsideProcedure(snapshot: StationSnapshot, reading: number): string {
  const procedure = snapshot.station.procedure;
  const low = procedure?.minimumLpm;
  const high = procedure?.maximumLpm;
  const isHigh = high != null && reading > inDeviceUnit(high, snapshot) * (1 + readingTolerance);
  const isLow = low != null && reading < inDeviceUnit(low, snapshot) * (1 - readingTolerance);
  if (!isHigh && !isLow) return "";
  const bound = inDeviceUnit(isHigh ? (high as number) : (low as number), snapshot);
  return ` That reading is ${isHigh ? "above" : "below"} the ${rounded(bound)} of the welding procedure; the true flow is inside it. Ask whoever signs for the procedure first.`;
}

/**
 * Advice for too little flow. Below the pressure where the regulator holds its flow the cylinder
 * change comes first: dialling up there only finishes the weld.
 */
export function raiseFlowAdvice(snapshot: StationSnapshot): string {
  const dial = dialSentence(snapshot, "up");
  const spent =
    snapshot.belowHoldPressure ?? (snapshot.content !== null && snapshot.content.usableL <= 0);
  if (spent) {
    return dial === null
      ? "Change the cylinder: it is too low for the regulator to hold the flow."
      : `Change the cylinder: it is too low for the regulator to hold the flow. Only to finish this weld: ${dial} Turn it back before you weld on the full cylinder.`;
  }
  if (dial !== null) return dial;
  const why = snapshot.dialTo?.why;
  if (snapshot.dialTo && snapshot.dialTo.reading === null && why) {
    return `The right flow cannot be set here (${why}). Change the cylinder, or check regulator and flow device.`;
  }
  return "Raise the flow at the flow device. If it does not rise, check cylinder valve, regulator and hose.";
}
