import type { CylinderRecord } from "@leeward/shared-core/api/rack.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import {
  demoCylinderId,
  type NewMove,
  type RackStore,
  type StoredCylinder,
} from "../rack/rack-store.ts";

const DAY_S = 86_400;

/** Cylinders of the demo shop: one at every station, and a store that does not suffice for long. */
export async function fillDemoRack(
  rack: RackStore,
  site: string,
  stations: readonly StationDocument[],
  presentS: number,
): Promise<void> {
  const cylinders: StoredCylinder[] = [];
  const moves: NewMove[] = [];
  const add = (
    id: string,
    record: CylinderRecord,
    place: StoredCylinder["place"],
    station: string | null,
    daysAgo: number,
  ) => {
    const since = presentS - daysAgo * DAY_S;
    cylinders.push({ id, site, version: 1, record, place, station, since });
    const of = { cylinder: id, serial: record.serial, lot: record.lot, by: null, before: null };
    moves.push({ ...of, t: since - DAY_S, kind: "arrived", station: null });
    if (station !== null) moves.push({ ...of, t: since, kind: "fitted", station });
  };
  for (const [index, station] of stations.entries()) {
    const { cylinder } = station;
    if (!cylinder) continue;
    const record = recordFor(cylinder, 4100 + 17 * index, presentS);
    add(demoCylinderId(String(index)), record, "fitted", `${site}.${station.station}`, 3 + index);
    // Of every second gas a full one stands in store.
    if (index % 2 === 0) {
      add(
        demoCylinderId(`full-${index}`),
        recordFor(cylinder, 5200 + 23 * index, presentS),
        "store",
        null,
        1 + index,
      );
    }
  }
  moves.sort((a, b) => a.t - b.t);
  await rack.write(site, cylinders, moves);
}

function recordFor(
  cylinder: NonNullable<StationDocument["cylinder"]>,
  number: number,
  presentS: number,
): CylinderRecord {
  const day = (s: number) => new Date(s * 1000).toISOString().slice(0, 10);
  const filled =
    "filledKg" in cylinder
      ? { filledKg: cylinder.filledKg as number }
      : { filledBar: cylinder.filledBar as number, filledC: cylinder.filledC as number };
  return {
    serial: `BY-${number}`,
    lot: `L26-${number % 97}`,
    gas: cylinder.gas,
    composition: cylinder.composition,
    waterVolumeL: cylinder.waterVolumeL,
    ...filled,
    ...(cylinder.residualBar === undefined ? {} : { residualBar: cylinder.residualBar }),
    ...(cylinder.pricePerFill === undefined ? {} : { pricePerFill: cylinder.pricePerFill }),
    supplier: "Harbour Gases",
    filledOn: day(presentS - 20 * DAY_S),
    testedUntil: day(presentS + ((number % 7) - 1) * 200 * DAY_S),
  };
}
