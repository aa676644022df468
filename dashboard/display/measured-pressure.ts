import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { BAR_PA } from "@leeward/shared-core/units/factors.ts";

/**
 * Gauge Pa that a sensor reads, as it is shown: a vacuum within its declared accuracy is the error
 * of its zero and reads 0. One below that stays, for it tells of a fault; so does any pressure above
 * zero, however small, since it may be trapped gas. Null where nothing is read.
 */
export function measuredPa(view: StationView, side: "cylinder" | "line"): number | null {
  const measured = view.estimate?.measured;
  const pa = (side === "cylinder" ? measured?.cylinderPa : measured?.linePa) ?? null;
  const sensor = view.description.sensors?.[side];
  if (pa === null || pa >= 0 || !sensor) return pa;
  const zeroPa = ((sensor.rangeBar * sensor.accuracyPercentFs) / 100) * BAR_PA;
  return pa >= -zeroPa ? 0 : pa;
}
