import { fixed } from "./numbers.ts";
import { flowInUnit, type UnitChoice } from "./units.ts";

const NUMBER = /\d+(?:[.,]\d+)?/g;

/** As many figures as the text had, which a rule or a table gave to no more than two or three. */
function converted(text: string, units: UnitChoice): string {
  const lpm = Number(text.replace(",", "."));
  const shown = flowInUnit(lpm, units);
  return fixed(shown, shown >= 20 ? 0 : shown >= 1 ? 1 : 2);
}

const every = (text: string, units: UnitChoice) =>
  text.replace(NUMBER, (number) => converted(number, units));

/**
 * True flows that a reason of the core gives in brackets as L/min, such as `(minimum 12.0 is above
 * maximum 9.0 L/min)`, in the viewer's unit. What a device shows stands in no brackets and stays.
 */
export function flowsInReason(text: string, units: UnitChoice): string {
  if (units.flow === "L/min") return text;
  return text.replace(
    /\(([^()]*\d) L\/min\)/g,
    (_all, inner: string) => `(${every(inner, units)} ${units.flow})`,
  );
}

/** A rule's text whose every `0.02 L/min` is a true flow, in the viewer's unit. */
export function flowsInRule(text: string, units: UnitChoice): string {
  if (units.flow === "L/min") return text;
  return text.replace(
    /(\d+(?:[.,]\d+)?) L\/min/g,
    (_all, number: string) => `${converted(number, units)} ${units.flow}`,
  );
}
