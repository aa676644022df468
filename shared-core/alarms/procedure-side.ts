import type { StationSnapshot } from "./condition.ts";
import { inDeviceUnit } from "./wording.ts";

/** Share by which a reading may pass a limit of the procedure before it counts as outside. */
const readingTolerance = 0.01;

/** A limit of the procedure that a reading lies beyond, in the device's unit. */
export interface ProcedureSide {
  above: boolean;
  bound: number;
}

/** The limit of the procedure itself that a reading of the device lies beyond; null: inside. */
export function outsideOf(
  snapshot: Pick<StationSnapshot, "station">,
  reading: number,
): ProcedureSide | null {
  const procedure = snapshot.station.procedure;
  const low = inDeviceUnit(procedure?.minimumLpm ?? null, snapshot);
  const high = inDeviceUnit(procedure?.maximumLpm ?? null, snapshot);
  if (high !== null && reading > high * (1 + readingTolerance)) return { above: true, bound: high };
  if (low !== null && reading < low * (1 - readingTolerance)) return { above: false, bound: low };
  return null;
}
