import type { Draft, SupplyDraft } from "./draft-form.ts";
import { newForm } from "./setup-form.ts";

/** One draft of a kind, kept on this device. */
export interface DraftKeeper<D extends Draft<unknown>> {
  keep(draft: Omit<D, "keptMs">): void;
  recall(): D | null;
  /** What was begun on this one; on another version it would undo what came since. */
  recallFor(id: string | null): D | null;
  drop(): void;
}

function keeper<D extends Draft<unknown>>(key: string): DraftKeeper<D> {
  const recall = (): D | null => {
    try {
      const kept = JSON.parse(localStorage.getItem(key) ?? "null") as D | null;
      if (typeof kept?.form?.gas !== "string" || typeof kept.step !== "string") return null;
      // A draft of an earlier version of this page lacks what was not asked then.
      return { ...kept, form: { ...newForm("", "", kept.units), ...kept.form } };
    } catch {
      return null;
    }
  };
  return {
    keep(draft) {
      try {
        localStorage.setItem(key, JSON.stringify({ ...draft, keptMs: Date.now() }));
      } catch {
        // Full or forbidden storage: then only what is saved at the gateway is kept.
      }
    },
    recall,
    recallFor(id) {
      const kept = recall();
      return kept?.id === id ? kept : null;
    },
    drop() {
      try {
        localStorage.removeItem(key);
      } catch {
        // Nothing was kept then.
      }
    },
  };
}

export const stationDraft = keeper<Draft>("leeward.setup-draft.1");
export const supplyDraft = keeper<SupplyDraft>("leeward.setup-supply-draft.1");
