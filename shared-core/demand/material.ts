import type { MaterialFamily } from "./tables.ts";

const names: readonly (readonly [MaterialFamily, RegExp])[] = [
  ["stainless", /stainless|inox|austenit|duplex|\b(304|308|309|316|321)l?\b/i],
  ["aluminium", /alumin|\bal\b|\b(5083|5086|5052|6061|6082)\b/i],
  ["titanium", /titan|\bti\b/i],
  ["carbon-steel", /steel|\bmild\b|carbon|\bs(235|275|355)/i],
];

/** The family of a material as people write it (`316L`, `aluminium 5083`); null where unnamed. */
export function materialFamily(material: string | undefined): MaterialFamily | null {
  if (material === undefined || material.trim() === "") return null;
  return names.find(([, pattern]) => pattern.test(material))?.[0] ?? "other";
}

const flat = /^(1[fg]|2f|p[ab]|flat|horizontal( fillet)?)$/i;
const out = /^(2g|3[fg]|4[fg]|5[fg]|6[fg]r?|p[cdefg]|[hj]-?l045|vertical.*|overhead.*)$/i;

/**
 * Flat, out of position, or null where the text is neither of the AWS (`3G`) and ISO 6947 (`PF`)
 * names nor a plain word.
 */
export function weldPosition(position: string): "flat" | "out-of-position" | null {
  const text = position.trim();
  if (flat.test(text)) return "flat";
  return out.test(text) ? "out-of-position" : null;
}
