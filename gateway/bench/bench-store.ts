import type { BenchTestDocument } from "@leeward/shared-core/bench/bench-test-document.ts";
import type { Kysely, Selectable } from "kysely";
import type { BenchDatabase, BenchTestTable } from "./bench-layout.ts";

/** A stored version of a bench test. */
export interface BenchTestRecord {
  id: string;
  version: number;
  savedS: number;
  test: BenchTestDocument;
}

export type BenchSaveResult =
  | { ok: true; version: number }
  /** Another version stands than the one seen; 0: there is none. */
  | { ok: false; version: number };

/** Bench tests in the store; a change adds a version and none is ever overwritten. */
export class BenchStore {
  readonly #db: Kysely<BenchDatabase>;

  constructor(db: Kysely<BenchDatabase>) {
    this.#db = db;
  }

  /** The newest version of every test, the latest saved first. */
  async list(): Promise<BenchTestRecord[]> {
    const rows = await this.#db
      .selectFrom("bench_tests as one")
      .selectAll()
      .where("version", "=", (query) =>
        query
          .selectFrom("bench_tests as other")
          .whereRef("other.id", "=", "one.id")
          .select((builder) => builder.fn.max("other.version").as("newest")),
      )
      .orderBy("saved", "desc")
      .execute();
    return rows.map(toRecord);
  }

  /** All versions of a test, the newest first. */
  async versions(id: string): Promise<BenchTestRecord[]> {
    const rows = await this.#db
      .selectFrom("bench_tests")
      .selectAll()
      .where("id", "=", id)
      .orderBy("version", "desc")
      .execute();
    return rows.map(toRecord);
  }

  /** @param seen version that the writer has seen; 0 for a new test */
  async save(
    id: string,
    test: BenchTestDocument,
    seen: number,
    nowS: number,
  ): Promise<BenchSaveResult> {
    return this.#db.transaction().execute(async (trx) => {
      const newest = await trx
        .selectFrom("bench_tests")
        .select("version")
        .where("id", "=", id)
        .orderBy("version", "desc")
        .executeTakeFirst();
      const standing = newest?.version ?? 0;
      if (standing !== seen) return { ok: false, version: standing };
      await trx
        .insertInto("bench_tests")
        .values({ id, version: seen + 1, saved: nowS, document: JSON.stringify(test) })
        .execute();
      return { ok: true, version: seen + 1 };
    });
  }
}

function toRecord(row: Selectable<BenchTestTable>): BenchTestRecord {
  return {
    id: row.id,
    version: row.version,
    savedS: row.saved,
    test: JSON.parse(row.document) as BenchTestDocument,
  };
}
