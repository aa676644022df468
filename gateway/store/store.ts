import type { StationDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import type { DeadLetterReason } from "@leeward/shared-core/messages/dead-letter-reasons.ts";
import type { FlowSample } from "@leeward/shared-core/record/shielding.ts";
import type { BenchStore } from "../bench/bench-store.ts";
import type { RackStore } from "../rack/rack-store.ts";
import type { AlarmStore } from "./alarm-store.ts";
import type { EnrolmentStore } from "./enrolment-store.ts";
import type { OutboxStore } from "./outbox-store.ts";
import type { LogTable } from "./tables.ts";

/**
 * What the gateway asks of its store. SQLite is the one behind it today; nothing outside this
 * folder knows SQL. All methods reject with the driver's error where the disk fails.
 */
export interface GatewayStore {
  /** Occurrences of alarms, shelves, the alarm journal. */
  readonly alarms: AlarmStore;
  /** Messages on their way to people. */
  readonly outbox: OutboxStore;
  /** Tests of regulators and flow devices. */
  readonly bench: BenchStore;
  /** Cylinders and their moves. */
  readonly rack: RackStore;
  /** Credentials of nodes, and the owner's key. */
  readonly enrolments: EnrolmentStore;

  /** Writes one batch in one transaction, durably, and returns the ids given to its log entries, in order. */
  write(batch: WriteBatch): Promise<{ logIds: number[] }>;

  /** Hashes stored under each pack identity asked for. */
  knownPacks(keys: readonly PackKey[]): Promise<Map<string, string[]>>;
  /** Sequence numbers stored for a boot, from `from` on, rising. */
  storedSequence(owner: string, boot: number, from: number): Promise<number[]>;

  /** Log entries after `afterId` of the nodes or stations named (null: all), in order, at most `limit`. */
  readLog(query: LogQuery): Promise<LogEntry[]>;
  /** Id and time of receipt of the newest log entry; zeros where there is none. */
  logHead(): Promise<{ id: number; received: number }>;

  nodes(): Promise<NodeRecord[]>;

  descriptions(): Promise<DescriptionRecord[]>;
  bindings(): Promise<BindingRecord[]>;

  journal(query: JournalQuery): Promise<JournalRecord[]>;
  deadLetters(query: { limit: number; before?: number }): Promise<DeadLetterRecord[]>;
  deadLetterCount(): Promise<number>;

  engines(): Promise<EngineRecord[]>;
  /** Latest stored estimate of each station, as JSON text. */
  latestEstimates(): Promise<Map<string, string>>;
  removeEngine(key: string): Promise<void>;

  /** Stored answer of an idempotent request, or null. */
  idempotentAnswer(key: string): Promise<IdempotentAnswer | null>;
  saveIdempotentAnswer(key: string, answer: IdempotentAnswer, createdS: number): Promise<void>;

  history(query: HistoryQuery): Promise<HistoryRows>;
  /** Every kept line of a station's flow (`owner` as in `HistoryPart`), from `from` up to `to`. */
  flowSamples(owner: string, from: number, to: number): Promise<FlowSample[]>;

  fact(key: string): Promise<string | null>;
  saveFact(key: string, value: string): Promise<void>;

  /** Deletes what is older than the limits; returns the number of rows that went. */
  prune(limits: RetentionLimits): Promise<number>;
  /** Forgets everything of these stations and nodes (the demo's, made anew at each start). */
  forget(site: string, stations: readonly string[], nodes: readonly string[]): Promise<void>;

  close(): Promise<void>;
}

export interface PackKey {
  owner: string;
  boot: number;
  seq: number;
}

/** Key of `knownPacks`' answer. */
export function packKeyText(key: PackKey): string {
  return `${key.owner}|${key.boot}|${key.seq}`;
}

export interface NewLogEntry {
  received: number;
  kind: LogTable["kind"];
  site: string;
  node: string | null;
  station: string | null;
  payload: string;
  flag: string | null;
  pack: (PackKey & { hash: string }) | null;
}

export type LogEntry = Omit<NewLogEntry, "pack"> & { id: number };

export interface LogQuery {
  afterId: number;
  of: { site: string; nodes: readonly string[]; stations: readonly string[] } | null;
  fromReceived?: number;
  toReceived?: number;
  limit: number;
}

/** One value of a series; `weight` counts in means (seconds, say). */
export interface SeriesValue {
  owner: string;
  name: string;
  t: number;
  value: number | string;
  weight?: number;
}

export interface NodeRecord {
  site: string;
  node: string;
  hardware: string | null;
  state: "online" | "offline" | "unknown";
  boot: number | null;
  lastSample: number | null;
  lastReceived: number;
  status: Record<string, unknown> | null;
  latest: Record<string, [number, number | boolean | string]>;
}

export interface DescriptionRecord {
  site: string;
  kind: "station" | "supply";
  name: string;
  version: number;
  validFrom: number;
  document: StationDocument | SupplyDocument;
}

export interface BindingRecord {
  site: string;
  node: string;
  owner: string;
  validFrom: number;
  validTo: number | null;
}

export interface BindingChange {
  site: string;
  owner: string;
  /** The node bound from now on; null where none. */
  node: string | null;
  /** The one bound until now; null where none was. */
  before: string | null;
  validFrom: number;
}

export interface NewJournalEntry {
  t: number;
  recorded: number;
  site: string;
  station: string | null;
  node: string | null;
  kind: string;
  detail: Record<string, unknown>;
}

export type JournalRecord = NewJournalEntry & { id: number };

export interface JournalQuery {
  from: number;
  to: number;
  site?: string;
  station?: string;
  /** Only these kinds. */
  kinds?: readonly string[];
  limit: number;
}

export interface NewDeadLetter {
  received: number;
  topic: string;
  reason: DeadLetterReason;
  path: string;
  message: string;
  bytes: number;
  payload: string;
}

export type DeadLetterRecord = Omit<NewDeadLetter, "reason"> & { id: number; reason: string };

export interface EngineRecord {
  key: string;
  /** JSON of the first SupplySetup. */
  setup: string;
  startReceived: number;
  setupLogId: number;
  throughId: number;
  every: number;
  state: string | null;
  placer: string | null;
}

export interface WriteBatch {
  log?: NewLogEntry[];
  /** New versions of descriptions, and the node bound with them. */
  descriptions?: { record: DescriptionRecord; binding: BindingChange | null }[];
  values?: SeriesValue[];
  nodes?: NodeRecord[];
  journal?: NewJournalEntry[];
  deadLetters?: NewDeadLetter[];
  engines?: EngineRecord[];
  /** Station id → t and JSON of its latest estimate. */
  latest?: { station: string; t: number; estimate: string }[];
  facts?: { key: string; value: string }[];
}

export interface IdempotentAnswer {
  request: string;
  status: number;
  response: string;
}

/** One stretch of a series: node samples reach a station through its bindings. */
export interface HistoryPart {
  owner: string;
  from: number;
  to: number;
}

export interface HistoryQuery {
  from: number;
  to: number;
  points: number;
  /** Oldest moment of which raw samples are kept; before it, one-minute sums answer. */
  rawFrom: number;
  /** The same for one-minute sums. */
  minutesFrom: number;
  series: { name: string; parts: HistoryPart[] }[];
  /** Owners whose samples show that data came at all; a longer silence than this is a gap. */
  presence: { parts: HistoryPart[]; silenceS: number };
}

export interface HistoryRows {
  bucketS: number;
  /** Bucket starts in `t`, rising; empty buckets are left out. */
  series: Map<string, { t: number[]; min: number[]; mean: number[]; max: number[] }>;
  gaps: { from: number; to: number }[];
}

export interface RetentionLimits {
  /** Raw samples, log and packs older than this go; Unix seconds. */
  rawBefore: number;
  minutesBefore: number;
}
