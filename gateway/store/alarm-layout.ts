import { type Generated, type Kysely, type Migration, sql } from "kysely";

/** Tables of alarms and their delivery. Times are Unix seconds; JSON is text. */

export interface AlarmOccurrenceTable {
  /** `<site>.<station>~<condition>~<since in base 36>`; the site alone where it concerns no station. */
  id: string;
  site: string;
  /** Null where it concerns the whole site. */
  station: string | null;
  condition: string;
  priority: string;
  since: number;
  /** Time of the line that brought it, and of the one that ended it. */
  raised: number;
  cleared: number | null;
  state: string;
  acknowledged: number | null;
  acknowledged_by: string | null;
  note: string | null;
  suppressed_by: string | null;
  /** 1 while it is known from late samples only. */
  late: number;
  /** When it last rang. */
  rang: number | null;
  title: string;
  advice: string;
  /** Title and advice as keys and values, JSON. */
  said: string | null;
  /** 1 while it is not normal; what `load` reads. */
  open: number;
}

/** Shelved, or taken out of service, by a person: a condition of a station. */
export interface AlarmShelfTable {
  site: string;
  /** Empty text where it concerns the whole site. */
  station: string;
  condition: string;
  kind: "shelved" | "out-of-service";
  since: number;
  /** Null: until a person ends it (out of service only). */
  until: number | null;
  by: string;
  note: string;
}

/** Only ever added to: two triggers refuse anything else. */
export interface AlarmJournalTable {
  id: Generated<number>;
  t: number;
  recorded: number;
  site: string;
  station: string | null;
  occurrence: string | null;
  condition: string;
  kind: string;
  priority: string | null;
  by: string | null;
  note: string | null;
}

/** Newest line of a station that the life cycle has taken: older ones are repeats after a restart. */
export interface AlarmProgressTable {
  station: string;
  through: number;
}

/** Stations that the demo made up: the only ones whose alarm journal may be forgotten. */
export interface AlarmVirtualTable {
  station: string;
}

export interface OutboxTable {
  /** Stable: the same message to the same way has the same id. */
  id: string;
  occurrence: string | null;
  kind: string;
  contact: string;
  way: string;
  /** JSON of the way and of the message. */
  way_detail: string;
  message: string;
  created: number;
  due: number;
  expires: number;
  attempts: number;
  first_attempt: number | null;
  /** An attempt was begun and its outcome is not known. */
  in_flight: number;
  state: string;
  delivered: number | null;
  last_error: string | null;
}

export interface PushSubscriptionTable {
  id: string;
  contact: string;
  subscription: string;
  created: number;
}

export interface AlarmDatabase {
  alarm_occurrences: AlarmOccurrenceTable;
  alarm_shelves: AlarmShelfTable;
  alarm_journal: AlarmJournalTable;
  alarm_progress: AlarmProgressTable;
  alarm_virtual: AlarmVirtualTable;
  outbox: OutboxTable;
  push_subscriptions: PushSubscriptionTable;
}

const statements = [
  `CREATE TABLE alarm_occurrences (
    id TEXT PRIMARY KEY, site TEXT NOT NULL, station TEXT, condition TEXT NOT NULL,
    priority TEXT NOT NULL, since REAL NOT NULL, raised REAL NOT NULL, cleared REAL,
    state TEXT NOT NULL, acknowledged REAL, acknowledged_by TEXT, note TEXT, suppressed_by TEXT,
    late INTEGER NOT NULL, rang REAL, title TEXT NOT NULL, advice TEXT NOT NULL,
    open INTEGER NOT NULL) WITHOUT ROWID`,
  "CREATE INDEX alarm_occurrences_open ON alarm_occurrences (open) WHERE open = 1",
  `CREATE TABLE alarm_shelves (
    site TEXT NOT NULL, station TEXT NOT NULL, condition TEXT NOT NULL, kind TEXT NOT NULL,
    since REAL NOT NULL, until REAL, by TEXT NOT NULL, note TEXT NOT NULL,
    PRIMARY KEY (site, station, condition)) WITHOUT ROWID`,
  `CREATE TABLE alarm_journal (
    id INTEGER PRIMARY KEY AUTOINCREMENT, t REAL NOT NULL, recorded REAL NOT NULL,
    site TEXT NOT NULL, station TEXT, occurrence TEXT, condition TEXT NOT NULL, kind TEXT NOT NULL,
    priority TEXT, by TEXT, note TEXT)`,
  "CREATE INDEX alarm_journal_t ON alarm_journal (t)",
  "CREATE TABLE alarm_progress (station TEXT PRIMARY KEY, through REAL NOT NULL) WITHOUT ROWID",
  "CREATE TABLE alarm_virtual (station TEXT PRIMARY KEY) WITHOUT ROWID",
  `CREATE TRIGGER alarm_journal_no_update BEFORE UPDATE ON alarm_journal
   BEGIN SELECT RAISE(ABORT, 'the alarm journal is never edited'); END`,
  `CREATE TRIGGER alarm_journal_no_delete BEFORE DELETE ON alarm_journal
   WHEN NOT EXISTS (SELECT 1 FROM alarm_virtual WHERE station = OLD.site || '.' || OLD.station)
   BEGIN SELECT RAISE(ABORT, 'the alarm journal is never edited'); END`,
  `CREATE TABLE outbox (
    id TEXT PRIMARY KEY, occurrence TEXT, kind TEXT NOT NULL, contact TEXT NOT NULL,
    way TEXT NOT NULL, way_detail TEXT NOT NULL, message TEXT NOT NULL, created REAL NOT NULL,
    due REAL NOT NULL, expires REAL NOT NULL, attempts INTEGER NOT NULL, first_attempt REAL,
    in_flight INTEGER NOT NULL, state TEXT NOT NULL, delivered REAL, last_error TEXT) WITHOUT ROWID`,
  "CREATE INDEX outbox_waiting ON outbox (due) WHERE state = 'waiting'",
  "CREATE INDEX outbox_occurrence ON outbox (occurrence)",
  `CREATE TABLE push_subscriptions (
    id TEXT PRIMARY KEY, contact TEXT NOT NULL, subscription TEXT NOT NULL,
    created REAL NOT NULL) WITHOUT ROWID`,
];

/** The step that keeps what an alarm says apart from its language. */
export const alarmSaidLayout: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await sql.raw("ALTER TABLE alarm_occurrences ADD COLUMN said TEXT").execute(db);
  },
};

/** The step of the store's layout that brings alarms. */
export const alarmLayout: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
