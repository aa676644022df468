import type { StationDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import { type Step, stepOfPath } from "./checks.ts";
import type { Draft, SupplyDraft } from "./draft-form.ts";
import { afterChange } from "./other-sensor.ts";
import { formOf, type SetupForm, type TypedUnits } from "./setup-form.ts";
import { asStation } from "./supply-plan.ts";

/** What becomes of a draft whose station or supply was saved anew since it was begun. */

/** Whether a draft can be gone on with: `outdated` after another save, `gone` where nothing is left. */
export type DraftStanding = "fits" | "outdated" | "gone";

/** @param list what is set up now; null while that is not known */
export function standingOf(
  draft: Pick<Draft, "id" | "version">,
  list: readonly { id: string; version: number }[] | null,
): DraftStanding {
  if (draft.id === null || list === null) return "fits";
  const now = list.find(({ id }) => id === draft.id);
  if (!now) return "gone";
  // A list that is some seconds old may lag behind the draft.
  return now.version > draft.version ? "outdated" : "fits";
}

/** The steps in which a station was changed. */
export const changedInStation = (before: StationDocument, now: StationDocument): Step[] =>
  changedSteps(before, now, stepOfPath);

/** The steps in which a shared supply was changed. */
export const changedInSupply = (before: SupplyDocument, now: SupplyDocument): Step[] =>
  changedSteps(before, now, (key) => {
    if (key === "kind" || key === "reserve") return "gas";
    return key === "node" ? "sensors" : stepOfPath(key);
  });

function changedSteps(before: object, now: object, stepOf: (key: string) => Step): Step[] {
  const [was, is] = [before, now] as Record<string, unknown>[];
  const keys = [...new Set([...Object.keys(before), ...Object.keys(now)])];
  return [...new Set(keys.filter((key) => !isSame(was?.[key], is?.[key])).map(stepOf))];
}

/** The draft on top of the station as it stands now; null where it is not known what was typed. */
export function stationDraftOn(
  draft: Draft,
  now: { version: number; document: StationDocument },
): Draft | null {
  const { before, units } = draft;
  if (!before) return null;
  const form = typedOn(draft.form, before, now.document, units);
  return { ...draft, version: now.version, before: now.document, form };
}

/** The draft on top of the supply as it stands now; null where it is not known what was typed. */
export function supplyDraftOn(
  draft: SupplyDraft,
  now: { version: number; document: SupplyDocument },
): SupplyDraft | null {
  const { before, units } = draft;
  if (!before) return null;
  const { document, version } = now;
  const form = typedOn(draft.form, asStation(before), asStation(document), units);
  const added = draft.drops.filter((one) => !before.drops.includes(one));
  const left = before.drops.filter((one) => !draft.drops.includes(one));
  const drops = [...new Set([...document.drops, ...added])].filter((one) => !left.includes(one));
  const lineSensor = draft.form.lineSensor;
  return { ...draft, version, before: document, form: { ...form, lineSensor }, drops };
}

/** What stands now, with only those fields changed that somebody typed. */
function typedOn(
  typed: SetupForm,
  before: StationDocument,
  now: StationDocument,
  units: TypedUnits,
): SetupForm {
  const start = formOf(before, units);
  const changes = Object.fromEntries(
    Object.entries(typed).filter(([key, value]) => !isSame(value, start[key as keyof SetupForm])),
  ) as Partial<SetupForm>;
  for (const kind of ["cylinder", "line"] as const) {
    // What a node showed was read with the calibration that it had then.
    if (isSame(before.sensors?.[kind], now.sensors?.[kind])) continue;
    delete changes[`${kind}Calibration`];
  }
  return afterChange(formOf(now, units), changes, now, units);
}

/** Compares JSON values whatever the order of their keys; what is undefined is not there. */
function isSame(a: unknown, b: unknown): boolean {
  return JSON.stringify(a, inOrder) === JSON.stringify(b, inOrder);
}

function inOrder(_key: string, value: unknown): unknown {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}
