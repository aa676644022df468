import type { GuidedKind } from "./guided-plan.ts";
import type { Sheet } from "./sheet.ts";

const KEY = "leeward.bench.1";

/** What is written beside the rows. Pressures in bar; other figures as typed. */
export interface Facts {
  name: string;
  serial: string;
  meter: string;
  date: string;
  target: string;
  restBar: number | null;
  flowingBar: number | null;
  price: string;
}

export const blankFacts: Facts = {
  name: "",
  serial: "",
  meter: "",
  date: "",
  target: "",
  restBar: null,
  flowingBar: null,
  price: "",
};

/** Where a guided test stands. */
export interface GuidedState {
  kind: GuidedKind;
  step: number;
  /** Meter's uncertainty at k = 2, as typed. */
  doubled: string;
  /** Cylinder pressure of the last row, gauge Pa. */
  lastPa: number | null;
  said: string[];
}

/** A bench test in the making. */
export interface BenchDraft {
  station: string | null;
  facts: Facts;
  sheet: Sheet | null;
  guided: GuidedState | null;
  open: { id: string; version: number } | null;
}

export const blankDraft: BenchDraft = {
  station: null,
  facts: blankFacts,
  sheet: null,
  guided: null,
  open: null,
};

/** Keeps the draft on this device: a test takes hours, and a page may be left meanwhile. */
export function keepDraft(draft: BenchDraft): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(draft));
  } catch {
    // Full or forbidden storage: the draft then lasts as long as the page.
  }
}

export function keptDraft(): BenchDraft {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? "null");
    return isDraft(kept) ? { ...kept, facts: { ...blankFacts, ...kept.facts } } : blankDraft;
  } catch {
    return blankDraft;
  }
}

function isDraft(value: unknown): value is BenchDraft {
  if (typeof value !== "object" || value === null) return false;
  const { facts, sheet } = value as Partial<BenchDraft>;
  return (
    typeof facts === "object" &&
    facts !== null &&
    (sheet === null || (Array.isArray(sheet?.head) && Array.isArray(sheet.rows)))
  );
}
