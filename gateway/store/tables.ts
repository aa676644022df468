import type { Generated } from "kysely";
import type { AlarmDatabase } from "./alarm-layout.ts";

/** Tables of the gateway's store. Times are Unix seconds; JSON is text. */

/** Everything that an engine ever receives, in order of receipt: what replay needs. */
export interface LogTable {
  id: Generated<number>;
  received: number;
  kind: "samples" | "status" | "reply" | "person" | "setup";
  site: string;
  node: string | null;
  station: string | null;
  /** A message's payload as sent; a person's entry; a description. */
  payload: string;
  /** `conflict`: the pack's key was there with other content. */
  flag: string | null;
}

/** Identities of packs, so that a repeat is stored once. */
export interface PackTable {
  /** Hardware address where known, else `<site>/<node>`. */
  owner: string;
  boot: number;
  seq: number;
  hash: string;
  log_id: number;
}

export interface SeriesTable {
  id: Generated<number>;
  /** `node:<site>/<node>` or `station:<site>.<station>`. */
  owner: string;
  name: string;
}

export interface SampleTable {
  series_id: number;
  t: number;
  value: number;
}

/** Fault words and other texts of a channel. */
export interface WordTable {
  series_id: number;
  t: number;
  word: string;
}

/** Sums of one bucket of `width` seconds; `weight` is what `sum` is divided by. */
export interface RollupTable {
  series_id: number;
  width: number;
  t: number;
  weight: number;
  sum: number;
  min: number;
  max: number;
}

export interface NodeTable {
  site: string;
  node: string;
  hardware: string | null;
  state: string;
  boot: number | null;
  last_sample: number | null;
  last_received: number;
  status: string | null;
  /** Latest value of each channel: `{ "line-pressure": [t, value] }`. */
  latest: string;
}

export interface DescriptionTable {
  id: Generated<number>;
  site: string;
  kind: "station" | "supply";
  name: string;
  version: number;
  valid_from: number;
  document: string;
}

/** Which station or supply a node's samples reach, and when. */
export interface BindingTable {
  id: Generated<number>;
  site: string;
  node: string;
  /** `station:<name>` or `supply:<name>`. */
  owner: string;
  valid_from: number;
  valid_to: number | null;
}

export interface JournalTable {
  id: Generated<number>;
  t: number;
  recorded: number;
  site: string;
  station: string | null;
  node: string | null;
  kind: string;
  detail: string;
  /** Keeps a repeat out when engines run again over what they had seen. */
  fingerprint: string;
}

export interface DeadLetterTable {
  id: Generated<number>;
  received: number;
  topic: string;
  reason: string;
  path: string;
  message: string;
  bytes: number;
  payload: string;
}

export interface EngineTable {
  key: string;
  /** First description; what the engine was created with. */
  setup: string;
  start_received: number;
  setup_log_id: number;
  through_id: number;
  every: number;
  state: string | null;
  placer: string | null;
}

/** Latest estimate of each station, shown until the engine has a newer one. */
export interface LatestTable {
  station: string;
  t: number;
  estimate: string;
}

export interface IdempotencyTable {
  key: string;
  request: string;
  status: number;
  response: string;
  created: number;
}

export interface FactTable {
  key: string;
  value: string;
}

export interface Database extends AlarmDatabase {
  log: LogTable;
  packs: PackTable;
  series: SeriesTable;
  samples: SampleTable;
  words: WordTable;
  rollups: RollupTable;
  nodes: NodeTable;
  descriptions: DescriptionTable;
  bindings: BindingTable;
  journal: JournalTable;
  dead_letters: DeadLetterTable;
  engines: EngineTable;
  latest: LatestTable;
  idempotency: IdempotencyTable;
  facts: FactTable;
}
