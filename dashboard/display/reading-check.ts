import { settingsAgree } from "./device-line.ts";
import type { DeviceKind } from "./new-station.ts";

export type ReadingVerdict = "agrees" | "higher" | "lower" | "unknown";
export type ReadingCause = "gas" | "tube" | "tilt" | "stuck" | "readAt" | "leak";

/** What a person reads against what the pressures say. */
export function compareReading(
  reading: number,
  should: number | null,
  unit: "L/min" | "CFH",
): ReadingVerdict {
  if (should === null) return "unknown";
  if (settingsAgree(reading, should, unit)) return "agrees";
  return reading > should ? "higher" : "lower";
}

/** What to look for when the device and the pressures disagree. */
export function readingCauses(kind: DeviceKind, verdict: "higher" | "lower"): ReadingCause[] {
  const common: ReadingCause[] = ["gas", "tube"];
  if (kind === "variable-area") common.push("readAt", "tilt", "stuck");
  // Gas lost before the device is not seen by it; gas lost after it was counted by it.
  if (verdict === "lower") common.push("leak");
  return common;
}
