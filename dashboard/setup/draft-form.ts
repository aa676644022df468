import type { StationDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import type { Step } from "./checks.ts";
import type { SetupForm, TypedUnits } from "./setup-form.ts";
import type { DropRegulators } from "./supply-plan.ts";

/** A set-up that was begun on this device and not saved at the gateway yet. */
export interface Draft<D = StationDocument> {
  /** Id of the station or supply that is changed; null for a new one. */
  id: string | null;
  /** Version that was seen when it was opened, or saved from here since; 0 for a new one. */
  version: number;
  /** What the form was opened on; null for a new one. Drafts of an earlier version lack it. */
  before?: D | null;
  form: SetupForm;
  step: Step;
  units: TypedUnits;
  keptMs: number;
}

/** Of a shared supply, with the stations that are to draw from it. */
export interface SupplyDraft extends Draft<SupplyDocument> {
  drops: readonly string[];
  regulators: DropRegulators;
}
