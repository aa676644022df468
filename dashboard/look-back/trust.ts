import { momentToUnixS } from "@leeward/shared-core/documents/common.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";

/** What a record rests on, as far as the station's description says. */
export interface Trusted {
  part: "cylinder" | "line" | "device";
  /** Limit of error, % of the range; null where it is not described, or of no meaning. */
  percent: number | null;
  /** Last calibration or bench test, Unix s; null: none is on record. */
  testedS: number | null;
  /** True where the calibration had run out by the end of the record. */
  overdue: boolean;
}

/** A year between calibrations where no other day is set (common practice, no source). */
const YEAR_S = 365 * 86_400;

/**
 * Calibration of sensors and flow device at the end of a record. Only parts that are described.
 *
 * @param toS end of the record, Unix s
 */
export function trusted(station: StationDocument, toS: number): Trusted[] {
  const dates = (tested: string | number | undefined, due?: string | number) => {
    const testedS = tested === undefined ? null : momentToUnixS(tested);
    const dueS =
      due !== undefined ? momentToUnixS(due) : testedS === null ? null : testedS + YEAR_S;
    return { testedS, overdue: dueS !== null && toS > dueS };
  };
  const rows: Trusted[] = [];
  for (const part of ["cylinder", "line"] as const) {
    const sensor = station.sensors?.[part];
    if (!sensor) continue;
    rows.push({
      part,
      percent: sensor.accuracyPercentFs,
      ...dates(sensor.calibrated, sensor.calibrationDue),
    });
  }
  if (station.flowDevice) {
    rows.push({ part: "device", percent: null, ...dates(station.flowDevice.fit?.date) });
  }
  return rows;
}
