import type { StationDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import { withOtherNode } from "./other-node.ts";
import { documentOf } from "./setup-document.ts";
import type { SetupForm, TypedUnits } from "./setup-form.ts";

/** A shared supply in Setup: its form is that of a station of which only the cylinder's side is asked. */

/** What stations have between the supply and themselves. */
export type DropRegulators = "own" | "none";

/** A supply as if it were a station with this cylinder, so that one form and one check serve both. */
export function asStation(supply: SupplyDocument): StationDocument {
  const { site, node, cylinder, regulator, sensors, altitudeM } = supply;
  return {
    schema: 1,
    station: supply.supply,
    site,
    node,
    cylinder,
    regulator,
    ...(sensors ? { sensors } : {}),
    ...(altitudeM === undefined ? {} : { altitudeM }),
  } as StationDocument;
}

/** The supply that a form stands for, not yet checked. */
export function supplyOf(
  form: SetupForm,
  drops: readonly string[],
  base: SupplyDocument | null,
  units: TypedUnits,
): SupplyDocument {
  const made = documentOf(form, base && asStation(base), units) as unknown as StationDocument;
  const { station, site, node, cylinder, regulator, sensors, altitudeM } = made;
  const several = (cylinder?.count ?? 1) > 1;
  return {
    ...base,
    schema: 1,
    supply: station,
    site,
    node: node ?? null,
    kind: base?.kind === "bulk" ? "bulk" : several ? "bank" : "cylinder",
    cylinder,
    reserve: base?.reserve ?? null,
    regulator,
    sensors,
    ...(altitudeM === undefined ? {} : { altitudeM }),
    drops: [...drops],
  } as SupplyDocument;
}

/**
 * A station that draws from a supply from now on: its own cylinder, cylinder sensor and, where it is
 * so, regulator go. The supply's node measures it too where it had that one.
 */
export function asDrop(
  station: StationDocument,
  supply: Pick<SupplyDocument, "supply" | "node">,
  regulators: DropRegulators,
): StationDocument {
  const { cylinder, ...rest } = station;
  const { cylinder: atCylinder, scale, ...sensors } = station.sensors ?? {};
  const drop: StationDocument = { ...rest, supply: supply.supply, sensors };
  if (regulators === "none") delete drop.regulator;
  return drop.node != null && drop.node === supply.node ? { ...drop, node: null } : drop;
}

/** Something to be stored; a supply comes twice where its node must be given up by a station first. */
export type SupplyStep =
  | { kind: "supply"; document: SupplyDocument }
  | { kind: "station"; id: string; document: StationDocument };

/**
 * What is to be stored, in an order that the gateway takes at each step.
 *
 * @param stations all that are to draw from it, as they are stored
 * @param before the supply as it is stored; null for a new one
 */
export function supplySteps(
  supply: SupplyDocument,
  stations: ReadonlyMap<string, StationDocument>,
  regulators: DropRegulators,
  before: SupplyDocument | null,
): SupplyStep[] {
  const changed = [...stations].flatMap(([id, station]): SupplyStep[] => {
    const drawsAlready = station.supply === supply.supply;
    const givesNode = station.node != null && station.node === supply.node;
    if (drawsAlready && !givesNode) return [];
    const document = drawsAlready
      ? withOtherNode(station, null)
      : asDrop(station, supply, regulators);
    return [{ kind: "station", id, document }];
  });
  const waits = [...stations.values()].some(
    ({ node }) => node != null && node === supply.node && before?.node !== node,
  );
  return [
    { kind: "supply", document: waits ? { ...supply, node: before?.node ?? null } : supply },
    ...changed,
    ...(waits ? [{ kind: "supply" as const, document: supply }] : []),
  ];
}

/** Stations that no node tells apart: two that the supply's own node would measure at once. */
export function measuredTogether(stations: readonly StationDocument[]): StationDocument[] {
  const without = stations.filter(({ node }) => node == null);
  return without.length > 1 ? without : [];
}
