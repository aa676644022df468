import type { Step } from "./checks.ts";
import { newForm, type SetupForm, type TypedUnits } from "./setup-form.ts";

const KEY = "leeward.setup-draft.1";

/** A set-up that was begun on this device and not saved at the gateway yet. */
export interface Draft {
  /** Id of the station that is changed; null for a new one. */
  id: string | null;
  /** Version that was seen when it was opened; 0 for a new one. */
  version: number;
  form: SetupForm;
  step: Step;
  units: TypedUnits;
  keptMs: number;
}

export function keepDraft(draft: Omit<Draft, "keptMs">): void {
  try {
    localStorage.setItem(KEY, JSON.stringify({ ...draft, keptMs: Date.now() }));
  } catch {
    // Full or forbidden storage: then only the saved station is kept.
  }
}

export function recallDraft(): Draft | null {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? "null") as Draft | null;
    if (typeof kept?.form?.gas !== "string" || typeof kept.step !== "string") return null;
    // A draft of an earlier version of this page lacks what was not asked then.
    return { ...kept, form: { ...newForm("", "", kept.units), ...kept.form } };
  } catch {
    return null;
  }
}

export function dropDraft(): void {
  try {
    localStorage.removeItem(KEY);
  } catch {
    // Nothing was kept then.
  }
}
