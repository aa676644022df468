import { momentToUnixS } from "@leeward/shared-core/documents/common.ts";
import { BAR_PA, PSI_PA } from "@leeward/shared-core/units/factors.ts";
import { decimalSign } from "../display/numbers.ts";
import type { UnitChoice } from "../display/units.ts";

/** A typed number: a comma counts as a point. Null where nothing is typed, NaN where it is no number. */
export function typedNumber(text: string): number | null {
  const plain = text.trim().replace(",", ".");
  return plain === "" ? null : Number(plain);
}

/** A typed number within a line that is read, with the decimal sign of the reader's locale. */
export function typedInLine(text: string): string {
  return text.trim().replace(/[.,]/, decimalSign());
}

/** Size of the viewer's pressure unit in bar, which is what documents hold. */
export function barPerUnit(pressure: UnitChoice["pressure"]): number {
  if (pressure === "psi") return PSI_PA / BAR_PA;
  return pressure === "kPa" ? 0.01 : 1;
}

/** At most this many figures of a converted value: more than any gauge shows. */
const FIGURES = 5;

/** A shown pressure may differ by this share from what is held: what is held stays until it is retyped. */
const SHOWN_WITHIN = 1e-3;

/** The fewest decimals that still stand for the value: `50` for 50.038 psi, `7.25` for 7.2519. */
function plain(value: number): string {
  for (const decimals of [0, 1, 2]) {
    const rounded = Number(value.toFixed(decimals));
    if (Math.abs(rounded - value) <= Math.abs(value) * SHOWN_WITHIN) return String(rounded);
  }
  return String(Number(value.toPrecision(FIGURES)));
}

/** A pressure as one would type it in the viewer's unit; `typedBar` gives back what was held. */
export function pressureShown(bar: number | undefined, unit: UnitChoice["pressure"]): string {
  if (bar === undefined) return "";
  return unit === "bar" ? String(bar) : plain(bar / barPerUnit(unit));
}

/** A temperature as one would type it, to a tenth of a degree in °F. */
export function temperatureShown(celsius: number | undefined, unit: "C" | "F"): string {
  if (celsius === undefined) return "";
  return unit === "C" ? String(celsius) : String(Number((celsius * 1.8 + 32).toFixed(1)));
}

/** Bar of a typed pressure; `before` where the text still stands for it, so that nothing drifts. */
export function typedBar(
  text: string,
  unit: UnitChoice["pressure"],
  before?: number,
): number | null {
  if (before !== undefined && text === pressureShown(before, unit)) return before;
  const value = typedNumber(text);
  return value === null ? null : Number((value * barPerUnit(unit)).toPrecision(FIGURES + 1));
}

/** °C of a typed temperature. */
export function typedCelsius(text: string, unit: "C" | "F", before?: number): number | null {
  if (before !== undefined && text === temperatureShown(before, unit)) return before;
  const value = typedNumber(text);
  if (value === null) return null;
  return unit === "C" ? value : Number(((value - 32) / 1.8).toPrecision(FIGURES + 1));
}

export function numberShown(value: number | null | undefined): string {
  return value === null || value === undefined ? "" : String(value);
}

/** A day for a date field, `2026-03-01` by UTC; empty where none is given. */
export function dayShown(moment: string | number | undefined): string {
  if (moment === undefined) return "";
  return new Date(momentToUnixS(moment) * 1000).toISOString().slice(0, 10);
}
