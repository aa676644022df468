import { type Kysely, type Migration, sql } from "kysely";

/** Credentials of nodes. The secret itself is nowhere: only its hash, and the key made from it. */
export interface EnrolmentTable {
  site: string;
  node: string;
  /** SHA-256 of the secret, hexadecimal: it has 110 bits of chance, so that no salt is needed. */
  secret_hash: string;
  /** In clear, since updates are signed with it; it does not lead back to the secret. */
  update_key: string;
  /** Unix seconds. */
  issued: number;
  revoked: number | null;
  last_login: number | null;
}

export interface EnrolmentDatabase {
  enrolments: EnrolmentTable;
  facts: { key: string; value: string };
}

/** The table of enrolled nodes. */
export const enrolmentLayout: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await sql
      .raw(
        `CREATE TABLE enrolments (
          site TEXT NOT NULL, node TEXT NOT NULL, secret_hash TEXT NOT NULL,
          update_key TEXT NOT NULL, issued REAL NOT NULL, revoked REAL, last_login REAL,
          PRIMARY KEY (site, node)) WITHOUT ROWID`,
      )
      .execute(db);
  },
};
