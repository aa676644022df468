import type { Kysely, Selectable } from "kysely";
import type { EnrolmentDatabase, EnrolmentTable } from "./enrolment-layout.ts";

/** A node's credentials as the store keeps them; times are Unix seconds. */
export interface EnrolmentRecord {
  site: string;
  node: string;
  secretHash: string;
  updateKey: string;
  issuedS: number;
  revokedS: number | null;
  lastLoginS: number | null;
}

const ownerFact = "owner-key-hash";

/** Who may log in at the embedded broker, and the owner's key. Read anew each time: the command line writes too. */
export class EnrolmentStore {
  readonly #db: Kysely<EnrolmentDatabase>;

  constructor(db: Kysely<EnrolmentDatabase>) {
    this.#db = db;
  }

  async list(): Promise<EnrolmentRecord[]> {
    const rows = await this.#db
      .selectFrom("enrolments")
      .selectAll()
      .orderBy("site")
      .orderBy("node")
      .execute();
    return rows.map(toRecord);
  }

  async get(site: string, node: string): Promise<EnrolmentRecord | null> {
    const row = await this.#db
      .selectFrom("enrolments")
      .selectAll()
      .where("site", "=", site)
      .where("node", "=", node)
      .executeTakeFirst();
    return row ? toRecord(row) : null;
  }

  /** Puts new credentials in the place of any that the node had. */
  async issue(record: EnrolmentRecord): Promise<void> {
    await this.#db
      .replaceInto("enrolments")
      .values({
        site: record.site,
        node: record.node,
        secret_hash: record.secretHash,
        update_key: record.updateKey,
        issued: record.issuedS,
        revoked: record.revokedS,
        last_login: record.lastLoginS,
      })
      .execute();
  }

  async revoke(site: string, node: string, nowS: number): Promise<void> {
    await this.#db
      .updateTable("enrolments")
      .set({ revoked: nowS })
      .where("site", "=", site)
      .where("node", "=", node)
      .execute();
  }

  async noteLogin(site: string, node: string, nowS: number): Promise<void> {
    await this.#db
      .updateTable("enrolments")
      .set({ last_login: nowS })
      .where("site", "=", site)
      .where("node", "=", node)
      .execute();
  }

  /** SHA-256 of the owner's key; null where there is no owner yet. */
  async ownerKeyHash(): Promise<string | null> {
    const row = await this.#db
      .selectFrom("facts")
      .select("value")
      .where("key", "=", ownerFact)
      .executeTakeFirst();
    return row?.value ?? null;
  }

  async saveOwnerKeyHash(hash: string): Promise<void> {
    await this.#db.replaceInto("facts").values({ key: ownerFact, value: hash }).execute();
  }
}

function toRecord(row: Selectable<EnrolmentTable>): EnrolmentRecord {
  return {
    site: row.site,
    node: row.node,
    secretHash: row.secret_hash,
    updateKey: row.update_key,
    issuedS: row.issued,
    revokedS: row.revoked,
    lastLoginS: row.last_login,
  };
}
