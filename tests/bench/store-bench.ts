import { mkdtempSync, rmSync, statSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { createWallClock } from "../../gateway/clock.ts";
import { Ingest } from "../../gateway/ingest/ingest.ts";
import { NodeRegistry } from "../../gateway/ingest/node-registry.ts";
import { createLogger } from "../../gateway/log.ts";
import { openSqliteStore } from "../../gateway/store/open-sqlite.ts";
import type { GatewayStore } from "../../gateway/store/store.ts";

const nodes = 40;
const packsPerNode = 250;
const samplesPerPack = 8;
const days = 30;

/**
 * What the store takes and gives: packs by the whole ingest path (check, identity, log, samples,
 * sums; commits on the disk), and history queries over a month of one station.
 */
export async function storeBench(print: (line: string) => void): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "leeward-bench-"));
  print(`Store: SQLite in ${tmpdir()}, ${cpus().length} cores; Node ${process.version}`);
  try {
    const store = await openSqliteStore(join(folder, "leeward.sqlite"));
    await ingestBench(store, print);
    await historyBench(store, folder, print);
    await store.close();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function ingestBench(store: GatewayStore, print: (line: string) => void): Promise<void> {
  const clock = createWallClock();
  const ingest = new Ingest({
    store,
    clock,
    log: createLogger("error"),
    registry: new NodeRegistry(),
    lastReceivedS: 0,
    sinks: {
      take: () => undefined,
      tick: () => undefined,
      nodeState: () => undefined,
      clockRefused: () => undefined,
      stored: () => undefined,
    },
  });
  const baseS = Math.floor(clock.nowS()) - packsPerNode * 4;
  const messages: { topic: string; payload: Buffer }[] = [];
  for (let seq = 0; seq < packsPerNode; seq++) {
    for (let node = 0; node < nodes; node++) {
      const topic = `leeward/v1/bench/n-${node}/samples`;
      messages.push({ topic, payload: Buffer.from(JSON.stringify(packOf(node, seq, baseS))) });
    }
  }
  const began = performance.now();
  const cpuBegan = process.cpuUsage();
  const waits: number[] = [];
  const waiting = new Set<Promise<void>>();
  for (const { topic, payload } of messages) {
    const sent = performance.now();
    const done = ingest.message(topic, payload).then(() => {
      waits.push(performance.now() - sent);
      waiting.delete(done);
    });
    waiting.add(done);
    // As many in flight as forty nodes and their broker would have.
    if (waiting.size >= 400) await Promise.race(waiting);
  }
  await Promise.all(waiting);
  const seconds = (performance.now() - began) / 1000;
  const cpu = process.cpuUsage(cpuBegan);
  const cpuSeconds = (cpu.user + cpu.system) / 1e6;
  await ingest.close();
  const samples = messages.length * samplesPerPack;
  waits.sort((a, b) => a - b);
  const at = (share: number) => (waits[Math.floor(share * (waits.length - 1))] ?? 0).toFixed(0);
  print(
    `  ingest: ${messages.length} packs, ${samples} samples in ${seconds.toFixed(2)} s: ` +
      `${Math.round(messages.length / seconds)} packs/s, ${Math.round(samples / seconds)} samples/s; ` +
      `CPU ${((cpuSeconds / messages.length) * 1e6).toFixed(0)} µs a pack`,
  );
  print(
    `  acknowledged after: median ${at(0.5)} ms, 99th percentile ${at(0.99)} ms; ` +
      `${(messages.length / ingest.counts.batches).toFixed(0)} packs a commit`,
  );
}

function packOf(node: number, seq: number, baseS: number): Record<string, unknown>[] {
  const endS = baseS + seq * 4;
  return [
    { bn: `bench/n-${node}:`, bt: endS, n: "boot", v: 1 },
    { n: "seq", v: seq },
    ...Array.from({ length: samplesPerPack / 2 }, (_, index) => [
      { n: "cylinder-pressure", u: "Pa", t: index - 3, v: 15_000_000 - 100 * seq },
      { n: "line-pressure", u: "Pa", t: index - 3, v: 345_000 + ((seq * 37) % 900) },
    ]).flat(),
  ];
}

async function historyBench(
  store: GatewayStore,
  folder: string,
  print: (line: string) => void,
): Promise<void> {
  const owner = "node:bench/month";
  const toS = Math.floor(Date.now() / 1000);
  const fromS = toS - days * 86_400;
  // Two hours of 1 s samples and 22 of 15 s samples a day, as a station sends them.
  let rows = 0;
  for (let day = 0; day < days; day++) {
    const values = [];
    const dayS = fromS + day * 86_400;
    for (let t = 0; t < 86_400; t += t < 7200 ? 1 : 15) {
      for (const name of ["cylinder-pressure", "line-pressure"]) {
        values.push({ owner, name, t: dayS + t, value: 1e6 + (t % 977) });
      }
    }
    rows += values.length;
    await store.write({ values });
  }
  const size = statSync(join(folder, "leeward.sqlite")).size;
  print(`  a month of one station: ${rows} rows, file ${(size / 1e6).toFixed(1)} MB in all`);
  for (const [name, spanS] of [
    ["an hour", 3600],
    ["a day", 86_400],
    ["a month", days * 86_400],
  ] as const) {
    const from = toS - spanS;
    const times: number[] = [];
    let points = 0;
    for (let round = 0; round < 20; round++) {
      const began = performance.now();
      const { series } = await store.history({
        from,
        to: toS,
        points: 800,
        rawFrom: 0,
        minutesFrom: 0,
        series: ["cylinder-pressure", "line-pressure"].map((series) => ({
          name: series,
          parts: [{ owner, from, to: toS }],
        })),
        presence: { parts: [{ owner, from, to: toS }], silenceS: 60 },
      });
      times.push(performance.now() - began);
      points = series.get("line-pressure")?.t.length ?? 0;
    }
    times.sort((a, b) => a - b);
    print(
      `  history over ${name}: ${points} points a series, median ${times[10]!.toFixed(1)} ms, worst ${times.at(-1)!.toFixed(1)} ms`,
    );
  }
}
