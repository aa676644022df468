/** What is done in one step of a guided test; its words stand in the language files. */
export interface GuidedStep {
  action: "set" | "left" | "redialled";
  words: "set" | "left" | "redialled" | "lower" | "found" | "asLeft";
}

export type GuidedKind = "bench" | "torch";

const torch: readonly GuidedStep[] = [
  { action: "left", words: "found" },
  { action: "redialled", words: "asLeft" },
];

/** Rows that a bench test needs before it can say anything. */
export const LEAST_STEPS = 5;

/**
 * The step a test has come to; null where it is done. A bench test goes on, one pressure lower each
 * time with a row left alone and a row dialled back, until its maker ends it.
 */
export function guidedStep(kind: GuidedKind, step: number): GuidedStep | null {
  if (kind === "torch") return torch[step] ?? null;
  if (step === 0) return { action: "set", words: "set" };
  if (step % 2 === 1) return { action: "left", words: step === 1 ? "left" : "lower" };
  return { action: "redialled", words: "redialled" };
}
