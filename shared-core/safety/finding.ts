import type { DocumentFault } from "../documents/parse.ts";

/** Rules of a station's safety; each stands for one reason. */
export const safetyRules = [
  "hydrogen-with-oxygen",
  "oxygen",
  "oxygen-enriched",
  "fuel-gas",
  "flammable",
  "cylinder-range",
  "cylinder-proof",
  "cylinder-proof-unknown",
  "line-burst",
  "line-proof-unknown",
  "pressure-unknown",
] as const;
export type SafetyRule = (typeof safetyRules)[number];

/**
 * One thing that would be dangerous: where it is, why, and what to do. `figures` are the numbers in
 * the message, so that a screen can say it in its own words: gauge Pa (`…Pa`) or mole fractions.
 */
export interface SafetyFinding extends DocumentFault {
  rule: SafetyRule;
  figures: Readonly<Record<string, number>>;
}

/** What must not be fitted, and what cannot be judged because something is not known. */
export interface SafetyReport {
  refusals: SafetyFinding[];
  cautions: SafetyFinding[];
}
