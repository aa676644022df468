import type { Logger } from "../log.ts";
import type { EngineRecord, GatewayStore, LogEntry } from "../store/store.ts";
import { type Directory, type EngineKey, setupTag } from "./directory.ts";
import type { LineSink } from "./line-sink.ts";
import { type EngineFactory, SupplyRunner } from "./supply-runner.ts";

/** Entries read from the log at a time while an engine catches up. */
const pageSize = 500;

/** All engines: fed from the log, each supply by itself. */
export class LiveLoop {
  readonly #store: GatewayStore;
  readonly #directory: Directory;
  readonly #sink: LineSink;
  readonly #log: Logger;
  readonly #factory: EngineFactory;
  readonly #everyS: number;
  readonly #runners = new Map<EngineKey, SupplyRunner>();
  /** Newest entry that was handed out. */
  #headId = 0;
  #stopped = false;
  readonly #failures = new Map<EngineKey, number>();
  readonly counts = { lines: 0, engineErrors: 0 };

  constructor(options: {
    store: GatewayStore;
    directory: Directory;
    sink: LineSink;
    log: Logger;
    factory: EngineFactory;
    everyS: number;
  }) {
    this.#store = options.store;
    this.#directory = options.directory;
    this.#sink = options.sink;
    this.#log = options.log;
    this.#factory = options.factory;
    this.#everyS = options.everyS;
  }

  /** Restores every engine and lets it catch up with the log. Call before messages are taken. */
  async start(): Promise<void> {
    this.#headId = (await this.#store.logHead()).id;
    const stored = new Map((await this.#store.engines()).map((record) => [record.key, record]));
    for (const key of this.#directory.engineKeys()) {
      const record = stored.get(key);
      stored.delete(key);
      const runner = record ? this.#restore(record) : await this.#createFromLog(key);
      if (runner) await this.#catchUp(runner);
    }
    for (const key of stored.keys()) await this.#store.removeEngine(key);
  }

  /** Hands stored entries to the engines they belong to. */
  take(entries: readonly LogEntry[]): void {
    for (const entry of entries) {
      this.#headId = Math.max(this.#headId, entry.id);
      for (const runner of this.#runners.values()) {
        if (!runner.catchingUp) this.#run(runner, entry.received, () => runner.take(entry));
      }
    }
  }

  tick(nowS: number): void {
    for (const runner of this.#runners.values()) {
      if (!runner.catchingUp) this.#run(runner, nowS, () => runner.tick(nowS));
    }
  }

  /**
   * After a description was stored: makes the engine of a new supply, and lets go of one whose
   * stations have all moved. `anew` begins an engine again, from the node's first sample.
   */
  async directoryChanged(logId: number, receivedS: number, anew: EngineKey | null): Promise<void> {
    const keys = new Set(this.#directory.engineKeys());
    for (const key of this.#runners.keys()) {
      if (keys.has(key) && key !== anew) continue;
      this.#runners.delete(key);
      await this.#store.removeEngine(key);
    }
    for (const key of keys) {
      if (this.#runners.has(key)) continue;
      const withPast = key === anew;
      const runner = this.#create(key, withPast ? 0 : receivedS, logId, withPast ? 0 : logId);
      if (!runner) continue;
      await this.#store.write({ engines: [{ ...runner.record(), state: null, placer: null }] });
      // In the background: a node's past may hold days of samples.
      this.#catchUp(runner).catch((error: unknown) => {
        this.#log.error({ key, error: String(error) }, "engine could not read its past");
      });
    }
  }

  /** State of every engine that is up to date. */
  records(): EngineRecord[] {
    return [...this.#runners.values()]
      .filter((runner) => !runner.catchingUp)
      .map((runner) => {
        runner.throughId = this.#headId;
        return runner.record();
      });
  }

  get headId(): number {
    return this.#headId;
  }

  get catchingUp(): number {
    return [...this.#runners.values()].filter((runner) => runner.catchingUp).length;
  }

  stop(): void {
    this.#stopped = true;
  }

  #create(
    key: EngineKey,
    startReceived: number,
    setupLogId: number,
    afterId: number,
  ): SupplyRunner | null {
    const setup = this.#directory.setupOf(key);
    if (!setup) return null;
    const everyS = this.#everyS;
    const options = { key, setup, every: everyS, startReceived, setupLogId, afterId };
    const runner = SupplyRunner.create(this.#factory, options);
    this.#runners.set(key, runner);
    return runner;
  }

  /** For a supply whose engine was never stored: it begins with its first set-up in the log. */
  async #createFromLog(key: EngineKey): Promise<SupplyRunner | null> {
    const of = { ...this.#directory.nodesEver(key), nodes: [], stations: [setupTag(key)] };
    const entries = await this.#store.readLog({ afterId: 0, of, limit: pageSize });
    const first = entries.find((entry) => entry.kind === "setup");
    if (!first) return this.#create(key, 0, 0, 0);
    const record = {
      key,
      setup: first.payload,
      startReceived: 0,
      setupLogId: first.id,
      throughId: 0,
      every: this.#everyS,
      state: null,
      placer: null,
    };
    return this.#restore(record);
  }

  #restore(record: EngineRecord): SupplyRunner {
    const runner = SupplyRunner.restore(this.#factory, record);
    this.#runners.set(record.key, runner);
    return runner;
  }

  async #catchUp(runner: SupplyRunner): Promise<void> {
    for (;;) {
      const headBefore = this.#headId;
      const entries = await this.#store.readLog({
        afterId: runner.throughId,
        of: this.#directory.nodesEver(runner.key),
        limit: pageSize,
      });
      if (this.#stopped || this.#runners.get(runner.key) !== runner) return;
      for (const entry of entries) {
        this.#run(runner, entry.received, () => runner.take(entry), true);
      }
      if (this.#sink.needsFlush) await this.#sink.flush();
      // Entries may have come while the page was read; only then is there more to do.
      if (entries.length < pageSize && headBefore === this.#headId) break;
    }
    runner.throughId = this.#headId;
    runner.catchingUp = false;
  }

  #run(
    runner: SupplyRunner,
    nowS: number,
    work: () => ReturnType<SupplyRunner["take"]>,
    quiet = false,
  ): void {
    try {
      const lines = work();
      this.counts.lines += lines.length;
      if (lines.length > 0) this.#sink.take(runner.site, lines, nowS, quiet);
    } catch (error) {
      // An engine never throws on data; if one does, the others and the stream go on.
      this.counts.engineErrors++;
      const failures = (this.#failures.get(runner.key) ?? 0) + 1;
      this.#failures.set(runner.key, failures);
      // The first ones, then ever fewer: a broken engine must not fill the disk with its log.
      if (failures > 3 && !Number.isInteger(Math.log10(failures))) return;
      const stack = error instanceof Error ? error.stack : String(error);
      this.#log.error({ supply: runner.key, failures, stack }, "engine failed on an entry");
    }
  }
}
