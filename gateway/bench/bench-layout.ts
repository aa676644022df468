import { type Kysely, type Migration, sql } from "kysely";

/** Every version of every bench test; rows are only added. Times are Unix seconds. */
export interface BenchTestTable {
  id: string;
  version: number;
  saved: number;
  /** JSON. */
  document: string;
}

export interface BenchDatabase {
  bench_tests: BenchTestTable;
}

/** The tables of bench tests. */
export const benchLayout: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await sql
      .raw(
        `CREATE TABLE bench_tests (
          id TEXT NOT NULL, version INTEGER NOT NULL, saved REAL NOT NULL, document TEXT NOT NULL,
          PRIMARY KEY (id, version)) WITHOUT ROWID`,
      )
      .execute(db);
  },
};
