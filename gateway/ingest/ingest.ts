import type { StationDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import type { PersonEntry, SupplySetup } from "@leeward/shared-core/estimation/engine.ts";
import type { MessageFault } from "@leeward/shared-core/messages/dead-letter-reasons.ts";
import { refuse } from "@leeward/shared-core/messages/dead-letter-reasons.ts";
import { PackPlacer, type PlacedReceipt } from "@leeward/shared-core/messages/pack-placer.ts";
import { nodeTopic, parseNodeTopic } from "@leeward/shared-core/messages/topics.ts";
import type { Clock } from "../clock.ts";
import type { Logger } from "../log.ts";
import type {
  BindingChange,
  DescriptionRecord,
  GatewayStore,
  LogEntry,
  PackKey,
  WriteBatch,
} from "../store/store.ts";
import { packKeyText } from "../store/store.ts";
import { BatchBuilder, entryBase, journalBase } from "./batch-builder.ts";
import type { NodeRegistry } from "./node-registry.ts";
import { type HashedKey, keyOf } from "./pack-key.ts";
import { type NodeMessage, readMessage } from "./read-message.ts";
import { StoredThrough } from "./stored-through.ts";

/** What happens to a batch once it is stored. */
export interface IngestSinks {
  /** Log entries in order of receipt, each as it was stored. */
  take(entries: readonly LogEntry[]): void;
  /** Time passes, in order with the entries. */
  tick(nowS: number): void;
  nodeState(site: string, node: string): void;
  /** A pack was refused because its node's clock runs ahead. */
  clockRefused(site: string, node: string): void;
  stored(notice: { site: string; node: string; boot: number; through: number }): void;
}

type Job =
  | { kind: "message"; received: number; topic: string; payload: Uint8Array }
  | { kind: "person"; received: number; site: string; station: string; entry: PersonEntry }
  | {
      kind: "setup";
      received: number;
      site: string;
      tag: string;
      /** Null where the supply has no station yet. */
      setup: SupplySetup | null;
      /** Null where the site has changed and no description with it. */
      record: DescriptionRecord | null;
      binding: BindingChange | null;
    }
  | { kind: "tick"; received: number }
  | { kind: "task"; received: number; task: () => Promise<void> };

interface QueuedJob {
  job: Job;
  done(): void;
  fail(error: unknown): void;
}

/** Stations that a description is of: itself, or all that a shared supply feeds. */
function stationsOf({ kind, name, document }: DescriptionRecord): string[] {
  return kind === "station" ? [name] : (document as SupplyDocument).drops;
}

/** Most jobs that share one commit. */
const batchLimit = 500;
/** Payload kept with a dead letter. */
const keptPayload = 2048;
const retryMs = 1000;

/**
 * One queue for everything that is received: messages, people's entries, new descriptions, and the
 * passing of time. Many messages await one commit; a promise resolves when its message is stored.
 */
export class Ingest {
  readonly #store: GatewayStore;
  readonly #clock: Clock;
  readonly #log: Logger;
  readonly #registry: NodeRegistry;
  readonly #sinks: IngestSinks;
  readonly #through: StoredThrough;
  readonly #allowNode: (site: string, node: string) => boolean;
  #placer = new PackPlacer();
  #queue: QueuedJob[] = [];
  #running: Promise<void> | null = null;
  #lastReceivedS: number;
  #closed = false;
  /** For the metrics. */
  readonly counts = { messages: 0, repeats: 0, deadLetters: 0, batches: 0 };

  constructor(options: {
    store: GatewayStore;
    clock: Clock;
    log: Logger;
    registry: NodeRegistry;
    sinks: IngestSinks;
    /** Time of the newest entry that is stored: the time of receipt never falls. */
    lastReceivedS: number;
    /** False refuses a real node while the demo's clock runs faster than the wall's. */
    allowNode?: (site: string, node: string) => boolean;
  }) {
    this.#store = options.store;
    this.#clock = options.clock;
    this.#log = options.log;
    this.#registry = options.registry;
    this.#sinks = options.sinks;
    this.#through = new StoredThrough(options.store);
    this.#allowNode = options.allowNode ?? (() => true);
    this.#lastReceivedS = options.lastReceivedS;
  }

  /** A message from a node; resolves when it is stored, or refused into the dead letters. */
  message(topic: string, payload: Uint8Array, receivedS?: number): Promise<void> {
    return this.#enqueue({ kind: "message", received: this.#stamp(receivedS), topic, payload });
  }

  /** What a person said of a station; resolves to its time of receipt when it is stored. */
  async person(
    site: string,
    station: string,
    entry: PersonEntry,
    receivedS?: number,
  ): Promise<number> {
    const received = this.#stamp(receivedS);
    await this.#enqueue({ kind: "person", received, site, station, entry });
    return received;
  }

  /** A new description; `plan` hears its time of receipt. */
  async description(
    document: StationDocument | SupplyDocument,
    plan: (receivedS: number) => {
      tag: string;
      setup: SupplySetup | null;
      record: DescriptionRecord;
      binding: BindingChange | null;
    },
    receivedS?: number,
  ): Promise<void> {
    const received = this.#stamp(receivedS);
    await this.#enqueue({ kind: "setup", received, site: document.site, ...plan(received) });
  }

  /** The same descriptions under other conditions of the site: each engine hears its set-up anew. */
  async setups(site: string, setups: { tag: string; setup: SupplySetup }[]): Promise<void> {
    const received = this.#stamp();
    const one = { kind: "setup", received, site, record: null, binding: null } as const;
    await Promise.all(setups.map((part) => this.#enqueue({ ...one, ...part })));
  }

  /** Lets time pass, after all that was received before. */
  tick(): Promise<void> {
    return this.#enqueue({ kind: "tick", received: this.#stamp() });
  }

  /** Runs `task` between two batches, when store and engines agree. */
  between(task: () => Promise<void>): Promise<void> {
    return this.#enqueue({ kind: "task", received: this.#lastReceivedS, task });
  }

  get queued(): number {
    return this.#queue.length;
  }

  /** State of the placing of relative times, for a snapshot. */
  placerState(): string {
    return this.#placer.serialise();
  }

  /** Takes up the placing of times where a snapshot left it. */
  restorePlacer(state: string | null): void {
    this.#placer = state === null ? new PackPlacer() : PackPlacer.restore(state);
  }

  /** Runs the placing over what was stored since, whose samples are in the history already. */
  placeAgain(entries: readonly LogEntry[]): void {
    for (const entry of entries) {
      if (entry.kind !== "samples" || entry.node === null) continue;
      const topic = nodeTopic(entry.site, entry.node, "samples");
      const read = readMessage(topic, Buffer.from(entry.payload), entry.received);
      if (read.ok && read.value.kind === "samples") {
        this.#placer.receive(entry.received, read.value.pack);
      }
    }
  }

  /** Refuses what comes from now on, and resolves when the queue is empty. */
  async close(): Promise<void> {
    this.#closed = true;
    while (this.#running) await this.#running;
  }

  #stamp(receivedS?: number): number {
    // A made-up past brings its own times.
    if (receivedS !== undefined) return toMilliseconds(receivedS);
    // Never falls, also where the wall clock is set back.
    this.#lastReceivedS = Math.max(toMilliseconds(this.#clock.nowS()), this.#lastReceivedS);
    return this.#lastReceivedS;
  }

  #enqueue(job: Job): Promise<void> {
    if (this.#closed) return Promise.reject(new Error("the gateway is stopping"));
    return new Promise((resolve, reject) => {
      this.#queue.push({ job, done: resolve, fail: reject });
      this.#running ??= this.#run();
    });
  }

  async #run(): Promise<void> {
    // One turn of the event loop lets the rest of a burst arrive, to share the commit.
    await new Promise((resolve) => setImmediate(resolve));
    while (this.#queue.length > 0) {
      const [first] = this.#queue;
      if (first!.job.kind === "tick" || first!.job.kind === "task") {
        this.#queue.shift();
        await this.#runAlone(first!);
        continue;
      }
      let size = 0;
      while (size < batchLimit && isStored(this.#queue[size]?.job)) size++;
      const jobs = this.#queue.splice(0, size);
      try {
        await this.#runBatch(jobs);
      } catch (error) {
        // A fault of the gateway's own: what is not stored is not acknowledged, and the rest goes on.
        const stack = error instanceof Error ? error.stack : String(error);
        this.#log.error({ stack }, "a batch failed");
        for (const { fail } of jobs) fail(error);
      }
    }
    // In the same turn that found the queue empty, so that no job is ever left lying there.
    this.#running = null;
  }

  async #runAlone(queued: QueuedJob): Promise<void> {
    try {
      if (queued.job.kind === "task") await queued.job.task();
      else {
        await this.#expire(queued.job.received);
        this.#sinks.tick(queued.job.received);
      }
      queued.done();
    } catch (error) {
      queued.fail(error);
    }
  }

  /** Samples whose wait for a time is over go to the history; engines place them by themselves. */
  async #expire(nowS: number): Promise<void> {
    const released = this.#placer.expire(nowS);
    if (released.length === 0) return;
    const batch = new BatchBuilder();
    for (const receipt of released) this.#placed(batch, receipt);
    await this.#commit({ ...batch.batch, nodes: this.#registry.takeChanged() });
    for (const { site, pack } of released) this.#sinks.nodeState(site, pack.node);
  }

  async #runBatch(jobs: QueuedJob[]): Promise<void> {
    const builder = new BatchBuilder();
    const read = jobs.map(({ job }) => (job.kind === "message" ? this.#read(job) : null));
    const known = await this.#retry(() => this.#store.knownPacks(packKeysOf(read)));
    for (const [index, { job }] of jobs.entries()) {
      switch (job.kind) {
        case "message":
          this.#takeMessage(builder, job, read[index]!, known);
          break;
        case "person":
          builder.log({
            ...entryBase(job, job.station),
            kind: "person",
            payload: JSON.stringify(job.entry),
          });
          builder.journal({
            ...journalBase(job),
            station: job.station,
            kind: `person-${Object.keys(job.entry)[0] ?? "entry"}`,
            detail: { ...job.entry },
          });
          break;
        case "setup":
          if (job.setup !== null) {
            const payload = JSON.stringify(job.setup);
            builder.log({ ...entryBase(job, job.tag), kind: "setup", payload });
          }
          if (job.record === null) break;
          builder.batch.descriptions.push({ record: job.record, binding: job.binding });
          builder.journal({
            ...journalBase(job),
            station: job.record.kind === "station" ? job.record.name : null,
            kind: "description",
            detail: { of: `${job.record.kind} ${job.record.name}`, version: job.record.version },
          });
          if (job.binding === null) break;
          for (const station of stationsOf(job.record)) {
            builder.journal({
              ...journalBase(job),
              station,
              node: job.binding.node ?? job.binding.before,
              kind: "node-changed",
              detail: { before: job.binding.before, now: job.binding.node },
            });
          }
          break;
        default:
          break;
      }
    }
    const { logIds } = await this.#commit({
      ...builder.batch,
      nodes: this.#registry.takeChanged(),
    });
    for (const { done } of jobs) done();
    const entries = builder.batch.log.map(({ pack: _, ...entry }, index) => ({
      ...entry,
      id: logIds[index]!,
    }));
    this.#sinks.take(entries);
    for (const key of builder.changedNodes) {
      const [site, node] = key.split("/") as [string, string];
      this.#sinks.nodeState(site, node);
    }
    for (const key of builder.refusedClocks) {
      const [site, node] = key.split("/") as [string, string];
      this.#sinks.clockRefused(site, node);
    }
    await this.#notices(builder);
  }

  #read(job: { topic: string; payload: Uint8Array; received: number }): ReadResult {
    const read = readMessage(job.topic, job.payload, job.received);
    if (!read.ok) return { fault: read.fault };
    const { site, node } = read.value;
    if (!this.#allowNode(site, node)) {
      return {
        fault: refuse("demo-speed", "", `node ${node} is real, and the demo's clock is fast`).fault,
      };
    }
    return { message: read.value, key: keyOf(read.value) };
  }

  #takeMessage(
    builder: BatchBuilder,
    job: { topic: string; payload: Uint8Array; received: number },
    read: ReadResult,
    known: Map<string, string[]>,
  ): void {
    this.counts.messages++;
    if ("fault" in read) {
      this.#noteClock(builder, job, read.fault);
      this.#refuse(builder, job, read.fault);
      return;
    }
    const { message, key } = read;
    const { site, node } = message;
    let flag: string | null = null;
    if (key !== null) {
      const text = packKeyText(key);
      const hashes = known.get(text) ?? [];
      if (hashes.includes(key.hash)) {
        this.counts.repeats++;
        builder.noteStored(site, node, key, job.received);
        return;
      }
      if (hashes.length > 0) flag = "conflict";
      known.set(text, [...hashes, key.hash]);
    }
    if (message.kind === "samples") {
      const board = this.#registry.checkBoard(site, node, message.pack.hardware, job.received);
      if (!board.ok) {
        this.#refuse(builder, job, board.fault);
        return;
      }
    }
    builder.log({
      received: job.received,
      kind: message.kind,
      site,
      node,
      station: null,
      payload: message.text,
      flag,
      pack: key,
    });
    if (message.kind === "samples") {
      this.#takeSamples(builder, job.received, message, key, flag);
    } else if (message.kind === "status") {
      if (this.#registry.status(site, node, message.status, job.received)) {
        builder.changedNodes.add(`${site}/${node}`);
        builder.journal({
          ...journalBase({ received: job.received, site }),
          node,
          kind: `node-${message.status.state}`,
          detail: { ...message.status },
        });
      }
    } else {
      this.#registry.heard(site, node, null, null, job.received);
      builder.journal({
        ...journalBase({ received: job.received, site }),
        node,
        kind: "node-reply",
        detail: { ...message.reply },
      });
    }
  }

  #takeSamples(
    builder: BatchBuilder,
    received: number,
    message: NodeMessage & { kind: "samples" },
    key: PackKey | null,
    flag: string | null,
  ): void {
    const { site, node, pack } = message;
    const { boardBefore } = this.#registry.heard(site, node, pack.hardware, pack.boot, received);
    const base = { ...journalBase({ received, site }), node };
    if (boardBefore !== null) {
      const detail = { before: boardBefore, now: pack.hardware };
      builder.journal({ ...base, kind: "board-changed", detail });
    }
    if (flag !== null) {
      const detail = { boot: pack.boot, seq: pack.seq };
      builder.journal({ ...base, kind: "pack-conflict", detail });
    }
    if (key !== null) builder.noteStored(site, node, key, received);
    for (const receipt of this.#placer.receive(received, pack)) this.#placed(builder, receipt);
  }

  #placed(builder: BatchBuilder, receipt: PlacedReceipt): void {
    const { site, pack } = receipt;
    builder.samples(receipt);
    const cameBack = this.#registry.samples(receipt);
    builder.changedNodes.add(`${site}/${pack.node}`);
    if (cameBack) {
      builder.journal({
        ...journalBase({ received: receipt.received, site }),
        node: pack.node,
        kind: "node-online",
        detail: { by: "samples" },
      });
    }
  }

  /** A clock that runs ahead is told on its station: nothing else of the node arrives. */
  #noteClock(
    builder: BatchBuilder,
    job: { topic: string; received: number },
    { aheadS }: MessageFault,
  ): void {
    const topic = parseNodeTopic(job.topic);
    if (aheadS === undefined || !topic.ok) return;
    const { site, node } = topic.value;
    this.#registry.refusedAhead(site, node, aheadS, job.received);
    builder.refusedClocks.add(`${site}/${node}`);
  }

  #refuse(
    builder: BatchBuilder,
    job: { topic: string; payload: Uint8Array; received: number },
    fault: MessageFault,
  ): void {
    this.counts.deadLetters++;
    builder.batch.deadLetters.push({
      received: job.received,
      topic: job.topic.slice(0, 300),
      reason: fault.reason,
      path: fault.path,
      message: fault.message,
      bytes: job.payload.byteLength,
      payload: Buffer.from(job.payload.subarray(0, keptPayload)).toString("utf8"),
    });
  }

  #commit(batch: WriteBatch): Promise<{ logIds: number[] }> {
    this.counts.batches++;
    return this.#retry(() => this.#store.write(batch));
  }

  /** A full or failing disk holds everything up, unacknowledged, until it works again. */
  async #retry<T>(work: () => Promise<T>): Promise<T> {
    for (;;) {
      try {
        return await work();
      } catch (error) {
        // Whoever stops must not wait for a broken disk: what is not stored is not acknowledged.
        if (this.#closed) throw error;
        const reason = error instanceof Error ? error.message : String(error);
        this.#log.error(
          { reason },
          "the store refuses to write; nothing is acknowledged, trying again",
        );
        await new Promise((resolve) => setTimeout(resolve, retryMs));
      }
    }
  }

  async #notices(builder: BatchBuilder): Promise<void> {
    for (const note of builder.storedNotes.values()) {
      const { site, node, owner, boot, seqs, received } = note;
      const through = await this.#retry(() => this.#through.note(owner, boot, seqs, received));
      this.#sinks.stored({ site, node, boot, through });
    }
  }
}

function toMilliseconds(seconds: number): number {
  return Math.round(seconds * 1000) / 1000;
}

function packKeysOf(read: readonly (ReadResult | null)[]): PackKey[] {
  return read.flatMap((one) => (one !== null && "key" in one && one.key ? [one.key] : []));
}

function isStored(job: Job | undefined): boolean {
  return job !== undefined && job.kind !== "tick" && job.kind !== "task";
}

type ReadResult = { fault: MessageFault } | { message: NodeMessage; key: HashedKey | null };
