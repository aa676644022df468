import { mkdirSync } from "node:fs";
import { dirname } from "node:path";
import SqliteDriver from "better-sqlite3";
import { Kysely, Migrator, SqliteDialect } from "kysely";
import { migrationProvider } from "./migrations.ts";
import { SqliteStore } from "./sqlite-store.ts";
import type { Database } from "./tables.ts";

/**
 * Opens (and creates or migrates) the store's file, `:memory:` included.
 * Each commit is on the disk when it returns (WAL, synchronous FULL): a message that was
 * acknowledged survives a power failure. Rejects where the file cannot be opened or migrated.
 */
export async function openSqliteStore(file: string): Promise<SqliteStore> {
  if (file !== ":memory:") mkdirSync(dirname(file), { recursive: true });
  const driver = new SqliteDriver(file);
  driver.pragma("journal_mode = WAL");
  driver.pragma("synchronous = FULL");
  driver.pragma("busy_timeout = 5000");
  driver.pragma("cache_size = -32000");
  const db = new Kysely<Database>({ dialect: new SqliteDialect({ database: driver }) });
  const migrated = await new Migrator({ db, provider: migrationProvider }).migrateToLatest();
  if (migrated.error) {
    await db.destroy();
    throw migrated.error instanceof Error ? migrated.error : new Error(String(migrated.error));
  }
  return new SqliteStore(db);
}

/**
 * Opens a store that a gateway may be using, to read only. Its layout must be of this version.
 * Throws where the file cannot be opened.
 */
export function openSqliteStoreToRead(file: string): SqliteStore {
  const driver = new SqliteDriver(file, { readonly: true, fileMustExist: true });
  driver.pragma("busy_timeout = 5000");
  return new SqliteStore(
    new Kysely<Database>({ dialect: new SqliteDialect({ database: driver }) }),
  );
}
