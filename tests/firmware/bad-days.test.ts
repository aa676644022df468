import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { quietWorld, type SenmlRecord, TestNode } from "./host.ts";

let node: TestNode;

beforeEach(async () => {
  node = new TestNode(quietWorld(), new Map([["boot", "16"]]));
  await node.start();
  node.run(30);
});

afterEach(() => node.stop());

function status(): Record<string, unknown> {
  return node.payloads("status").at(-1) ?? {};
}

function key(pack: SenmlRecord[]): string {
  const value = (name: string): number => pack.find((record) => record.n === name)?.v ?? -1;
  return `${value("boot")}/${value("seq")}`;
}

describe("a brown-out in the middle of a write", () => {
  const config = { revision: 4, pace: { idleS: 5 } };

  test("of the configuration leaves the old one, whole", async () => {
    node.send("config", config);
    node.run(60);
    node.send("config", { ...config, revision: 5 });
    const trial = node.files.get("config-trial") ?? "";
    expect(trial).toContain('"revision":5');
    for (const cut of [0, 1, Math.floor(trial.length / 2), trial.length - 1]) {
      node.files.set("config-trial", trial.slice(0, cut));
      node.files.set("safe.new", trial.slice(0, cut));
      await node.start("brown-out");
      node.run(3);
      expect(status().config).toBe(4);
    }
  });

  test("of the boot number gives one that was never used before", async () => {
    const used = new Set<unknown>([status().boot]);
    for (const left of ["", "1", "17\u0000", "x".repeat(40)]) {
      node.files.set("boot", left);
      await node.start("brown-out");
      node.run(3);
      const { boot } = status();
      if (left !== "1") expect(used.has(boot)).toBe(false);
      used.add(boot);
    }
  });

  test("of what was sent may send a pack again, never with other content", async () => {
    node.world.gatewayUp = false;
    node.run(1800);
    const before = new Map(node.packs.map((pack) => [key(pack), JSON.stringify(pack)]));
    node.files.set("sent", "");
    await node.start("brown-out");
    node.world.unixS += 1830;
    node.world.gatewayUp = true;
    node.run(120);
    for (const pack of node.packs) {
      const known = before.get(key(pack));
      if (known !== undefined) expect(JSON.stringify(pack)).toBe(known);
    }
    expect([...node.files.keys()].filter((name) => /^q\d+$/.test(name))).toEqual([]);
  });
});

describe("a clock that jumps", () => {
  test.each([
    ["back by an hour", -3600],
    ["ahead by a day", 86_400],
    ["by two seconds", 2],
  ])("%s: every row is placed by the clock of its own time, none twice", (_how, jumpS) => {
    node.run(100);
    node.world.unixS += jumpS;
    node.run(400);
    const bases = node.packs.map(
      (pack) => (pack[0]?.bt ?? 0) - (pack.find((record) => record.n === "uptime")?.v ?? 0),
    );
    expect(new Set(bases)).toEqual(new Set([1_764_057_600, 1_764_057_600 + jumpS]));
    const uptimes = node.packs.flatMap((pack) => {
      const uptime = pack.find((record) => record.n === "uptime")?.v ?? 0;
      return pack
        .filter((record) => record.n === "line-pressure")
        .map((record) => uptime + (record.t ?? 0));
    });
    expect(new Set(uptimes).size).toBe(uptimes.length);
  });

  const nonsense = ["{}", '{"unix":"soon"}', '{"unix":-5}', '{"unix":1e300}', "[", "null", ""];

  function startUnix(): number {
    const last = node.packs.at(-1);
    const uptime = last?.find((record) => record.n === "uptime")?.v ?? 0;
    return (last?.[0]?.bt ?? 0) - uptime;
  }

  test("of the time topic: a server's time goes before it", () => {
    node.sendTime(1_764_099_999);
    for (const text of nonsense) node.sendTime(text);
    node.run(100);
    expect(startUnix()).toBe(1_764_057_600);
  });

  test("of the time topic, where no server answers: nonsense sets nothing, the next word does", async () => {
    node.stop();
    const world = quietWorld();
    world.unixS = 0;
    node = new TestNode(world);
    await node.start();
    node.run(10);
    for (const text of nonsense) node.sendTime(text);
    node.run(60);
    expect(node.packs.at(-1)?.[0]?.bt).toBeUndefined();
    node.sendTime(1_764_057_670);
    node.run(60);
    expect(startUnix()).toBe(1_764_057_600);
  });
});

describe("a broker that refuses", () => {
  test("for an hour: tries at least once a minute, never more than once a second, and loses nothing", () => {
    node.cut();
    node.connects.length = 0;
    node.run(3600);
    const waits = node.connects.slice(1).map((at, index) => at - (node.connects[index] ?? 0));
    expect(Math.min(...waits)).toBeGreaterThanOrEqual(1);
    expect(Math.max(...waits)).toBeLessThanOrEqual(65);
    expect(node.publishedWhileDown).toBe(0);
    node.world.brokerUp = true;
    node.run(120);
    expect(status().queued).toBeTypeOf("number");
    const seqs = node.packs.map((pack) => pack.find((record) => record.n === "seq")?.v ?? 0);
    for (const [index, seq] of seqs.slice(1).entries()) expect(seq - (seqs[index] ?? 0)).toBe(1);
  });
});

describe("the converter's bus stuck in the middle of a weld", () => {
  test("is a sensor fault on the lamp at once, no arc-without-gas, and heals", () => {
    node.world.linePa = 320_000;
    node.run(5);
    node.world.arc = true;
    node.run(10);
    node.lampHistory = "";
    node.buzzerHistory = "";
    node.world.raw = { 1: [], 2: [], 3: [] };
    node.run(20);
    expect(node.lampHistory).toContain("1");
    // Nothing is known of the gas: the welder is not startled by a false alarm.
    expect(node.buzzerHistory).not.toContain("1");
    node.world.raw = {};
    node.run(130);
    const last = node.packs.at(-1) ?? [];
    expect(last.some((record) => record.n.endsWith("/fault"))).toBe(false);
    expect(last.some((record) => record.n === "line-pressure")).toBe(true);
  });
});
