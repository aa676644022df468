import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { words } from "../language/words.ts";
import { readingFigure } from "./numbers.ts";
import { flowVerdict } from "./sentence.ts";

/**
 * `Float should show 8` and `set it to 12.6 L/min`: the reading now, and what to make of it. The unit
 * is the one printed on the device, which may be another than the reader's: it is never left out.
 */
export interface DeviceLine {
  /** Empty where the device's reading is not known; its unit stands with the setting, if there is one. */
  shows: string;
  /** `set`: turn it; `leave`: it is right; null: unknown, or out of reach (see `why`). */
  action: "set" | "leave" | null;
  actionText: string;
  why: string | null;
}

/** A setting closer than this is left alone: 8 %, or half a litre, which is half a ball's height. */
export function settingsAgree(reading: number, dialTo: number, unit: string): boolean {
  return Math.abs(dialTo - reading) <= Math.max(0.08 * dialTo, unit === "CFH" ? 1 : 0.5);
}

/**
 * What the device should show now, null where that is unknown or says nothing: with gas off a float
 * rests at its foot, and nobody can read a setting from it.
 */
export function shownReading(estimate: Estimate): number | null {
  const reading = estimate.indicated.reading;
  return estimate.mode !== "flowing" && reading === 0 ? null : reading;
}

export function deviceLine(estimate: Estimate, station: StationDocument): DeviceLine | null {
  const device = station.flowDevice;
  if (!device) return null;
  const { indicated, dialTo } = estimate;
  const reading = shownReading(estimate);
  const name = words.device[device.kind];
  const unit = indicated.unit ?? device.readingUnit;
  const shown = reading === null ? "" : readingFigure(reading);
  const shows = shown && words.device.shouldShow(name, `${shown} ${unit}`);
  if (dialTo.reading === null) {
    return { shows, action: null, actionText: "", why: dialTo.why ?? indicated.why ?? null };
  }
  if (isRight(estimate, dialTo.reading, unit)) {
    return { shows, action: "leave", actionText: words.device.leaveIt, why: null };
  }
  const setting = `${readingFigure(dialTo.reading)} ${dialTo.unit ?? unit}`;
  return {
    shows: shown && words.device.shouldShow(name, shown),
    action: "set",
    actionText: shows ? words.device.setItTo(setting) : words.device.setTo(name, setting),
    why: null,
  };
}

/** Leave it: the flow, or the flow to come, lies well inside the window, or the setting is there. */
function isRight(estimate: Estimate, dialTo: number, unit: string): boolean {
  const flow = estimate.mode === "flowing" ? estimate.flow : estimate.expected;
  if (flowVerdict(flow, estimate.demand) === "right") return true;
  const reading = shownReading(estimate);
  return reading !== null && settingsAgree(reading, dialTo, unit);
}
