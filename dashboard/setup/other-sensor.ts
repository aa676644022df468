import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { isSameNode, isSameSensor, type SensorKind, sensorsBefore } from "./same-sensor.ts";
import { noCalibration, type SetupForm, sensorsForm, type TypedUnits } from "./setup-form.ts";
import { isOfOtherNode, noWeighPoints, weighForm, weighTyped } from "./weigh-points.ts";

/** What tells whether it is the same sensor. */
const telling = {
  cylinder: ["node", "cylinderRange", "cylinderAccuracy", "cylinderReplaced"],
  line: ["node", "lineRange", "lineAccuracy", "lineReplaced"],
} as const satisfies Record<SensorKind, readonly (keyof SetupForm)[]>;

/**
 * The form after a change. With another node, range or class than the stored sensor's, or said to be
 * replaced, it is another sensor: the stored one's calibration and its day go; they return with it.
 * What is typed after that stays.
 */
export function afterChange(
  before: SetupForm,
  change: Partial<SetupForm>,
  base: StationDocument | null,
  units: TypedUnits,
): SetupForm {
  const after = { ...before, ...change };
  const sensors = sensorsBefore(after, base);
  const stored = sensorsForm(sensors, units);
  for (const kind of ["cylinder", "line"] as const) {
    if (!sensors?.[kind] || !telling[kind].some((field) => field in change)) continue;
    const day = `${kind}Calibrated` as const;
    const same = isSameSensor(after, base, kind, units);
    if (!same) after[`${kind}Calibration`] = noCalibration;
    if (!same && after[day] === stored[day]) after[day] = "";
    if (same && after[day] === "") after[day] = stored[day];
  }
  if ("node" in change) {
    const points = weighForm(sensors?.scale);
    if (isOfOtherNode(after, base)) Object.assign(after, noWeighPoints);
    else if (isSameNode(after, base) && !weighTyped(after)) Object.assign(after, points);
  }
  return after;
}
