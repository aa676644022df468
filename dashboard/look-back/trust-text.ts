import { fixed } from "../display/numbers.ts";
import type { lookBack } from "../language/english/look-back.ts";
import type { Trusted } from "./trust.ts";

/** How far a part of the record can be trusted, in words. */
export function trustText(
  { part, percent, testedS, onlyAfter, overdue, ofSupply }: Trusted,
  text: (typeof lookBack)["trust"],
  day: (unixS: number) => string,
): string {
  if (ofSupply) return text.ofSupply;
  const kind = part === "device" ? "device" : "sensor";
  const tested =
    testedS === null
      ? text.untested[kind]
      : (onlyAfter ? text.onlyAfter : text.tested)[kind](day(testedS));
  return [
    percent !== null && text.limit(fixed(percent, percent < 1 ? 2 : 1)),
    tested,
    overdue && text.overdue,
  ]
    .filter(Boolean)
    .join(", ");
}
