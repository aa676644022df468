import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { shownReading } from "./device-line.ts";
import { readingToLpm } from "./units.ts";

/** Places along the slot's line, 0 (left, no flow) to 1 (right). */
export interface SlotPlaces {
  /** Right end of the line, `metric20` L/min. */
  endLpm: number;
  window: { from: number; to: number; target: number | null } | null;
  /** True flow now, or when idle the flow of the next gas-on. */
  diamond: {
    at: number;
    low: number;
    high: number;
    kind: "now" | "next";
    /** Beyond the end of the line. */
    beyond: boolean;
  } | null;
  /** What the device's scale should show now. */
  ring: number | null;
}

/** Ends of lines that the eye knows; the line grows in steps so that it does not breathe. */
const ends = [5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 25, 28, 32, 36, 40, 50, 60, 80, 100, 150, 200];

function endFor(needed: number): number {
  return ends.find((end) => end >= needed) ?? needed;
}

/** Indicated reading as true `metric20` L/min on the line; null where it is unknown. */
export function indicatedLpm(estimate: Estimate, station: StationDocument): number | null {
  const reading = shownReading(estimate);
  if (reading === null) return null;
  const { unit } = estimate.indicated;
  const device = station.flowDevice;
  return readingToLpm(reading, unit ?? device?.readingUnit ?? "L/min", device?.scaleReference);
}

/** Where window, diamond, interval and ring stand. */
export function slotPlaces(estimate: Estimate, station: StationDocument): SlotPlaces {
  const demand = estimate.demand;
  const idle = estimate.mode !== "flowing";
  const shown = idle ? estimate.expected : estimate.flow;
  const ringLpm = indicatedLpm(estimate, station);
  const maximum = demand?.maximumLpm ?? null;
  const scaleMax = station.flowDevice?.scaleMax;
  const scaleEnd =
    scaleMax === undefined
      ? 16
      : readingToLpm(
          scaleMax,
          station.flowDevice?.readingUnit ?? "L/min",
          station.flowDevice?.scaleReference,
        );
  const wanted = maximum !== null ? maximum * 1.35 : scaleEnd;
  const reach = Math.max(shown?.lpm ?? 0, ringLpm ?? 0) * 1.06;
  const endLpm = endFor(Math.max(wanted, reach, 1));
  const place = (lpm: number) => Math.min(1, Math.max(0, lpm / endLpm));

  const window =
    demand && demand.minimumLpm !== null && demand.maximumLpm !== null
      ? {
          from: place(demand.minimumLpm),
          to: place(demand.maximumLpm),
          target: demand.targetLpm === null ? null : place(demand.targetLpm),
        }
      : null;
  const diamond =
    shown && shown.lpm !== null && (estimate.mode !== "silent" || shown.lpm > 0)
      ? {
          at: place(shown.lpm),
          low: place(shown.low ?? shown.lpm),
          high: place(shown.high ?? shown.lpm),
          kind: idle ? ("next" as const) : ("now" as const),
          beyond: shown.lpm > endLpm,
        }
      : null;
  return { endLpm, window, diamond, ring: ringLpm === null ? null : place(ringLpm) };
}
