import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { words } from "../language/words.ts";
import { readingFigure } from "./numbers.ts";

/** `Float should show 8` and `set it to 12.6`: the reading now, and what to make of it. */
export interface DeviceLine {
  shows: string;
  /** `set`: turn it; `leave`: it is right; `change`: no setting reaches the target; null: unknown. */
  action: "set" | "leave" | "change" | null;
  actionText: string;
  why: string | null;
}

/** Settings closer than this to the present reading are left alone: a tenth of it, or half a litre. */
function isClose(reading: number, dialTo: number, unit: string): boolean {
  return Math.abs(dialTo - reading) <= Math.max(0.08 * dialTo, unit === "CFH" ? 1 : 0.5);
}

export function deviceName(station: StationDocument): string {
  const kind = station.flowDevice?.kind;
  return kind ? words.device[kind] : words.device.none;
}

export function deviceLine(estimate: Estimate, station: StationDocument): DeviceLine | null {
  const device = station.flowDevice;
  if (!device) return null;
  const { indicated, dialTo } = estimate;
  const unit = indicated.unit ?? device.readingUnit;
  const showsNow = indicated.reading !== null;
  const shows = showsNow
    ? words.device.shouldShow(words.device[device.kind], readingFigure(indicated.reading))
    : "";
  if (dialTo.reading === null) {
    const why = dialTo.why ?? indicated.why ?? null;
    return { shows, action: null, actionText: "", why };
  }
  const setting = readingFigure(dialTo.reading);
  const compare = indicated.reading ?? device.reading ?? null;
  if (compare !== null && isClose(compare, dialTo.reading, unit)) {
    return { shows, action: "leave", actionText: words.device.leaveIt, why: null };
  }
  return {
    shows,
    action: "set",
    actionText: showsNow
      ? words.device.setItTo(setting)
      : words.device.setTo(words.device[device.kind], setting),
    why: null,
  };
}
