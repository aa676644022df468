import { afterEach, describe, expect, test } from "vitest";
import { quietWorld, type SenmlRecord, TestNode } from "./host.ts";

let node: TestNode;

async function started(change?: (world: TestNode["world"]) => void): Promise<TestNode> {
  const world = quietWorld();
  change?.(world);
  node = new TestNode(world, new Map([["boot", "16"]]));
  await node.start();
  return node;
}

afterEach(() => node.stop());

function values(packs: SenmlRecord[][], name: string): { t: number; v: number }[] {
  return packs.flatMap((pack) => {
    const base = pack[0]?.bt ?? 0;
    return pack
      .filter((record) => record.n === name)
      .map((record) => ({ t: base + (record.t ?? 0), v: record.v ?? Number.NaN }));
  });
}

function record(pack: SenmlRecord[] | undefined, name: string): SenmlRecord | undefined {
  return pack?.find((one) => one.n === name);
}

describe("reporting", () => {
  test("an idle node reports every 15 s in packs of a minute", async () => {
    const { packs } = await started();
    node.run(61);
    const settled = packs.length;
    node.run(600);
    const line = values(packs.slice(settled), "line-pressure");
    const gaps = line.slice(1).map((sample, index) => sample.t - (line[index]?.t ?? 0));
    expect(new Set(gaps)).toEqual(new Set([15]));
    expect(packs.length - settled).toBe(10);
  });

  test("a node that starts shows its values within 3 s", async () => {
    const { packs } = await started();
    node.run(3);
    expect(values(packs, "line-pressure").length).toBeGreaterThan(0);
  });

  test("a pack says boot, seq, uptime, temperatures and supply once, below 1200 bytes", async () => {
    const { packs, published } = await started();
    node.run(200);
    const once = ["boot", "seq", "uptime", "supply-voltage"];
    for (const name of [...once, "cylinder-temperature", "regulator-temperature"]) {
      expect(packs.at(-1)?.filter((one) => one.n === name)).toHaveLength(1);
    }
    expect(packs.at(-1)?.[0]?.bn).toBe("north/n-07:");
    expect(record(packs.at(-1), "boot")?.v).toBe(17);
    expect(packs.map((pack) => record(pack, "seq")?.v)).toEqual(packs.map((_, index) => index + 1));
    for (const message of published) expect(message.payload.length).toBeLessThan(1200);
  });

  test("packs stay below 1200 bytes with the longest names, all probes, faults and a restless arc", async () => {
    const long = "a123456789012345678901234567890b";
    node = new TestNode(quietWorld(), new Map(), { site: long, node: long, ringBytes: 6000 });
    const { world } = node;
    world.temperatures = [-19.9375, -39.9375, -29.9375];
    world.noisePa = 40_000;
    world.linePa = 900_000;
    world.cylinderPa = 22_000_000;
    await node.start();
    node.run(100, (uptimeS) => {
      world.arc = Math.floor(uptimeS) % 2 === 0;
    });
    node.cut();
    node.run(3600, (uptimeS) => {
      world.arc = Math.floor(uptimeS) % 2 === 0;
      if (uptimeS > 2000) world.temperatures = [-1000, -1000, -1000];
    });
    world.brokerUp = true;
    node.run(120);
    const sizes = node.published.map((message) => message.payload.length);
    expect(Math.max(...sizes)).toBeGreaterThan(800);
    expect(Math.max(...sizes)).toBeLessThan(1200);
    expect(node.packs.flat().some((one) => one.n === "line-pressure/fault")).toBe(true);
    expect(node.packs.flat().some((one) => one.n === "cylinder-temperature/fault")).toBe(true);
    expect(node.packs.flat().some((one) => one.n === "thinned")).toBe(true);
  });

  test("a hardware address becomes the base name as EUI-64 (RFC 9039)", async () => {
    node = new TestNode(quietWorld(), new Map(), { hardwareAddress: "0024befe804f" });
    await node.start();
    node.run(3);
    expect(node.packs[0]?.[0]?.bn).toBe("urn:dev:mac:0024befffefe804f:");
  });

  test("pressures come out right: 345 kPa and 18 MPa within the converter's step", async () => {
    const { packs } = await started((world) => {
      world.noisePa = 0;
    });
    node.run(10);
    for (const { v } of values(packs, "line-pressure"))
      expect(Math.abs(v - 345_000)).toBeLessThan(50);
    for (const { v } of values(packs, "cylinder-pressure")) {
      expect(Math.abs(v - 18_000_000)).toBeLessThan(1200);
    }
  });

  test("gas-on is sent at once, with the ten seconds before it at 1 s", async () => {
    const { packs, world } = await started();
    node.run(100);
    world.linePa = 320_000;
    node.run(0.5);
    const line = values(packs, "line-pressure");
    const on = line.find((sample) => sample.v < 335_000)?.t ?? 0;
    expect(on).toBe(world.unixS + 100.25);
    const times = line
      .map((sample) => sample.t)
      .filter((t) => t >= on - 10.5 && t <= on)
      .sort((a, b) => a - b);
    expect(times.length).toBeGreaterThanOrEqual(10);
    for (const [index, t] of times.slice(1).entries()) {
      expect(t - (times[index] ?? 0)).toBeLessThanOrEqual(1);
    }
  });

  test("flowing: 1 s samples in packs of 2 s, until ten seconds after gas-off", async () => {
    const { packs, world } = await started();
    node.run(60);
    world.linePa = 320_000;
    node.run(30);
    const flowing = packs.length;
    node.run(60);
    expect(packs.length - flowing).toBe(30);
    world.linePa = 345_000;
    node.run(20);
    const idle = packs.length;
    node.run(120);
    expect(packs.length - idle).toBeLessThanOrEqual(3);
  });

  test("an arc without gas is told each half second for four seconds, and not with gas", async () => {
    const { packs, world } = await started();
    for (const gasPa of [345_000, 300_000]) {
      world.linePa = 345_000;
      world.arc = false;
      node.run(90);
      world.linePa = gasPa;
      node.run(5);
      world.arc = true;
      node.run(0.5);
      const edges = packs.length;
      node.run(4.25);
      // With gas as ever: every other second.
      const bare = gasPa === 345_000;
      expect(packs.length - edges).toBeGreaterThanOrEqual(bare ? 8 : 2);
      expect(packs.length - edges).toBeLessThanOrEqual(bare ? 9 : 3);
      if (bare) {
        for (const pack of packs.slice(edges)) {
          expect(record(pack, "arc")?.vb).toBe(true);
          expect(values([pack], "line-pressure").at(-1)?.v).toBeGreaterThan(340_000);
        }
      }
      const told = packs.length;
      node.run(6);
      expect(packs.length - told).toBeLessThanOrEqual(4);
    }
  });

  test("gas that goes off under an arc is told so too, until it is back", async () => {
    const { packs, world } = await started();
    world.linePa = 345_000;
    node.run(90);
    world.linePa = 300_000;
    node.run(2);
    world.arc = true;
    node.run(10);
    const edges = packs.length;
    world.linePa = 345_000;
    node.run(2.5);
    expect(packs.length - edges).toBeGreaterThanOrEqual(5);
    world.linePa = 300_000;
    node.run(0.75);
    const back = packs.length;
    node.run(4);
    expect(packs.length - back).toBeLessThanOrEqual(3);
  });

  test("both edges of an arc are sent within half a second", async () => {
    const { packs, world } = await started();
    node.run(60);
    for (const arc of [true, false]) {
      world.arc = arc;
      node.run(0.5);
      expect(
        packs
          .at(-1)
          ?.filter((one) => one.n === "arc")
          .at(-1)?.vb,
      ).toBe(arc);
      node.run(5);
    }
  });

  test("short tacks: every gas-on of 1.5 s is seen", async () => {
    const { packs, world } = await started();
    node.run(60);
    for (let tack = 0; tack < 10; tack++) {
      world.linePa = 320_000;
      node.run(1.5);
      world.linePa = 345_000;
      node.run(8);
    }
    const low = values(packs, "line-pressure").filter((sample) => sample.v < 335_000);
    const spells = low.filter((sample, index) => sample.t - (low[index - 1]?.t ?? 0) > 5);
    expect(spells).toHaveLength(10);
  });

  test("a line that creeps, cools or leaks slowly is no gas-on", async () => {
    const { packs, world } = await started();
    node.run(60);
    const settled = packs.length;
    node.run(1800, () => {
      world.linePa -= 10; // 40 Pa/s: a leak of 1.4 bar an hour
    });
    expect(packs.length - settled).toBeLessThanOrEqual(31);
  });

  test("without a line sensor the idle pace is 5 s and no line fault is reported", async () => {
    const { packs } = await started();
    node.run(5);
    node.send("config", { revision: 2, calibration: { line: { fitted: false } } });
    node.run(100);
    const settled = packs.length;
    node.run(120);
    const late = packs.slice(settled);
    expect(values(late, "line-pressure")).toEqual([]);
    const cylinder = values(late, "cylinder-pressure");
    expect((cylinder[1]?.t ?? 0) - (cylinder[0]?.t ?? 0)).toBe(5);
    expect(late.flat().some((one) => one.n === "line-pressure/fault")).toBe(false);
  });
});

