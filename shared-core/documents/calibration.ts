import { momentToUnixS } from "./common.ts";

/** A year between calibrations or bench tests where no other day is set, s (common practice, no source; ISO 17662 leaves it to the shop). */
const YEAR_S = 365 * 86_400;

/** When a calibration or bench test runs out, Unix s: on the day that is set, else after a year. */
export function calibrationEndS(of: {
  calibrated?: string | number | undefined;
  calibrationDue?: string | number | undefined;
}): number | null {
  const { calibrated, calibrationDue } = of;
  const end =
    calibrationDue !== undefined
      ? momentToUnixS(calibrationDue)
      : calibrated !== undefined
        ? momentToUnixS(calibrated) + YEAR_S
        : Number.NaN;
  return Number.isFinite(end) ? end : null;
}
