import { statusSchema } from "@leeward/shared-core/messages/node-messages.ts";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { quietWorld, type SenmlRecord, TestNode } from "./host.ts";

let node: TestNode;

beforeEach(() => {
  node = new TestNode(quietWorld(), new Map([["boot", "15"]]), { battery: true });
});

afterEach(() => node.stop());

/** One wake: from the start until it sleeps, at most `limitS`; the world's clock goes on. */
async function wake(reset = "wake", limitS = 60): Promise<number> {
  await node.start(reset);
  const slept = node.sleeps.length;
  let awakeS = 0;
  while (node.sleeps.length === slept && awakeS < limitS) {
    node.run(0.25);
    awakeS += 0.25;
  }
  const seconds = node.sleeps.at(-1) ?? 0;
  node.world.unixS += awakeS + seconds;
  return awakeS;
}

function value(pack: SenmlRecord[] | undefined, name: string): SenmlRecord | undefined {
  return pack?.find((record) => record.n === name);
}

describe("a node on a battery", () => {
  test("measures every quarter of an hour, sends every hour, and sleeps between", async () => {
    await wake("power-on");
    expect(node.packs).toHaveLength(1);
    expect(value(node.packs[0], "cylinder-pressure")?.v).toBeGreaterThan(17.9e6);
    expect(value(node.packs[0], "cylinder-temperature")?.v).toBe(20);
    const connects = node.connects.length;
    const awake: number[] = [];
    for (let index = 0; index < 8; index++) awake.push(await wake());
    expect(new Set(node.sleeps)).toEqual(new Set([900]));
    expect(node.connects.length - connects).toBe(2);
    expect(node.packs).toHaveLength(9);
    // Wakes that only measure are short: that is what the battery lives of.
    expect(awake.filter((seconds) => seconds <= 2.5)).toHaveLength(6);
    expect(Math.max(...awake)).toBeLessThan(6);
    const times = node.packs.map((pack) => pack[0]?.bt ?? 0);
    const gaps = times.slice(1).map((t, index) => t - (times[index] ?? 0));
    for (const gap of gaps) expect(Math.abs(gap - 903)).toBeLessThan(5);
  });

  test("says so in its status, and its will does not call it gone", async () => {
    await wake("power-on");
    const [status] = node.payloads("status");
    expect(status).toMatchObject({ state: "online", power: "battery" });
    expect(statusSchema.safeParse(status).success).toBe(true);
    expect(JSON.parse(node.will?.payload ?? "{}")).toEqual({ state: "online", boot: 16 });
  });

  test("keeps its rows while the gateway is away for a day, and gives up each try in good time", async () => {
    await wake("power-on");
    node.world.brokerUp = false;
    const awake: number[] = [];
    for (let index = 0; index < 96; index++) awake.push(await wake());
    expect(Math.max(...awake)).toBeLessThanOrEqual(46);
    expect(node.packs).toHaveLength(1);
    node.world.brokerUp = true;
    for (let index = 0; index < 5; index++) await wake();
    const boots = node.packs.map((pack) => value(pack, "boot")?.v ?? 0);
    expect(new Set(boots).size).toBe(boots.length);
    expect(boots.length).toBeGreaterThanOrEqual(98);
  });

  test("sends at once when the cylinder nears its residual pressure, or a sensor fails", async () => {
    await wake("power-on");
    node.world.cylinderPa = 1_050_000;
    await wake();
    expect(node.packs).toHaveLength(1);
    while (node.packs.length < 5) await wake();
    node.send("config", { revision: 4, limits: { residualPa: 1_000_000 } });
    // The next wake that sends gets its configuration; from then on each wake has news.
    node.world.raw[2] = [0, 0, 0, 0, 0];
    const before = node.packs.length;
    await wake();
    expect(node.packs.length).toBeGreaterThan(before);
    expect(value(node.packs.at(-1), "cylinder-pressure/fault")?.vs).toBe("open-circuit");
  });

  test("keeps a configuration that it has heard before it sleeps", async () => {
    await node.start("power-on");
    node.run(1.5);
    const config = { revision: 7, battery: { measureS: 600, sendS: 600 } };
    for (let turn = 0; turn < 80 && node.sleeps.length === 0; turn++) {
      node.run(0.25);
      if (node.payloads("status").length === 1 && turn < 79) {
        node.send("config", config);
      }
    }
    expect(node.sleeps).toEqual([600]);
    await wake();
    expect(node.sleeps).toEqual([600, 600]);
    expect(node.payloads("status").at(-1)?.config).toBe(7);
    await wake();
    expect(node.payloads("status").at(-1)?.config).toBe(7);
  });

  test.each([
    ["an impossible pace", { measureS: 5 }, "battery.measureS must lie between"],
    ["a word", { sendS: "often" }, "battery.sendS is not a number"],
  ])("%s is refused", async (_name, battery, why) => {
    await node.start("power-on");
    node.run(3);
    node.send("config", { revision: 7, battery });
    expect(node.payloads("status").at(-1)?.configError).toContain(why);
  });

  test("without a clock tries to get one each time, since its rows could not be placed", async () => {
    node.world.unixS = 0;
    await wake("power-on");
    node.world.unixS = 0;
    const connects = node.connects.length;
    await wake();
    expect(node.connects.length).toBeGreaterThan(connects);
  });
});
