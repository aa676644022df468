import { type Kysely, type Migration, type MigrationProvider, sql } from "kysely";
import { benchLayout } from "../bench/bench-layout.ts";
import { rackLayout } from "../rack/rack-layout.ts";
import { alarmLayout, alarmSaidLayout } from "./alarm-layout.ts";
import { enrolmentLayout } from "./enrolment-layout.ts";

/** Steps of the store's layout, in order of their names. A released step is never edited. */
const steps: Record<string, Migration> = {
  "0001-first-layout": {
    async up(db: Kysely<unknown>): Promise<void> {
      for (const statement of firstLayout) await sql.raw(statement).execute(db);
    },
  },
  "0002-alarms": alarmLayout,
  "0003-bench": benchLayout,
  "0004-enrolments": enrolmentLayout,
  "0005-alarm-said": alarmSaidLayout,
  "0006-rack": rackLayout,
};

const firstLayout = [
  `CREATE TABLE log (
    id INTEGER PRIMARY KEY AUTOINCREMENT, received REAL NOT NULL, kind TEXT NOT NULL,
    site TEXT NOT NULL, node TEXT, station TEXT, payload TEXT NOT NULL, flag TEXT)`,
  "CREATE INDEX log_node ON log (site, node, id)",
  "CREATE INDEX log_station ON log (site, station, id) WHERE station IS NOT NULL",
  "CREATE INDEX log_received ON log (received)",
  `CREATE TABLE packs (
    owner TEXT NOT NULL, boot INTEGER NOT NULL, seq INTEGER NOT NULL, hash TEXT NOT NULL,
    log_id INTEGER NOT NULL, PRIMARY KEY (owner, boot, seq, hash)) WITHOUT ROWID`,
  "CREATE INDEX packs_log ON packs (log_id)",
  `CREATE TABLE series (
    id INTEGER PRIMARY KEY, owner TEXT NOT NULL, name TEXT NOT NULL, UNIQUE (owner, name))`,
  `CREATE TABLE samples (
    series_id INTEGER NOT NULL, t REAL NOT NULL, value REAL NOT NULL,
    PRIMARY KEY (series_id, t)) WITHOUT ROWID`,
  `CREATE TABLE words (
    series_id INTEGER NOT NULL, t REAL NOT NULL, word TEXT NOT NULL,
    PRIMARY KEY (series_id, t)) WITHOUT ROWID`,
  `CREATE TABLE rollups (
    series_id INTEGER NOT NULL, width INTEGER NOT NULL, t INTEGER NOT NULL,
    weight REAL NOT NULL, sum REAL NOT NULL, min REAL NOT NULL, max REAL NOT NULL,
    PRIMARY KEY (series_id, width, t)) WITHOUT ROWID`,
  `CREATE TABLE nodes (
    site TEXT NOT NULL, node TEXT NOT NULL, hardware TEXT, state TEXT NOT NULL, boot INTEGER,
    last_sample REAL, last_received REAL NOT NULL, status TEXT, latest TEXT NOT NULL,
    PRIMARY KEY (site, node)) WITHOUT ROWID`,
  `CREATE TABLE descriptions (
    id INTEGER PRIMARY KEY, site TEXT NOT NULL, kind TEXT NOT NULL, name TEXT NOT NULL,
    version INTEGER NOT NULL, valid_from REAL NOT NULL, document TEXT NOT NULL,
    UNIQUE (site, kind, name, version))`,
  `CREATE TABLE bindings (
    id INTEGER PRIMARY KEY, site TEXT NOT NULL, node TEXT NOT NULL, owner TEXT NOT NULL,
    valid_from REAL NOT NULL, valid_to REAL)`,
  "CREATE INDEX bindings_node ON bindings (site, node)",
  `CREATE TABLE journal (
    id INTEGER PRIMARY KEY AUTOINCREMENT, t REAL NOT NULL, recorded REAL NOT NULL,
    site TEXT NOT NULL, station TEXT, node TEXT, kind TEXT NOT NULL, detail TEXT NOT NULL,
    fingerprint TEXT NOT NULL UNIQUE)`,
  "CREATE INDEX journal_t ON journal (t)",
  `CREATE TABLE dead_letters (
    id INTEGER PRIMARY KEY AUTOINCREMENT, received REAL NOT NULL, topic TEXT NOT NULL,
    reason TEXT NOT NULL, path TEXT NOT NULL, message TEXT NOT NULL, bytes INTEGER NOT NULL,
    payload TEXT NOT NULL)`,
  `CREATE TABLE engines (
    key TEXT PRIMARY KEY, setup TEXT NOT NULL, start_received REAL NOT NULL,
    setup_log_id INTEGER NOT NULL, through_id INTEGER NOT NULL, every REAL NOT NULL,
    state TEXT, placer TEXT) WITHOUT ROWID`,
  `CREATE TABLE latest (
    station TEXT PRIMARY KEY, t REAL NOT NULL, estimate TEXT NOT NULL) WITHOUT ROWID`,
  `CREATE TABLE idempotency (
    key TEXT PRIMARY KEY, request TEXT NOT NULL, status INTEGER NOT NULL,
    response TEXT NOT NULL, created REAL NOT NULL) WITHOUT ROWID`,
  "CREATE TABLE facts (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID",
];

export const migrationProvider: MigrationProvider = {
  getMigrations: () => Promise.resolve(steps),
};