describe("status", () => {
  test("online, retained, with a last will of this boot", async () => {
    const { published, will } = await started().then((one) => {
      one.run(1);
      return one;
    });
    const status = published.find((message) => message.topic.endsWith("/status"));
    expect(status?.retain).toBe(true);
    expect(JSON.parse(status?.payload ?? "{}")).toEqual({
      state: "online",
      firmware: "0.1.0",
      boot: 17,
      config: 0,
      uptime: 0,
      reset: "power-on",
      queued: 0,
    });
    expect(will?.topic).toBe("leeward/v1/north/n-07/status");
    expect(JSON.parse(will?.payload ?? "{}")).toEqual({ state: "offline", boot: 17 });
    expect(node.subscriptions).toEqual([
      "leeward/v1/north/n-07/config",
      "leeward/v1/north/n-07/command",
      "leeward/v1/north/n-07/stored",
      "leeward/v1/north/time",
    ]);
  });

  test("boot numbers count up over resets, and are random without flash", async () => {
    await started();
    for (const boot of [17, 18, 19]) {
      node.run(3);
      expect(record(node.packs.at(-1), "boot")?.v).toBe(boot);
      await node.start("watchdog");
    }
    node.stop();
    node = new TestNode(quietWorld(), new Map(), { hasFlash: false });
    await node.start();
    node.run(3);
    expect(record(node.packs.at(-1), "boot")?.v).toBe(1_234_568);
  });
});

