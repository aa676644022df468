import { createRandom } from "@leeward/gateway/virtual-shop/plant/random.ts";
import {
  type NodeOptions,
  NodeReporter,
  nodeOptionsFor,
  type ReceivedPack,
} from "@leeward/gateway/virtual-shop/plant/reporting.ts";
import {
  EventLog,
  type ReceivedLine,
  runStation,
} from "@leeward/gateway/virtual-shop/plant/run.ts";
import { ordinaryHabits, Welder } from "@leeward/gateway/virtual-shop/plant/welder.ts";
import { checkSamplePack } from "@leeward/shared-core/messages/sample-pack.ts";
import { describe, expect, it } from "vitest";
import { argonPlant, argonStation } from "./bench-station.ts";

const hourS = 3600;
/** A Tuesday at 07:00 UTC. */
const startUnixS = 1764054000;

function run(
  options: Partial<NodeOptions>,
  hours = 2,
  touch?: (r: NodeReporter, t: number) => void,
) {
  const plant = argonPlant({ presentBar: 120, startUnixS });
  plant.setReading(8);
  const log = new EventLog();
  const welder = new Welder({ ...ordinaryHabits, days: [2] }, createRandom(4, 20), plant.t, log);
  const reporter = new NodeReporter(
    nodeOptionsFor(argonStation(), options),
    createRandom(4, 30),
    plant.t,
  );
  const lines: ReceivedLine[] = [];
  const actors = [welder, { nextS: plant.t, act() {} }];
  const watcher = actors[1] as { nextS: number; act(): void };
  watcher.act = () => {
    touch?.(reporter, watcher.nextS);
    watcher.nextS += 60;
  };
  runStation({
    plant,
    reporters: [reporter],
    actors,
    log: [log],
    endS: startUnixS + hours * hourS,
    usableAbovePa: 10e5,
    truthEveryS: 10,
    onLine: (line) => lines.push(line),
  });
  const packs = lines.filter((line): line is ReceivedPack => "payload" in line);
  return { packs, events: log.events };
}

const timesOf = (pack: ReceivedPack, name: string) =>
  pack.payload
    .filter((record) => record.n === name)
    .map((record) => (pack.payload[0]?.bt ?? 0) + (record.t ?? 0));

describe("node reporting without Lua", () => {
  it("sends packs that the wire contract takes, in order of receipt and below 1.2 kB", () => {
    const { packs } = run({});
    expect(packs.length).toBeGreaterThan(500);
    let last = 0;
    for (const pack of packs) {
      const checked = checkSamplePack(pack.payload, { site: "north", node: "n-07" });
      expect(checked.ok ? "" : checked.fault).toBe("");
      expect(JSON.stringify(pack.payload).length).toBeLessThan(1200);
      expect(pack.received).toBeGreaterThanOrEqual(last);
      last = pack.received;
    }
  });

  it("reports each second while gas flows, and the ten seconds before it starts", () => {
    const { packs, events } = run({});
    const times = packs.flatMap((pack) => timesOf(pack, "line-pressure")).sort((a, b) => a - b);
    const starts = events.filter((event) => event.event === "gas-on").slice(0, 20);
    expect(starts.length).toBe(20);
    for (const start of starts) {
      const around = times.filter((t) => t > start.t - 10 && t < start.t + 5);
      expect(around.length).toBeGreaterThanOrEqual(14);
      const told = packs.find((pack) => timesOf(pack, "line-pressure").some((t) => t >= start.t));
      expect((told?.received ?? 0) - start.t).toBeLessThan(1.5);
    }
  });

  it("is quiet when idle: a pack a minute, rows each 15 s, or 5 s without a line sensor", () => {
    const idle = (station = argonStation()) => {
      const plant = argonPlant({ startUnixS });
      const reporter = new NodeReporter(nodeOptionsFor(station), createRandom(1), plant.t);
      const packs: ReceivedPack[] = [];
      for (let k = 0; k < 1200; k += 1) {
        plant.step(1);
        packs.push(...reporter.tick(plant));
      }
      return packs;
    };
    expect(idle().length).toBe(20);
    expect(timesOf(idle()[3] as ReceivedPack, "cylinder-pressure").length).toBe(4);
    const bare = argonStation({ sensors: { cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 } } });
    const rows = idle(bare).flatMap((pack) => timesOf(pack, "cylinder-pressure"));
    expect(rows.length).toBeGreaterThan(225);
  });

  it("keeps numbering without a hole, and tells every row once", () => {
    const { packs } = run({});
    const numbers = packs.map((pack) => pack.payload.find((record) => record.n === "seq")?.v);
    expect(numbers).toEqual(packs.map((_, i) => i + 1));
    const rows = packs.flatMap((pack) => timesOf(pack, "cylinder-pressure"));
    expect(new Set(rows).size).toBe(rows.length);
  });

  it("repeats and delays packs where asked, and brings all of them in the end", () => {
    const plain = run({}).packs;
    const rough = run({ repeatShare: 0.1, lateShare: 0.1 }).packs;
    const numbers = rough.map((pack) => pack.payload.find((record) => record.n === "seq")?.v ?? 0);
    expect(rough.length).toBeGreaterThan(plain.length * 1.05);
    expect(numbers.some((n, i) => i > 0 && n < (numbers[i - 1] as number))).toBe(true);
    expect(new Set(numbers).size).toBeGreaterThan(0.97 * Math.max(...numbers));
  });

  it("keeps packs over a broken link and loses them over a power cut", () => {
    const from = startUnixS + 1800;
    const broken = run({}, 2, (reporter, t) => {
      reporter.linkDown = t >= from && t < from + 1200;
    }).packs;
    const rows = broken.flatMap((pack) => timesOf(pack, "cylinder-pressure"));
    expect(rows.filter((t) => t > from + 100 && t < from + 1100).length).toBeGreaterThan(60);
    expect(broken.filter((p) => p.received > from + 5 && p.received < from + 1190)).toEqual([]);
    const dark = run({}, 2, (reporter, t) => {
      if (t === from) reporter.powerOff();
      if (t === from + 1200) reporter.powerOn(t);
    }).packs;
    const kept = dark.flatMap((pack) => timesOf(pack, "cylinder-pressure"));
    expect(kept.filter((t) => t > from + 5 && t < from + 1199)).toEqual([]);
    expect(new Set(dark.map((p) => p.payload[0]?.v)).size).toBe(2);
  });
});
