import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { quietWorld, type SenmlRecord, TestNode } from "./host.ts";

let node: TestNode;

/** 1000 counts a kg, 50,000 with nothing on it: between HX711 and amplifier. */
const config = {
  revision: 3,
  calibration: { scale: { lowReads: 50_000, lowIsKg: 0, highReads: 70_000, highIsKg: 20 } },
};
const counts = (kg: number): number => 50_000 + 1000 * kg;

beforeEach(async () => {
  node = new TestNode(quietWorld());
  node.world.scale = counts(92.5);
  await node.start();
  node.run(30);
});

afterEach(() => node.stop());

function last(name: string): SenmlRecord | undefined {
  return node.packs.at(-1)?.find((record) => record.n === name);
}

describe("a scale under the cylinder", () => {
  test("says its counts in the status until it is calibrated, then the mass once a pack", () => {
    expect(last("cylinder-mass")).toBeUndefined();
    node.send("config", { revision: 2 });
    expect(node.payloads("status").at(-1)?.scaleReads).toBe(142_500);
    node.send("config", config);
    node.run(130);
    expect(last("cylinder-mass")).toEqual({ n: "cylinder-mass", u: "kg", v: 92.5 });
    expect(node.packs.at(-1)?.filter((record) => record.n === "cylinder-mass")).toHaveLength(1);
  });

  test("follows a cylinder change at once, and smooths what trembles", () => {
    node.send("config", config);
    node.run(130, (uptimeS) => {
      node.world.scale = counts(Math.floor(uptimeS) % 2 === 0 ? 92.7 : 92.3);
    });
    expect(Math.abs((last("cylinder-mass")?.v ?? 0) - 92.5)).toBeLessThan(0.15);
    node.world.scale = counts(60);
    node.run(61);
    expect(Math.abs((last("cylinder-mass")?.v ?? 0) - 60)).toBeLessThan(0.01);
  });

  test("that does not answer is an open circuit, one off its range out of range; both heal", () => {
    node.send("config", config);
    node.run(60);
    node.world.scale = -1_000_000_000;
    node.run(70);
    expect(last("cylinder-mass")).toBeUndefined();
    expect(last("cylinder-mass/fault")?.vs).toBe("open-circuit");
    node.world.scale = counts(900);
    node.run(70);
    expect(last("cylinder-mass/fault")?.vs).toBe("out-of-range");
    node.world.scale = counts(90);
    node.run(130);
    expect(last("cylinder-mass/fault")).toBeUndefined();
    expect(last("cylinder-mass")?.v).toBe(90);
  });

  test("keeps packs within 1200 bytes and survives the ring", async () => {
    node.send("config", config);
    node.run(30);
    node.cut();
    node.run(1800);
    await node.start("brown-out");
    node.world.brokerUp = true;
    node.run(60);
    expect(Math.max(...node.published.map((message) => message.payload.length))).toBeLessThan(1200);
    const masses = node.packs.flat().filter((record) => record.n === "cylinder-mass");
    expect(masses.length).toBeGreaterThan(20);
    for (const { v } of masses) expect(v).toBe(92.5);
  });

  test.each([
    [
      "points too close",
      { lowReads: 0, lowIsKg: 0, highReads: 9000, highIsKg: 4 },
      "at least 5 kg",
    ],
    [
      "counts that do not move",
      { lowReads: 7, lowIsKg: 0, highReads: 9, highIsKg: 20 },
      "too close",
    ],
    ["a word", { lowReads: "x" }, "is not a number"],
  ])("%s are refused", (_name, scale, why) => {
    node.send("config", { revision: 5, calibration: { scale } });
    expect(node.payloads("status").at(-1)?.configError).toContain(why);
  });

  test("packs of a ring from before there were scales are still sent", async () => {
    node.stop();
    const pack = "16;1;1764057000;0;60;0;0;5000;20.00;;;00000|0,345000,18000000,";
    let sum = 7;
    for (const symbol of pack) sum = (sum * 31 + symbol.charCodeAt(0)) % 65_521;
    const files = new Map([
      ["boot", "16"],
      ["q3", `${pack}*${String(sum).padStart(5, "0")}\n`],
    ]);
    node = new TestNode(quietWorld(), files);
    await node.start();
    node.run(3);
    expect(node.packs[0]?.[0]?.bt).toBe(1_764_057_000);
  });
});
