import { fixed } from "./numbers.ts";
import { flowInUnit, type UnitChoice } from "./units.ts";

const NUMBER = String.raw`(\d+(?:[.,]\d+)?)`;

/** The only flows in a reason of the core, in each language of the books. */
const BOUNDS = new RegExp(
  String.raw`\((minimum|Mindestwert|el mínimo) ${NUMBER}([^()\d]+)${NUMBER} L/min\)`,
  "g",
);

/** `0.02 L/min`, and spans such as `12.0 to 16.0 L/min`. */
const FLOW = new RegExp(`(?:${NUMBER}( to | bis | a | – ))?${NUMBER} L/min`, "g");

/** As many figures as the text had, which a rule or a table gave to no more than two or three. */
function converted(text: string, units: UnitChoice): string {
  const lpm = Number(text.replace(",", "."));
  const shown = flowInUnit(lpm, units);
  return fixed(shown, shown >= 20 ? 0 : shown >= 1 ? 1 : 2);
}

/**
 * The bounds that a reason of the core gives in brackets, `(minimum 12.0 is above maximum 9.0
 * L/min)`, in the viewer's unit. Whatever else stands there is what a device shows, and stays.
 */
export function flowsInReason(text: string, units: UnitChoice): string {
  if (units.flow === "L/min") return text;
  return text.replace(
    BOUNDS,
    (_all, name: string, low: string, between: string, high: string) =>
      `(${name} ${converted(low, units)}${between}${converted(high, units)} ${units.flow})`,
  );
}

/** A rule's text whose every `0.02 L/min` is a true flow, in the viewer's unit. */
export function flowsInRule(text: string, units: UnitChoice): string {
  if (units.flow === "L/min") return text;
  return text.replace(FLOW, (_all, low: string | undefined, between: string, high: string) => {
    const span = low === undefined ? "" : `${converted(low, units)}${between}`;
    return `${span}${converted(high, units)} ${units.flow}`;
  });
}
