import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { formOf, type SetupForm, type TypedUnits } from "./setup-form.ts";

/**
 * The form after a change. With another range or class than the stored one it is another sensor, and
 * the stored sensor's day of calibration goes; it returns with range and class. A day typed after that stays.
 */
export function afterChange(
  before: SetupForm,
  change: Partial<SetupForm>,
  base: StationDocument | null,
  units: TypedUnits,
): SetupForm {
  const after = { ...before, ...change };
  if (base === null) return after;
  const stored = formOf(base, units);
  for (const [range, accuracy, calibrated] of [
    ["cylinderRange", "cylinderAccuracy", "cylinderCalibrated"],
    ["lineRange", "lineAccuracy", "lineCalibrated"],
  ] as const) {
    if (!(range in change || accuracy in change) || stored[range].trim() === "") continue;
    const same =
      after[range].trim() === stored[range] && after[accuracy].trim() === stored[accuracy];
    if (!same && after[calibrated] === stored[calibrated]) after[calibrated] = "";
    if (same && after[calibrated] === "") after[calibrated] = stored[calibrated];
  }
  return after;
}
