import type { CylinderRecord, RackCylinder, RackMove } from "@leeward/shared-core/api/rack.ts";
import type { Kysely, Selectable, Transaction } from "kysely";
import type { CylinderMoveTable, CylinderTable, RackDatabase } from "./rack-layout.ts";

export interface StoredCylinder {
  id: string;
  site: string;
  version: number;
  record: CylinderRecord;
  place: RackCylinder["place"];
  station: string | null;
  since: number;
}

export interface StoredMove {
  seq: number;
  t: number;
  kind: RackMove["kind"];
  cylinder: string | null;
  serial: string | null;
  lot: string | null;
  station: string | null;
  by: string | null;
  before: unknown;
}

export type NewMove = Omit<StoredMove, "seq">;

/** Cylinders in the store. A change of state and its move are one transaction. */
export class RackStore {
  readonly #db: Kysely<RackDatabase>;

  constructor(db: Kysely<RackDatabase>) {
    this.#db = db;
  }

  async list(site: string): Promise<StoredCylinder[]> {
    const rows = await this.#db
      .selectFrom("cylinders")
      .selectAll()
      .where("site", "=", site)
      .orderBy("since", "desc")
      .execute();
    return rows.map(toCylinder);
  }

  async get(id: string): Promise<StoredCylinder | null> {
    const row = await this.#db
      .selectFrom("cylinders")
      .selectAll()
      .where("id", "=", id)
      .executeTakeFirst();
    return row ? toCylinder(row) : null;
  }

  /** Newest first. */
  async moves(site: string, limit: number): Promise<StoredMove[]> {
    const rows = await this.#db
      .selectFrom("cylinder_moves")
      .selectAll()
      .where("site", "=", site)
      .orderBy("seq", "desc")
      .limit(limit)
      .execute();
    return rows.map(toMove);
  }

  /** Writes cylinders as they stand now, and what happened to them. */
  async write(
    site: string,
    cylinders: readonly StoredCylinder[],
    moves: readonly NewMove[],
  ): Promise<void> {
    await this.#db.transaction().execute((trx) => write(trx, site, cylinders, moves));
  }

  /**
   * Forgets the cylinders that the demo made up, and what became of them. One that is fitted to a
   * real station stays, and so do all moves at real stations; one that a person entered stays too,
   * and is in store again where it was fitted to a virtual station.
   *
   * @param stations ids of the virtual stations, `<site>.<station>`
   * @param nowS moment from which a cylinder is in store again, Unix s
   */
  async forgetDemo(site: string, stations: readonly string[], nowS: number): Promise<void> {
    const cylinders = await this.list(site);
    const isVirtual = (station: string | null) => station !== null && stations.includes(station);
    const gone = cylinders
      .filter(({ id, station }) => isDemoCylinder(id) && (station === null || isVirtual(station)))
      .map(({ id }) => id);
    const goneIds = new Set(gone);
    const back = cylinders
      .filter(({ id, station }) => !goneIds.has(id) && isVirtual(station))
      .map((one): StoredCylinder => ({ ...one, place: "store", station: null, since: nowS }));
    await this.#db.transaction().execute(async (trx) => {
      await trx.deleteFrom("cylinders").where("id", "in", gone).execute();
      await trx
        .deleteFrom("cylinder_moves")
        .where("site", "=", site)
        .where((where) =>
          where.or([
            where.and([where("cylinder", "in", gone), where("station", "is", null)]),
            where("station", "in", [...stations]),
          ]),
        )
        .execute();
      // Without a station: that of the demo was never there, and comes again under the same name.
      const moves = back.map(({ id, record: { serial, lot } }): NewMove => {
        const from = { station: null, by: null, before: null };
        return { t: nowS, kind: "undone", cylinder: id, serial, lot, ...from };
      });
      await write(trx, site, back, moves);
    });
  }
}

/** Id of a cylinder of the demo; those that people enter have ids of chance. */
export const demoCylinderId = (name: string): string => `demo-${name}`;

export const isDemoCylinder = (id: string): boolean => id.startsWith(demoCylinderId(""));

async function write(
  trx: Transaction<RackDatabase>,
  site: string,
  cylinders: readonly StoredCylinder[],
  moves: readonly NewMove[],
): Promise<void> {
  for (const cylinder of cylinders) await put(trx, cylinder);
  const last = await trx
    .selectFrom("cylinder_moves")
    .select("seq")
    .where("site", "=", site)
    .orderBy("seq", "desc")
    .limit(1)
    .executeTakeFirst();
  let seq = last?.seq ?? 0;
  for (const { by, before, ...move } of moves) {
    seq++;
    await trx
      .insertInto("cylinder_moves")
      .values({
        ...move,
        site,
        seq,
        by_whom: by,
        before: before === null ? null : JSON.stringify(before),
      })
      .execute();
  }
}

async function put(trx: Transaction<RackDatabase>, cylinder: StoredCylinder): Promise<void> {
  const { record, ...rest } = cylinder;
  const row = { ...rest, serial: record.serial, record: JSON.stringify(record) };
  const { id: _, ...changes } = row;
  await trx
    .insertInto("cylinders")
    .values(row)
    .onConflict((conflict) => conflict.column("id").doUpdateSet(changes))
    .execute();
}

function toCylinder(row: Selectable<CylinderTable>): StoredCylinder {
  const { serial: _, record, place, ...rest } = row;
  return {
    ...rest,
    record: JSON.parse(record) as CylinderRecord,
    place: place as RackCylinder["place"],
  };
}

function toMove(row: Selectable<CylinderMoveTable>): StoredMove {
  const { site: _, by_whom, before, kind, ...rest } = row;
  return {
    ...rest,
    kind: kind as RackMove["kind"],
    by: by_whom,
    before: before === null ? null : (JSON.parse(before) as unknown),
  };
}
