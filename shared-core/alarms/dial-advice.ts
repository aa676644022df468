import type { StationSnapshot } from "./condition.ts";
import { type Said, says } from "./language/said.ts";
import { outsideOf } from "./procedure-side.ts";
import { dialName } from "./wording.ts";

/**
 * What to set: "Turn the float up to 12.6 L/min." Null where the target cannot be reached or the
 * reading is not known.
 */
export function dialAdvice(snapshot: StationSnapshot, way: "up" | "down" | "back"): Said[] | null {
  const reading = snapshot.dialTo?.reading;
  if (reading === null || reading === undefined) return null;
  const unit = snapshot.dialTo?.unit ?? snapshot.station.flowDevice?.readingUnit ?? "L/min";
  const outside = outsideOf(snapshot, reading);
  return [
    says("turn-device", { device: dialName(snapshot), way, reading, unit }),
    ...(outside === null ? [] : [says("outside-procedure", { ...outside, unit })]),
  ];
}

/**
 * Advice for too little flow. Below the pressure where the regulator holds its flow the cylinder
 * change comes first: dialling up there only finishes the weld.
 */
export function raiseFlowAdvice(snapshot: StationSnapshot): Said[] {
  const dial = dialAdvice(snapshot, "up");
  const spent =
    snapshot.belowHoldPressure ?? (snapshot.content !== null && snapshot.content.usableL <= 0);
  if (spent) {
    return dial === null
      ? [says("too-low-for-regulator")]
      : [says("too-low-for-regulator"), says("only-to-finish"), ...dial, says("turn-it-back")];
  }
  if (dial !== null) return dial;
  const why = snapshot.dialTo?.why;
  if (snapshot.dialTo && snapshot.dialTo.reading === null && why) {
    return [says("cannot-be-set", { why })];
  }
  return [says("raise-the-flow")];
}
