import { afterEach, describe, expect, test } from "vitest";
import { quietWorld, type SenmlRecord, TestNode } from "./host.ts";

let node: TestNode;

async function started(change?: (node: TestNode) => void): Promise<TestNode> {
  node = new TestNode(quietWorld(), new Map([["boot", "16"]]));
  change?.(node);
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

describe("reporting", () => {
  test("an idle node reports every 15 s in packs of a minute", async () => {
    const { packs } = await started();
    node.run(61);
    const settled = packs.length;
    node.run(600);
    const line = values(packs.slice(settled), "line-pressure");
    const gaps = line.slice(1).map((sample, index) => sample.t - (line[index]?.t ?? 0));
    expect(new Set(gaps.map((gap) => Math.round(gap * 4) / 4))).toEqual(new Set([15]));
    expect(packs.length - settled).toBe(10);
  });

  test("a pack names boot, seq, uptime, temperatures and supply once, below 1200 bytes", async () => {
    const { packs, published } = await started();
    node.run(200);
    const pack = packs.at(-1) ?? [];
    for (const name of [
      "boot",
      "seq",
      "uptime",
      "supply-voltage",
      "cylinder-temperature",
      "regulator-temperature",
    ]) {
      expect(pack.filter((record) => record.n === name)).toHaveLength(1);
    }
    expect(pack[0]?.bn).toBe("north/n-07:");
    expect(pack.find((record) => record.n === "boot")?.v).toBe(17);
    expect(packs.map((one) => one.find((record) => record.n === "seq")?.v)).toEqual(
      packs.map((_, index) => index + 1),
    );
    for (const message of published) expect(message.payload.length).toBeLessThan(1200);
  });

  test("gas-on is sent at once, with the ten seconds before it at 1 s", async () => {
    const { packs, world } = await started();
    node.run(100);
    const before = packs.length;
    node.run(1.5, () => {
      world.linePa = 320_000;
    });
    expect(packs.length).toBeGreaterThan(before);
    const line = values(packs.slice(before), "line-pressure");
    const on = line.find((sample) => sample.v < 330_000);
    expect(on).toBeDefined();
  });

  test("flowing: 1 s samples in packs of 2 s, until ten seconds after gas-off", async () => {
    const { packs, world } = await started();
    node.run(60);
    world.linePa = 320_000;
    node.run(30);
    const flowing = packs.length;
    node.run(60);
    expect(packs.length - flowing).toBeGreaterThanOrEqual(29);
    expect(packs.length - flowing).toBeLessThanOrEqual(31);
    world.linePa = 345_000;
    node.run(20);
    const idle = packs.length;
    node.run(120);
    expect(packs.length - idle).toBeLessThanOrEqual(3);
  });
});
