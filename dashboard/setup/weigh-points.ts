import type { SensorsDocument } from "@leeward/shared-core/documents/hardware.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { isSameNode, sensorsBefore } from "./same-sensor.ts";
import type { SetupForm } from "./setup-form.ts";
import { numberShown, typedNumber } from "./typed.ts";

/** Two points of the scale under a cylinder: the node's counts under two known loads, kg. */

export const weighTexts = ["weighLowReads", "weighLowIs", "weighHighReads", "weighHighIs"] as const;
type WeighForm = Pick<SetupForm, (typeof weighTexts)[number]>;

/** Closer than this the node refuses them (`firmware/src/node-config.ts`). */
const LEAST_KG = 5;
const LEAST_COUNTS = 100;

export function weighForm(scale: SensorsDocument["scale"]): WeighForm {
  return {
    weighLowReads: numberShown(scale?.lowReads),
    weighLowIs: numberShown(scale?.lowIsKg),
    weighHighReads: numberShown(scale?.highReads),
    weighHighIs: numberShown(scale?.highIsKg),
  };
}

export const noWeighPoints = weighForm(undefined);

export const weighTyped = (form: WeighForm): boolean =>
  weighTexts.some((text) => form[text].trim() !== "");

/** Whether they were found with another node, whose counts mean nothing at this one. */
export function isOfOtherNode(form: SetupForm, base: StationDocument | null): boolean {
  const stored = weighForm(sensorsBefore(form, base)?.scale);
  return !isSameNode(form, base) && weighTexts.every((text) => form[text] === stored[text]);
}

/** What is to be stored; undefined where nothing is typed, or not all. */
export function scaleOf(form: SetupForm, base: StationDocument | null): SensorsDocument["scale"] {
  const [lowReads, lowIsKg, highReads, highIsKg] = weighTexts.map((text) =>
    typedNumber(form[text]),
  );
  if (lowReads == null || lowIsKg == null || highReads == null || highIsKg == null)
    return undefined;
  if (isOfOtherNode(form, base)) return undefined;
  return { ...sensorsBefore(form, base)?.scale, lowReads, lowIsKg, highReads, highIsKg };
}

/** Whether the node would refuse what is typed in full. */
export function areTooClose(form: WeighForm): boolean {
  const [lowReads, lowIs, highReads, highIs] = weighTexts.map((text) => typedNumber(form[text]));
  if (lowReads == null || lowIs == null || highReads == null || highIs == null) return false;
  return highIs - lowIs < LEAST_KG || Math.abs(highReads - lowReads) < LEAST_COUNTS;
}
