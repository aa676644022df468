import { calibrationEndS } from "@leeward/shared-core/documents/calibration.ts";
import { momentToUnixS } from "@leeward/shared-core/documents/common.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { localDay } from "@leeward/shared-core/time/zone.ts";

/** What a record rests on, as far as the station's description says. */
export interface Trusted {
  part: "cylinder" | "line" | "device";
  /** Limit of error, % of the range; null where it is not described, or of no meaning. */
  percent: number | null;
  /** Last calibration or bench test, Unix s; null: none is on record. */
  testedS: number | null;
  /** True where that was on a day after the record's last: nothing is known of the record itself. */
  onlyAfter: boolean;
  /** True where the calibration had run out by the end of the record. */
  overdue: boolean;
  /** True where the part is the shared supply's, whose description is not at hand. */
  ofSupply: boolean;
}

const unknownAtSupply: Trusted = {
  part: "cylinder",
  percent: null,
  testedS: null,
  onlyAfter: false,
  overdue: false,
  ofSupply: true,
};

/**
 * Calibration of sensors and flow device at the end of a record. Only parts that are described, and
 * the cylinder sensor of a shared supply as one of which nothing is known.
 *
 * @param toS end of the record, Unix s
 * @param timeZone of the shop, by whose days the record is read
 */
export function trusted(station: StationDocument, toS: number, timeZone: string): Trusted[] {
  const lastDay = localDay(toS, timeZone);
  const dates = (tested: string | number | undefined, due?: string | number) => {
    const testedS = tested === undefined ? null : momentToUnixS(tested);
    const dueS = calibrationEndS({ calibrated: tested, calibrationDue: due });
    // A day of calibration is kept as its first second by UTC.
    const onlyAfter = testedS !== null && localDay(testedS, "UTC") > lastDay;
    return { testedS, onlyAfter, overdue: dueS !== null && toS > dueS, ofSupply: false };
  };
  const rows: Trusted[] = [];
  for (const part of ["cylinder", "line"] as const) {
    const sensor = station.sensors?.[part];
    if (!sensor) {
      if (part === "cylinder" && station.supply) rows.push(unknownAtSupply);
      continue;
    }
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
