import { createHash } from "node:crypto";
import type {
  PressureSensorDocument,
  SensorsDocument,
} from "@leeward/shared-core/documents/hardware.ts";
import type { StationDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import type { NodeConfig } from "@leeward/shared-core/messages/node-messages.ts";

const paPerBar = 1e5;
/** The highest revision that a node takes, and one more than all that are made here. */
const revisions = 2_147_483_000;

/** What a node measures for: a station by itself, a shared supply, or both. */
export interface NodeDuty {
  /** Null for the node of a supply whose stations all have their own. */
  station: StationDocument | null;
  supply: SupplyDocument | null;
}

/** Who each claimed node of a site works for, by node. */
export function nodeDuties(
  stations: readonly StationDocument[],
  supplies: readonly SupplyDocument[],
): Map<string, NodeDuty> {
  const duties = new Map<string, NodeDuty>();
  for (const supply of supplies) {
    const drops = stations.filter((station) => station.supply === supply.supply);
    // As the estimator sees it: a drop without a node is measured by its supply's, a supply without
    // one by its first drop's.
    const ofSupply = supply.node ?? drops[0]?.node;
    if (ofSupply) {
      const station =
        drops.find(({ node }) => node === ofSupply) ?? drops.find(({ node }) => !node) ?? null;
      duties.set(ofSupply, { station, supply });
    }
  }
  for (const station of stations) {
    const { node } = station;
    if (node && !duties.has(node)) duties.set(node, { station, supply: null });
  }
  return duties;
}

/**
 * What descriptions mean for a node: the ranges of its transducers with their calibration, and the
 * limits at which it warns by itself, gauge Pa; null for a node that nobody claims, whose own
 * settings then count again. The revision follows from the content: a node that is moved to another
 * station takes that one's settings even where both descriptions are of the same version.
 */
export function nodeConfig(duty: NodeDuty | null): NodeConfig {
  const content = duty === null ? { calibration: {}, limits: {} } : contentOf(duty);
  const digest = createHash("sha256").update(JSON.stringify(content)).digest();
  return { revision: 1 + (digest.readUInt32BE(0) % (revisions - 1)), ...content };
}

function contentOf({ station, supply }: NodeDuty) {
  const regulator = station?.regulator ?? (station ? supply?.regulator : null);
  const atSupply = (supply?.sensors ?? station?.sensors)?.cylinder;
  const high = supply ? atSupply : station?.sensors?.cylinder;
  const residualBar = (supply ?? station)?.cylinder?.residualBar;
  const mostBar = regulator?.maxLineBar;
  const deliveryBar = regulator?.deliveryBar;
  const line = station?.sensors?.line;
  const scale = (supply?.sensors ?? station?.sensors)?.scale;
  return {
    calibration: {
      ...(high ? { cylinder: transducer(high) } : {}),
      // At a drop of a shared supply only the line is measured.
      ...(station?.supply && !supply ? { cylinder: { fitted: false } } : {}),
      line: line ? { fitted: true, ...transducer(line) } : { fitted: false },
      ...(scale ? { scale: scaleOf(scale) } : {}),
    },
    limits: {
      ...(residualBar === undefined ? {} : { residualPa: Math.round(residualBar * paPerBar) }),
      // Below half the delivery pressure the flow is far too short, whatever the weld.
      ...(line && deliveryBar !== undefined
        ? { lineLeastPa: Math.round(deliveryBar * 0.5 * paPerBar) }
        : {}),
      ...(line && mostBar !== undefined ? { lineMostPa: Math.round(mostBar * paPerBar) } : {}),
    },
  };
}

/** Range and two-point calibration; a revision without them would undo what was calibrated. */
function transducer({ rangeBar, twoPoint }: PressureSensorDocument) {
  return {
    rangePa: rangeBar * paPerBar,
    ...(twoPoint
      ? {
          lowReadsPa: Math.round(twoPoint.lowReadsBar * paPerBar),
          lowIsPa: Math.round(twoPoint.lowIsBar * paPerBar),
          highReadsPa: Math.round(twoPoint.highReadsBar * paPerBar),
          highIsPa: Math.round(twoPoint.highIsBar * paPerBar),
        }
      : {}),
  };
}

function scaleOf({
  lowReads,
  lowIsKg,
  highReads,
  highIsKg,
}: NonNullable<SensorsDocument["scale"]>) {
  return { lowReads, lowIsKg, highReads, highIsKg };
}
