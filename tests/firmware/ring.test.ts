import { afterEach, describe, expect, test } from "vitest";
import { quietWorld, type SenmlRecord, TestNode } from "./host.ts";

let node: TestNode;

async function started(settings: TestNode["settings"] = {}): Promise<TestNode> {
  node = new TestNode(quietWorld(), new Map([["boot", "16"]]), settings);
  await node.start();
  node.run(60);
  return node;
}

afterEach(() => node.stop());

function key(pack: SenmlRecord[]): string {
  const value = (name: string): number => pack.find((record) => record.n === name)?.v ?? -1;
  return `${value("boot")}/${value("seq")}`;
}

/** Times of all line-pressure rows, each pack counted once; throws on a pack with two contents. */
function rowTimes(packs: SenmlRecord[][]): number[] {
  const seen = new Map<string, string>();
  const times: number[] = [];
  for (const pack of packs) {
    const text = JSON.stringify(pack);
    const before = seen.get(key(pack));
    if (before !== undefined) {
      expect(text).toBe(before);
      continue;
    }
    seen.set(key(pack), text);
    for (const record of pack) {
      if (record.n === "line-pressure") times.push((pack[0]?.bt ?? 0) + (record.t ?? 0));
    }
  }
  expect(new Set(times).size).toBe(times.length);
  return times.sort((a, b) => a - b);
}

function longestGap(times: number[]): number {
  return Math.max(...times.slice(1).map((t, index) => t - (times[index] ?? 0)));
}

function segmentNames(): string[] {
  return [...node.files.keys()].filter((name) => /^q\d+$/.test(name));
}

describe("an outage of the broker", () => {
  test("of an hour: nothing is published meanwhile, everything arrives in order afterwards", async () => {
    await started();
    node.cut();
    node.run(3600);
    expect(node.publishedWhileDown).toBe(0);
    expect(segmentNames().length).toBeGreaterThan(3);
    node.world.brokerUp = true;
    node.run(120);
    const times = rowTimes(node.packs);
    expect(longestGap(times)).toBeLessThanOrEqual(15);
    expect(times.at(-1)).toBeGreaterThan(node.world.unixS + 3700);
    const seqs = node.packs.map((pack) => pack.find((record) => record.n === "seq")?.v ?? 0);
    expect(seqs).toEqual([...seqs].sort((a, b) => a - b));
    expect(segmentNames()).toEqual([]);
  });

  test("reconnecting backs off to a minute, and starts over after a good minute", async () => {
    await started();
    node.cut();
    node.connects.length = 0;
    node.run(600);
    const waits = node.connects.slice(1).map((at, index) => at - (node.connects[index] ?? 0));
    expect(node.connects.length).toBeLessThanOrEqual(16);
    expect(Math.max(...waits)).toBeLessThanOrEqual(64);
    for (const [index, wait] of waits.slice(0, 4).entries()) {
      expect(waits[index + 1] ?? 0).toBeGreaterThanOrEqual(wait);
    }
    node.world.brokerUp = true;
    node.run(200);
    node.connects.length = 0;
    node.cut();
    node.world.brokerUp = true;
    node.run(5);
    expect(node.connects).toHaveLength(1);
  });

  test("survives a reset in its middle", async () => {
    await started();
    node.cut();
    node.run(1800);
    await node.start("brown-out");
    node.world.unixS += 1860;
    node.run(1800);
    node.world.brokerUp = true;
    node.run(120);
    const times = rowTimes(node.packs);
    // What had not been closed into a pack was in memory: a minute at most.
    expect(longestGap(times)).toBeLessThanOrEqual(75);
    const boots = new Set(node.packs.map((pack) => key(pack).split("/")[0]));
    expect(boots).toEqual(new Set(["17", "18"]));
  });

  test("that outlasts the ring thins the oldest, marked as thinned, and drops no stretch of time", {
    timeout: 120_000,
  }, async () => {
    await started({ ringBytes: 8000 });
    node.cut();
    node.run(8 * 3600);
    const bytes = segmentNames().reduce(
      (sum, name) => sum + (node.files.get(name)?.length ?? 0),
      0,
    );
    expect(bytes).toBeLessThanOrEqual(8500);
    node.world.brokerUp = true;
    node.run(120);
    const times = rowTimes(node.packs);
    expect(longestGap(times)).toBeLessThanOrEqual(15 * 32);
    const thinned = node.packs.filter((pack) =>
      pack.some((record) => record.n === "thinned" && record.vb === true),
    );
    expect(thinned.length).toBeGreaterThan(20);
    expect(thinned.length).toBeLessThan(node.packs.length);
  });

  test("without flash: a bounded ring in memory, thinned as well", {
    timeout: 120_000,
  }, async () => {
    await started({ hasFlash: false });
    const before = node.heapKb();
    node.cut();
    node.run(3 * 3600);
    expect(node.heapKb() - before).toBeLessThan(12);
    node.world.brokerUp = true;
    node.run(120);
    expect(longestGap(rowTimes(node.packs))).toBeLessThanOrEqual(15 * 16);
  });
});

