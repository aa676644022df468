import type { Step } from "./checks.ts";
import { newForm, type SetupForm, type TypedUnits } from "./setup-form.ts";
import type { DropRegulators } from "./supply-plan.ts";

/** A set-up that was begun on this device and not saved at the gateway yet. */
export interface Draft {
  /** Id of the station or supply that is changed; null for a new one. */
  id: string | null;
  /** Version that was seen when it was opened; 0 for a new one. */
  version: number;
  form: SetupForm;
  step: Step;
  units: TypedUnits;
  keptMs: number;
}

/** Of a shared supply, with the stations that are to draw from it. */
export interface SupplyDraft extends Draft {
  drops: readonly string[];
  regulators: DropRegulators;
}

/** One draft of a kind, kept on this device. */
export interface DraftKeeper<D extends Draft> {
  keep(draft: Omit<D, "keptMs">): void;
  recall(): D | null;
  /** What was begun on this one as it stands: on another version it would undo what came since. */
  recallFor(id: string | null, version: number): D | null;
  drop(): void;
}

function keeper<D extends Draft>(key: string): DraftKeeper<D> {
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
    recallFor(id, version) {
      const kept = recall();
      return kept?.id === id && kept.version === version ? kept : null;
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
