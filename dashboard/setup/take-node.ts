import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { type Answer, getStation, putStation } from "../api/client.ts";
import { withOtherNode } from "./other-node.ts";
import type { SupplyView } from "./setup-api.ts";
import type { SetupForm } from "./setup-form.ts";

/** What is asked of a station to know whose a node is. */
type NodeHolder = Pick<StationView, "id" | "site"> & { description: { node?: string | null } };

/**
 * Names of a site's nodes that other places have and keep: the gateway would refuse them here.
 *
 * @param base id of the station that is set up; null for a new one
 */
export function nodesElsewhere(
  form: Pick<SetupForm, "site" | "taken">,
  base: string | null,
  stations: readonly NodeHolder[],
  supplies: readonly Pick<SupplyView, "description">[],
): Set<string> {
  const { site, taken } = form;
  const nodes = new Set<string>();
  for (const { id, site: its, description } of stations) {
    const { node } = description;
    if (its !== site || id === base || node == null) continue;
    if (taken?.station !== id || taken.node !== node) nodes.add(node);
  }
  for (const { description } of supplies) {
    if (description.site === site && description.node != null) nodes.add(description.node);
  }
  return nodes;
}

/** A node taken away from its station, with the way to give it back; or why it was not. */
export type Taking =
  | { ok: true; giveBack: () => Promise<boolean> }
  | { ok: false; answer: Answer<StationView> };

/** Takes the node of a form away from the station that has it: just before it is saved elsewhere. */
export async function takeNode({
  node,
  taken,
}: Pick<SetupForm, "node" | "taken">): Promise<Taking> {
  const nothing: Taking = { ok: true, giveBack: async () => true };
  if (taken?.node !== node) return nothing;
  // Asked for anew: what was changed there meanwhile must not be undone.
  const fresh = await getStation(taken.station);
  if (!fresh.ok) return { ok: false, answer: fresh };
  const { description, version } = fresh.value;
  if (description.node !== node) return nothing;
  const done = await putStation(taken.station, withOtherNode(description, null), version);
  if (!done.ok) return { ok: false, answer: done };
  const giveBack = async () =>
    (await putStation(taken.station, description, done.value.version)).ok;
  return { ok: true, giveBack };
}
