import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { performance } from "node:perf_hooks";
import { fileURLToPath } from "node:url";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { ReceivedItem, SupplySetup } from "@leeward/shared-core/estimation/engine.ts";
import { createSupplyEngine } from "@leeward/shared-core/estimation/supply-engine.ts";
import { ReplayReader } from "@leeward/shared-core/messages/replay-lines.ts";
import { Cycle } from "../accuracy/cycle.ts";
import { simulate } from "../accuracy/simulate.ts";
import { tigStation } from "../accuracy/stations.ts";
import { ownRhythms, simulateTwoDrops, twoDropDocuments } from "../accuracy/two-drops.ts";

const leeward = fileURLToPath(new URL("../../gateway/bin/leeward.js", import.meta.url));

/** Gas-on of the day that `replay` is measured with, and length of the parts, h. */
const WELDING_H = 3.5;
const DAY_H = 24;
const PART_H = 6;

/**
 * What the estimator costs: CPU time a pressure sample in the engine alone, for a drop with and
 * without a line sensor and for two drops on one cylinder; and `leeward replay` of a station's day
 * as a process of its own, start and JSON included.
 */
export async function engineBench(print: (line: string) => void): Promise<void> {
  print("Estimator: CPU time of one core, JSON not included (aim: 50 µs a sample a drop)");
  print(
    `  core: ${cpus()[0]?.model ?? "unknown"}; load average ${(loadavg()[0] ?? 0).toFixed(1)} on ${cpus().length} cores`,
  );
  for (const [name, station] of [
    ["line and cylinder", tigStation()],
    ["cylinder alone", tigStation({ sensors: { line: undefined } })],
  ] as const) {
    const day = recorded(station, PART_H, PART_H);
    const items = read({ supply: null, stations: [station] }, day);
    print(`  one drop, ${name}: ${cost({ supply: null, stations: [station] }, items)}`);
  }
  const both: ReceivedItem[] = [];
  simulateTwoDrops({ hours: PART_H / 2, every: 10, open: ownRhythms(1) }, 1, (item) =>
    both.push(item),
  );
  print(`  two drops on one cylinder: ${cost({ ...twoDropDocuments(), timeZone: "UTC" }, both)}`);
  replayed(print);
}

/** Messages of a station that welds by turns for `weldingH` and idles for the rest. */
function recorded(station: StationDocument, hours: number, weldingH: number): string[] {
  const out: string[] = [];
  simulate(
    {
      name: "bench",
      about: "",
      variation: () => ({}),
      every: 10,
      hours,
      station,
      actors: (_plant, _reporter, log, seed) => [
        new Cycle(log, seed, [40, 120], [30, 60], 300, weldingH * 3600),
      ],
    },
    1,
    (line) => out.push(line),
  );
  return out;
}

function read(setup: SupplySetup, lines: readonly string[]): ReceivedItem[] {
  const reader = new ReplayReader(setup);
  return lines.flatMap((line) => {
    const result = reader.read(line);
    if (!result.ok) throw new Error(JSON.stringify(result.fault));
    return result.items;
  });
}

/** Pressures in the items: what a sample is. */
function pressures(items: readonly ReceivedItem[]): number {
  let count = 0;
  for (const item of items) {
    if (!("pack" in item)) continue;
    for (const { channel } of item.pack.samples) if (channel.endsWith("-pressure")) count++;
  }
  return count;
}

function cost(setup: SupplySetup, items: readonly ReceivedItem[]): string {
  const count = pressures(items);
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 3; round++) {
    const engine = createSupplyEngine(setup, { every: 10 });
    const before = process.cpuUsage();
    for (const item of items) engine.receive(item);
    const used = process.cpuUsage(before);
    best = Math.min(best, used.user + used.system);
  }
  return `${(best / count).toFixed(1)} µs a sample (${count} samples, best of 3)`;
}

function replayed(print: (line: string) => void): void {
  const station = tigStation();
  const lines = recorded(station, DAY_H, WELDING_H);
  const count = pressures(read({ supply: null, stations: [station] }, lines));
  const folder = mkdtempSync(join(tmpdir(), "leeward-replay-"));
  const files = { station: join(folder, "station.json"), samples: join(folder, "samples.ndjson") };
  try {
    writeFileSync(files.station, JSON.stringify(station));
    writeFileSync(files.samples, `${lines.join("\n")}\n`);
    const options = ["--station", files.station, "--samples", files.samples];
    const started = performance.now();
    const run = spawnSync(process.execPath, [leeward, "replay", ...options], {
      encoding: "utf8",
      maxBuffer: 1 << 28,
      timeout: 120_000,
    });
    const seconds = (performance.now() - started) / 1000;
    if (run.status !== 0) throw new Error(`replay ended with ${run.status}: ${run.stderr}`);
    const out = run.stdout.trimEnd().split("\n").length;
    print(
      `  leeward replay, a station's day (${count} pressure samples, ${lines.length} messages, ${out} lines out): ` +
        `${seconds.toFixed(2)} s with the start of the process, ${Math.round(count / seconds)} samples/s (aim: a day of 12 500 samples a second)`,
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
