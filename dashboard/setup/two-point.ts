import type { PressureSensorDocument } from "@leeward/shared-core/documents/hardware.ts";
import {
  type TwoPoint,
  twoPointFault,
  uncalibratedBar,
  zeroOnly,
} from "@leeward/shared-core/documents/two-point.ts";
import { classOf, type SensorKind } from "./same-sensor.ts";
import type { CalibrationForm, SetupForm, TypedUnits } from "./setup-form.ts";
import { typedBar } from "./typed.ts";

/**
 * A sensor's calibration as it is typed. What the node shows is read with the calibration that
 * stands; what is stored is what it would show without any.
 */

/** A zero further off than this share of the range is no calibration (common practice, no source). */
const MOST_ZERO_SHARE = 0.05;

/** Which of its texts a calibration needs. */
const wanted = {
  keep: [],
  none: [],
  zero: ["zeroReads"],
  two: ["lowReads", "lowIs", "highReads", "highIs"],
} as const satisfies Record<CalibrationForm["wish"], readonly (keyof CalibrationForm)[]>;

export type CalibrationFault =
  | "needed"
  | "no-number"
  | "not-positive"
  | "zero-too-far"
  | "gauge-above-range"
  | "points-too-close"
  | "span-off";

export interface FaultyText {
  text: Exclude<keyof CalibrationForm, "wish">;
  fault: CalibrationFault;
}

/** The calibration to be stored; undefined for none, or while what is typed makes none. */
export function twoPointOf(
  form: SetupForm,
  kind: SensorKind,
  was: PressureSensorDocument | undefined,
  units: TypedUnits,
): TwoPoint | undefined {
  const typed = form[`${kind}Calibration`];
  if (typed.wish === "keep") return was?.twoPoint;
  if (typed.wish === "none") return undefined;
  const { rangeBar } = classOf(form, kind, was, units);
  const bar = (text: string) => typedBar(text, units.pressure) ?? Number.NaN;
  const shown = (text: string) => Number(uncalibratedBar(was?.twoPoint, bar(text)).toPrecision(6));
  const points =
    typed.wish === "zero"
      ? zeroOnly(shown(typed.zeroReads), rangeBar ?? Number.NaN)
      : {
          lowReadsBar: shown(typed.lowReads),
          lowIsBar: bar(typed.lowIs),
          highReadsBar: shown(typed.highReads),
          highIsBar: bar(typed.highIs),
        };
  return Object.values(points).every(Number.isFinite) ? points : undefined;
}

/** What is wrong about a typed calibration, by its text. */
export function calibrationFaults(
  form: SetupForm,
  kind: SensorKind,
  was: PressureSensorDocument | undefined,
  units: TypedUnits,
): FaultyText[] {
  const typed = form[`${kind}Calibration`];
  const faults: FaultyText[] = [];
  for (const text of wanted[typed.wish]) {
    const value = typedBar(typed[text], units.pressure);
    if (value === null) faults.push({ text, fault: "needed" });
    else if (Number.isNaN(value)) faults.push({ text, fault: "no-number" });
    else if ((text === "lowIs" && value < 0) || (text.startsWith("high") && value <= 0)) {
      faults.push({ text, fault: "not-positive" });
    }
  }
  const points = twoPointOf(form, kind, was, units);
  const { rangeBar } = classOf(form, kind, was, units);
  if (faults.length > 0 || !points || typed.wish === "keep" || rangeBar === null) return faults;
  if (typed.wish === "zero") {
    const far = Math.abs(points.lowReadsBar) > rangeBar * MOST_ZERO_SHARE;
    return far ? [{ text: "zeroReads", fault: "zero-too-far" }] : [];
  }
  if (points.highIsBar > rangeBar) return [{ text: "highIs", fault: "gauge-above-range" }];
  const fault = twoPointFault(points, rangeBar);
  if (fault === null) return [];
  return [{ text: fault === "span-off" ? "highReads" : "highIs", fault }];
}