describe("the gateway's word", () => {
  test("packs stay until `stored` covers them, and are sent again after a reconnection", async () => {
    await started();
    node.world.gatewayUp = false;
    const before = node.packs.length;
    node.run(1800);
    const unconfirmed = node.packs.slice(before).map(key);
    expect(unconfirmed.length).toBeGreaterThanOrEqual(29);
    node.cut();
    node.world.brokerUp = true;
    node.world.gatewayUp = true;
    const again = node.packs.length;
    node.run(10);
    expect(node.packs.slice(again).map(key).slice(0, unconfirmed.length)).toEqual(unconfirmed);
    rowTimes(node.packs);
    expect(segmentNames()).toEqual([]);
  });

  test("a pack that was lost behind the broker is sent again once the gateway goes on without it", async () => {
    await started();
    node.world.gatewayUp = false;
    node.run(61);
    const lost = node.packs.at(-1) ?? [];
    const count = node.packs.length;
    // The gateway confirms what came before, again and again.
    const [boot, seq] = key(lost).split("/").map(Number);
    for (let minute = 0; minute < 2; minute++) {
      node.send("stored", { boot, through: (seq ?? 0) - 1 });
      node.run(40);
    }
    expect(node.packs.slice(count).map(key)).toContain(key(lost));
  });

  test("of garbage is ignored", async () => {
    await started();
    for (const text of ["", "[]", '{"boot":"17"}', '{"boot":17}', "{", '{"boot":99,"through":9}']) {
      node.send("stored", text);
    }
    node.run(61);
    expect(node.packs.length).toBeGreaterThan(1);
  });
});

describe("flash that fails", () => {
  test("full flash: the node goes on in memory, and nothing that it could hold is lost", async () => {
    await started();
    node.world.flashFull = true;
    node.cut();
    node.run(600);
    node.world.brokerUp = true;
    node.run(60);
    expect(longestGap(rowTimes(node.packs))).toBeLessThanOrEqual(15);
  });

  test("a brown-out in the middle of a write: the torn line is left out, the others arrive", async () => {
    await started();
    node.cut();
    node.run(1800);
    const name = segmentNames().at(-1) ?? "";
    const content = node.files.get(name) ?? "";
    node.files.set(name, content.slice(0, content.length - 25));
    await node.start("brown-out");
    node.world.brokerUp = true;
    node.world.unixS += 1860;
    node.run(120);
    const times = rowTimes(node.packs);
    expect(longestGap(times)).toBeLessThanOrEqual(180);
    expect(times.length).toBeGreaterThan(115);
  });

  test("bits that flipped: the damaged line is left out", async () => {
    await started();
    node.cut();
    node.run(1800);
    const [name] = segmentNames();
    const content = node.files.get(name ?? "") ?? "";
    node.files.set(name ?? "", content.replace("345", "349"));
    await node.start("external");
    node.world.brokerUp = true;
    node.run(60);
    for (const record of node.packs.flat()) {
      if (record.n === "line-pressure") expect(record.v).toBeLessThan(347_000);
    }
  });

  test("garbage in every file: the node starts with what it knows by itself", async () => {
    const files = new Map(
      ["boot", "config", "config-trial", "refused", "tried", "sent", "q1", "q7", "ring.new"].map(
        (name) => [name, "\u0001{]*;|9e99\n"] as const,
      ),
    );
    node = new TestNode(quietWorld(), files);
    await node.start();
    node.run(70);
    expect(node.packs.length).toBeGreaterThan(1);
    expect(node.payloads("status").at(-1)?.config).toBe(0);
  });
});

describe("a broker that misbehaves", () => {
  test("one that refuses every connection", async () => {
    node = new TestNode(quietWorld());
    node.world.brokerUp = false;
    await node.start();
    node.run(600);
    expect(node.published).toEqual([]);
    node.world.brokerUp = true;
    node.run(120);
    expect(longestGap(rowTimes(node.packs))).toBeLessThanOrEqual(15);
  });

  test("one that never acknowledges: the node notices after 20 s and starts over", async () => {
    await started();
    node.world.silent = true;
    node.connects.length = 0;
    node.run(150);
    expect(node.connects.length).toBeGreaterThanOrEqual(1);
    node.world.silent = false;
    node.run(150);
    expect(longestGap(rowTimes(node.packs))).toBeLessThanOrEqual(15);
  });
});
