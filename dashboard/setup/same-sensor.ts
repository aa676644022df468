import type {
  PressureSensorDocument,
  SensorsDocument,
} from "@leeward/shared-core/documents/hardware.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { SetupForm, TypedUnits } from "./setup-form.ts";
import { typedBar, typedNumber } from "./typed.ts";

/** Whether what was found of a sensor still holds: a calibration is of one sensor at one node. */

export type SensorKind = "cylinder" | "line";

/** The sensors as they are described so far: the station's own, or those that a node brought along. */
export function sensorsBefore(
  form: Pick<SetupForm, "carried" | "node">,
  base: StationDocument | null,
): SensorsDocument | undefined {
  return form.carried?.node === form.node ? form.carried.sensors : base?.sensors;
}

/** Whether the node is the one that the sensors were described with. */
export function isSameNode(
  form: Pick<SetupForm, "carried" | "node">,
  base: StationDocument | null,
): boolean {
  if (form.carried?.node === form.node) return true;
  // Sensors that were described before there was a node came with the first one.
  return base?.node == null || base.node === form.node.trim();
}

/** Range and class as typed; what is not retyped stays to the last digit. */
export function classOf(
  form: SetupForm,
  kind: SensorKind,
  was: PressureSensorDocument | undefined,
  units: TypedUnits,
): { rangeBar: number | null; accuracyPercentFs: number | null } {
  return {
    rangeBar: typedBar(form[`${kind}Range`], units.pressure, was?.rangeBar),
    accuracyPercentFs: typedNumber(form[`${kind}Accuracy`]),
  };
}

/** With another node, range or class, or said to be replaced, it is another sensor. */
export function isSameSensor(
  form: SetupForm,
  base: StationDocument | null,
  kind: SensorKind,
  units: TypedUnits,
): boolean {
  const was = sensorsBefore(form, base)?.[kind];
  if (!was || form[`${kind}Replaced`] || !isSameNode(form, base)) return false;
  const { rangeBar, accuracyPercentFs } = classOf(form, kind, was, units);
  return was.rangeBar === rangeBar && was.accuracyPercentFs === accuracyPercentFs;
}
