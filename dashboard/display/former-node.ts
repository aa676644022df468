import type { StoodAt } from "@leeward/shared-core/api/stations.ts";
import { IDLE_LIMIT_S } from "@leeward/shared-core/estimation/age-limit.ts";

/** What is asked of a node that nobody claims. */
export interface FreeNode {
  lastSample: string | null;
  stood?: StoodAt | undefined;
}

/** Age of a node's newest sample, s. */
export function sampleAgeS({ lastSample }: FreeNode, nowS: number): number {
  if (lastSample === null) return Number.POSITIVE_INFINITY;
  return Math.max(0, nowS - Date.parse(lastSample) / 1000);
}

/**
 * Whether a free node is set aside: it stood somewhere, was replaced or taken away, and says nothing
 * any more. One that speaks is no dead one, and is offered again.
 */
export function isSetAside(node: FreeNode, nowS: number): boolean {
  return node.stood !== undefined && sampleAgeS(node, nowS) > IDLE_LIMIT_S;
}

/** Whether a node that stood somewhere has been heard since it left, and still is. */
export function speaksAgain(node: FreeNode, nowS: number): boolean {
  const { lastSample, stood } = node;
  if (stood === undefined || lastSample === null || isSetAside(node, nowS)) return false;
  return Date.parse(lastSample) > Date.parse(stood.until);
}

/** Id of the station, `<site>.<station>`, or name of the supply that a node stood at. */
export function placeOf(
  site: string,
  { owner }: StoodAt,
): { station: string } | { supply: string } {
  const [kind, name = ""] = owner.split(":");
  return kind === "supply" ? { supply: name } : { station: `${site}.${name}` };
}
