import { type Kysely, type Migration, sql } from "kysely";

/** Cylinders and their moves; SQL that SQLite and PostgreSQL both take. Times are Unix seconds. */

export interface CylinderTable {
  id: string;
  site: string;
  version: number;
  serial: string;
  /** JSON of a CylinderRecord. */
  record: string;
  place: string;
  station: string | null;
  since: number;
}

/** Only ever added to. */
export interface CylinderMoveTable {
  site: string;
  seq: number;
  t: number;
  kind: string;
  cylinder: string | null;
  serial: string | null;
  lot: string | null;
  station: string | null;
  by_whom: string | null;
  /** JSON of what an undo needs: what stood before. */
  before: string | null;
}

export interface RackDatabase {
  cylinders: CylinderTable;
  cylinder_moves: CylinderMoveTable;
}

/** The statements, for either database. */
export const rackStatements = [
  `CREATE TABLE cylinders (
    id TEXT NOT NULL PRIMARY KEY, site TEXT NOT NULL, version INTEGER NOT NULL,
    serial TEXT NOT NULL, record TEXT NOT NULL, place TEXT NOT NULL, station TEXT,
    since DOUBLE PRECISION NOT NULL, UNIQUE (site, serial))`,
  `CREATE TABLE cylinder_moves (
    site TEXT NOT NULL, seq INTEGER NOT NULL, t DOUBLE PRECISION NOT NULL, kind TEXT NOT NULL,
    cylinder TEXT, serial TEXT, lot TEXT, station TEXT, by_whom TEXT, before TEXT,
    PRIMARY KEY (site, seq))`,
];

/** The step of the store's layout that brings the Rack. */
export const rackLayout: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of rackStatements) await sql.raw(statement).execute(db);
  },
};
