import type { StationDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import { type Answer, getStation, putStation } from "../api/client.ts";
import { getSupply, putSupply, type SupplyView } from "./setup-api.ts";
import { type DropRegulators, supplySteps } from "./supply-plan.ts";

export interface SupplySaving {
  /** The supply as the gateway has it now, also where a later step failed: saving goes on from there. */
  stored: SupplyView | null;
  /** What was not taken, and at which station; `null` there for the supply itself. */
  failed: { answer: Answer<unknown>; station: string | null } | null;
}

/**
 * Saves a shared supply and the stations that are to draw from it, step after step.
 *
 * @param stored the supply as it was last read or saved; null where the gateway has none yet
 * @param drops ids of all stations that are to draw from it
 */
export async function saveSupply(
  document: SupplyDocument,
  drops: readonly string[],
  regulators: DropRegulators,
  stored: SupplyView | null,
): Promise<SupplySaving> {
  // As they stand now: nothing that was changed there meanwhile is undone.
  const documents = new Map<string, StationDocument>();
  const versions = new Map<string, number>();
  for (const id of drops) {
    const answer = await getStation(id);
    if (!answer.ok) return { stored, failed: { answer, station: id } };
    documents.set(id, answer.value.description);
    versions.set(id, answer.value.version);
  }
  let latest = stored;
  for (const step of supplySteps(document, documents, regulators, stored?.description ?? null)) {
    if (step.kind === "supply") {
      const answer = await putOrFound(step.document, latest?.version ?? null);
      if (!answer.ok) return { stored: latest, failed: { answer, station: null } };
      latest = answer.value;
    } else {
      const answer = await putStation(step.id, step.document, versions.get(step.id) ?? null);
      if (!answer.ok) return { stored: latest, failed: { answer, station: step.id } };
    }
  }
  return { stored: latest, failed: null };
}

/**
 * Saves a supply. Where the answer to an earlier try was lost the gateway has it already, under a
 * version that nobody here has seen: it is the same to the last word, and counts as saved.
 */
async function putOrFound(
  document: SupplyDocument,
  seen: number | null,
): Promise<Answer<SupplyView>> {
  const answer = await putSupply(document, seen);
  if (answer.ok) return answer;
  const there = await getSupply(`${document.site}.${document.supply}`);
  return there.ok && isSame(there.value.description, document) ? there : answer;
}

/**
 * The supply that an earlier try has left at the gateway without its answer: the same but for its
 * node, which comes last where a station must give it up first.
 */
export function leftBehind(
  document: SupplyDocument,
  there: readonly SupplyView[],
): SupplyView | null {
  const found = there.find(({ description }) => description.supply === document.supply);
  const nodeless = (one: SupplyDocument) => ({ ...one, node: null });
  return found && isSame(nodeless(found.description), nodeless(document)) ? found : null;
}

/** Whether two documents say the same, in whatever order, and whether or not what is unsaid is named. */
function isSame(a: unknown, b: unknown): boolean {
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return a === b;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...keys].every((key) => isSame(a[key as keyof typeof a], b[key as keyof typeof b]));
}