describe("time", () => {
  test("without a clock times are relative, and uptime places them; the topic sets the clock", async () => {
    const { packs, world } = await started((one) => {
      one.unixS = 0;
    });
    node.run(60.5);
    expect(packs.length).toBeGreaterThan(1);
    for (const pack of packs) {
      expect(pack[0]?.bt).toBeUndefined();
      for (const one of pack) expect(one.t ?? 0).toBeLessThanOrEqual(0);
    }
    node.sendTime(1_764_057_660);
    node.run(60);
    expect(world.unixS).toBe(0);
    const pack = packs.at(-1);
    const bootUnix = (pack?.[0]?.bt ?? 0) - (record(pack, "uptime")?.v ?? 0);
    expect(bootUnix).toBeCloseTo(1_764_057_660 - 60.5, 3);
  });

  test("a clock that jumps splits the pack; an impossible time is ignored", async () => {
    const { packs, world } = await started();
    node.run(70);
    world.unixS += 3600;
    node.run(100);
    const bases = packs.map((pack) => (pack[0]?.bt ?? 0) - (record(pack, "uptime")?.v ?? 0));
    expect(new Set(bases)).toEqual(new Set([1_764_057_600, 1_764_061_200]));
    world.unixS = 12;
    node.run(120);
    expect((packs.at(-1)?.[0]?.bt ?? 0) - (record(packs.at(-1), "uptime")?.v ?? 0)).toBe(
      1_764_061_200,
    );
  });
});
