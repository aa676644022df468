import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { stationSchema } from "@leeward/shared-core/documents/station.ts";
import {
  createUndoableEngine,
  restoreUndoableEngine,
} from "@leeward/shared-core/estimation/undoable-engine.ts";
import type { MessageHandler, MessageLink } from "../../gateway/broker/link.ts";
import type { Clock } from "../../gateway/clock.ts";
import type { EngineFactory } from "../../gateway/live/supply-runner.ts";
import { createLogger } from "../../gateway/log.ts";
import { Gateway } from "../../gateway/run/gateway.ts";
import { openSqliteStore } from "../../gateway/store/open-sqlite.ts";
import type { GatewayStore } from "../../gateway/store/store.ts";
import { whenOver } from "../when-over.ts";

/** A moment that tests play at: 2025-11-25 08:00 UTC. */
export const t0 = 1764057600;

export { whenOver };

/** A folder of its own, gone after the test. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "leeward-test-"));
  whenOver(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/**
 * A folder in memory where there is one: for tests of thousands of commits that are not about the
 * disk.
 */
export function quickFolder(): string {
  if (!existsSync("/dev/shm")) return temporaryFolder();
  const folder = mkdtempSync("/dev/shm/leeward-test-");
  whenOver(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A clock that stands until it is told to go on. */
export class HandClock implements Clock {
  readonly speed = 1;
  #nowS: number;
  #tasks: { dueS: number; intervalS: number | null; task: () => void }[] = [];

  constructor(startS = t0) {
    this.#nowS = startS;
  }

  nowS(): number {
    return this.#nowS;
  }

  after(delayS: number, task: () => void): () => void {
    return this.#add({ dueS: this.#nowS + delayS, intervalS: null, task });
  }

  every(intervalS: number, task: () => void): () => void {
    return this.#add({ dueS: this.#nowS + intervalS, intervalS, task });
  }

  /** Sets the time; due tasks run in order. */
  goTo(nowS: number): void {
    for (;;) {
      const next = this.#tasks.filter((one) => one.dueS <= nowS).sort((a, b) => a.dueS - b.dueS)[0];
      if (!next) break;
      this.#nowS = Math.max(this.#nowS, next.dueS);
      if (next.intervalS === null) this.#tasks.splice(this.#tasks.indexOf(next), 1);
      else next.dueS += next.intervalS;
      next.task();
    }
    this.#nowS = nowS;
  }

  /** Sets the time as a machine that slept does: what fell due meanwhile runs once, then. */
  leapTo(nowS: number): void {
    this.#nowS = nowS;
    for (const one of this.#tasks.filter(({ dueS }) => dueS <= nowS)) {
      if (one.intervalS === null) this.#tasks.splice(this.#tasks.indexOf(one), 1);
      else one.dueS = nowS + one.intervalS;
      one.task();
    }
  }

  #add(entry: { dueS: number; intervalS: number | null; task: () => void }): () => void {
    this.#tasks.push(entry);
    return () => {
      const index = this.#tasks.indexOf(entry);
      if (index >= 0) this.#tasks.splice(index, 1);
    };
  }
}

/** Stands where a broker stands: hands messages in, and keeps what the gateway publishes. */
export class HandLink implements MessageLink {
  readonly url = "mqtt://none";
  readonly connected = true;
  readonly published: { topic: string; payload: string }[] = [];
  #handler: MessageHandler | null = null;

  start(handler: MessageHandler): Promise<void> {
    this.#handler = handler;
    return Promise.resolve();
  }

  publish(topic: string, payload: string): Promise<void> {
    this.published.push({ topic, payload });
    return Promise.resolve();
  }

  stop(): Promise<void> {
    return Promise.resolve();
  }

  /** Resolves when the gateway would acknowledge. */
  send(topic: string, payload: unknown): Promise<void> {
    if (!this.#handler) throw new Error("the gateway does not listen yet");
    const text = typeof payload === "string" ? payload : JSON.stringify(payload);
    return this.#handler(topic, Buffer.from(text));
  }
}

export const realEngines: EngineFactory = {
  create: createUndoableEngine,
  restore: restoreUndoableEngine,
};

export const quietLog = createLogger("silent");

/** A store in a folder of its own. */
export async function openStore(folder = quickFolder()): Promise<GatewayStore> {
  const store = await openSqliteStore(join(folder, "leeward.sqlite"));
  whenOver(() => store.close());
  return store;
}

export interface TestGateway {
  gateway: Gateway;
  store: GatewayStore;
  clock: HandClock;
  link: HandLink;
  /** Stops the gateway and closes its store, as the program does. */
  stop(): Promise<void>;
  /** Ends it without saving anything more: what was acknowledged is in the store, no more. */
  crash(): Promise<void>;
}

/** A gateway on a store in a folder of its own, with the real estimator, fed by hand. */
export async function startTestGateway(
  options: { folder?: string; clock?: HandClock; factory?: EngineFactory } = {},
): Promise<TestGateway> {
  const folder = options.folder ?? quickFolder();
  const store = await openSqliteStore(join(folder, "leeward.sqlite"));
  const clock = options.clock ?? new HandClock();
  const gateway = new Gateway({
    store,
    clock,
    log: quietLog,
    factory: options.factory ?? realEngines,
    site: "north",
    timeZone: "Europe/Copenhagen",
    retention: { rawDays: 14, minuteDays: 400 },
  });
  await gateway.open();
  await gateway.restore();
  const link = new HandLink();
  await gateway.serve(link);
  let stopped = false;
  const stop = async () => {
    if (stopped) return;
    stopped = true;
    await gateway.stop();
    await store.close();
  };
  const crash = async () => {
    stopped = true;
    await store.close();
    await gateway.stop().catch(() => undefined);
  };
  whenOver(stop);
  return { gateway, store, clock, link, stop, crash };
}

/** A complete station with a float tube. */
export function exampleStation(change: Record<string, unknown> = {}): StationDocument {
  return stationSchema.parse({
    schema: 1,
    station: "bay-3",
    site: "north",
    node: "n-07",
    altitudeM: 120,
    cylinder: {
      gas: "I1-Ar",
      composition: { Ar: 1 },
      waterVolumeL: 50,
      waterVolumeUPercent: 0.5,
      filledBar: 200,
      filledC: 15,
      residualBar: 10,
    },
    regulator: {
      stages: 1,
      adjust: "preset",
      deliveryBar: 3.45,
      maxLineBar: 8,
      reliefBar: 12,
      highSideMl: 20,
    },
    flowDevice: {
      kind: "variable-area",
      scaleGas: { Ar: 1 },
      scaleBar: 3.45,
      scaleC: 21,
      scaleReference: "metric20",
      scaleMin: 2,
      scaleMax: 16,
      valve: "after-tube",
      reading: 8,
      readingUnit: "L/min",
    },
    lineTap: "regulator-outlet",
    hose: { lengthM: 4, boreMm: 6 },
    sensors: {
      cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 },
      line: { rangeBar: 10, accuracyPercentFs: 0.5, proofBar: 30 },
    },
    procedure: { process: "GTAW", material: "aluminium", cup: 7, amps: 150 },
    changeover: { minutes: 10 },
    ...change,
  });
}

/** A pack of one-second samples that end at `endS`, as a node sends it. */
export function examplePack(options: {
  endS: number;
  seq: number;
  boot?: number;
  seconds?: number;
  cylinderPa?: (t: number) => number;
  linePa?: (t: number) => number;
  node?: string;
}): Record<string, unknown>[] {
  const { endS, seq, boot = 1, seconds = 2, node = "n-07" } = options;
  const cylinderPa = options.cylinderPa ?? (() => 150e5);
  const linePa = options.linePa ?? (() => 3.45e5);
  const rows = Array.from({ length: seconds }, (_, index) => endS - seconds + 1 + index);
  return [
    { bn: `north/${node}:`, bt: endS, n: "boot", v: boot },
    { n: "seq", v: seq },
    { n: "cylinder-temperature", u: "Cel", v: 18 },
    { n: "regulator-temperature", u: "Cel", v: 16 },
    ...rows.flatMap((t) => [
      { n: "cylinder-pressure", u: "Pa", t: t - endS, v: Math.round(cylinderPa(t)) },
      { n: "line-pressure", u: "Pa", t: t - endS, v: Math.round(linePa(t)) },
    ]),
  ];
}

export const samplesTopic = "leeward/v1/north/n-07/samples";
export const statusTopic = "leeward/v1/north/n-07/status";

/** Waits until `check` gives something, or fails after `limitMs`. */
export async function eventually<T>(
  check: () => T | undefined | null | false | Promise<T | undefined | null | false>,
  what: string,
  limitMs = 30_000,
): Promise<T> {
  const end = Date.now() + limitMs;
  for (;;) {
    const found = await check();
    if (found) return found;
    if (Date.now() > end) throw new Error(`waited ${limitMs} ms in vain: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
}
