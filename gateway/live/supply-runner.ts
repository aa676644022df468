import type {
  EngineOptions,
  PersonEntry,
  ReceivedItem,
  StationLine,
  SupplyEngine,
  SupplySetup,
} from "@leeward/shared-core/estimation/engine.ts";
import { statusSchema } from "@leeward/shared-core/messages/node-messages.ts";
import { PackPlacer } from "@leeward/shared-core/messages/pack-placer.ts";
import { nodesOfSetup, statusItem } from "@leeward/shared-core/messages/replay-lines.ts";
import { readSamplePack } from "@leeward/shared-core/messages/sample-pack.ts";
import type { EngineRecord, LogEntry } from "../store/store.ts";
import { setupTag } from "./directory.ts";

/** How engines are made; the estimator's own functions, but for tests of the machinery. */
export interface EngineFactory {
  create(setup: SupplySetup, options: EngineOptions): SupplyEngine;
  restore(text: string): SupplyEngine;
}

/**
 * Feeds one engine from the log: the same entries in the same order give the same lines, live, after
 * a restart, and in replay of an export.
 */
export class SupplyRunner {
  readonly key: string;
  readonly site: string;
  readonly #engine: SupplyEngine;
  readonly #placer: PackPlacer;
  readonly #first: Pick<EngineRecord, "setup" | "startReceived" | "setupLogId" | "every">;
  #setup: SupplySetup;
  #nodes: Set<string>;
  throughId: number;
  /** Reads its past from the log at present; live entries wait there for it. */
  catchingUp = true;

  private constructor(
    record: EngineRecord,
    engine: SupplyEngine,
    placer: PackPlacer,
    setup: SupplySetup,
  ) {
    this.key = record.key;
    this.#first = record;
    this.#engine = engine;
    this.#placer = placer;
    this.#setup = setup;
    this.#nodes = nodesOfSetup(setup);
    this.site = setup.stations[0]?.site ?? "";
    this.throughId = record.throughId;
  }

  /** A new engine that begins with the entries received from `startReceived` on. */
  static create(
    factory: EngineFactory,
    options: {
      key: string;
      setup: SupplySetup;
      every: number;
      startReceived: number;
      setupLogId: number;
      afterId: number;
    },
  ): SupplyRunner {
    const { key, setup, every, startReceived, setupLogId, afterId } = options;
    const record: EngineRecord = {
      key,
      setup: JSON.stringify(setup),
      startReceived,
      setupLogId,
      throughId: afterId,
      every,
      state: null,
      placer: null,
    };
    return new SupplyRunner(record, factory.create(setup, { every }), new PackPlacer(), setup);
  }

  /** Goes on where `record` left off; begins anew where it holds no state. */
  static restore(factory: EngineFactory, record: EngineRecord): SupplyRunner {
    const stored = JSON.parse(record.state ?? "null") as {
      engine: string;
      setup: SupplySetup;
    } | null;
    const first = JSON.parse(record.setup) as SupplySetup;
    if (stored === null) {
      const engine = factory.create(first, { every: record.every });
      return new SupplyRunner(record, engine, new PackPlacer(), first);
    }
    const placer = record.placer === null ? new PackPlacer() : PackPlacer.restore(record.placer);
    return new SupplyRunner(record, factory.restore(stored.engine), placer, stored.setup);
  }

  get startReceived(): number {
    return this.#first.startReceived;
  }

  /** State to store; continuing from it is exact. */
  record(): EngineRecord {
    const { setup, startReceived, setupLogId, every } = this.#first;
    return {
      key: this.key,
      setup,
      startReceived,
      setupLogId,
      every,
      throughId: this.throughId,
      state: JSON.stringify({ engine: this.#engine.serialise(), setup: this.#setup }),
      placer: this.#placer.serialise(),
    };
  }

  /** Takes an entry that may or may not be this supply's, and returns the lines it lets out. */
  take(entry: LogEntry): StationLine[] {
    if (entry.id <= this.throughId && !this.catchingUp) return [];
    this.throughId = Math.max(this.throughId, entry.id);
    if (entry.site !== this.site || entry.received < this.startReceived) return [];
    const lines: StationLine[] = [];
    for (const item of this.#items(entry)) lines.push(...this.#engine.receive(item));
    return lines;
  }

  /** Lets time pass. */
  tick(nowS: number): StationLine[] {
    const lines: StationLine[] = [];
    for (const item of this.#placer.expire(nowS)) lines.push(...this.#engine.receive(item));
    lines.push(...this.#engine.advance(nowS));
    return lines;
  }

  #items(entry: LogEntry): ReceivedItem[] {
    const { received } = entry;
    const node = entry.node ?? "";
    switch (entry.kind) {
      case "samples": {
        if (!this.#nodes.has(node)) return [];
        const pack = readSamplePack(entry.payload, { site: entry.site, node });
        return pack.ok ? this.#placer.receive(received, pack.value) : [];
      }
      case "status": {
        if (!this.#nodes.has(node)) return [];
        const status = statusSchema.safeParse(JSON.parse(entry.payload));
        if (!status.success) return [];
        return [...this.#placer.expire(received), statusItem(received, node, status.data)];
      }
      case "person": {
        const station = entry.station ?? "";
        if (!this.#setup.stations.some((one) => one.station === station)) return [];
        const person = JSON.parse(entry.payload) as PersonEntry;
        return [...this.#placer.expire(received), { received, person, station }];
      }
      case "setup": {
        if (entry.station !== setupTag(this.key) || entry.id <= this.#first.setupLogId) return [];
        this.#setup = JSON.parse(entry.payload) as SupplySetup;
        this.#nodes = nodesOfSetup(this.#setup);
        return [...this.#placer.expire(received), { received, setup: this.#setup }];
      }
      default:
        return [];
    }
  }
}
