import { readFileSync } from "node:fs";
import { LuaNode } from "@leeward/gateway/virtual-shop/host/lua-node.ts";
import { PastTransport } from "@leeward/gateway/virtual-shop/host/past-transport.ts";
import { plantConfigFor } from "@leeward/gateway/virtual-shop/plant/from-station.ts";
import { createPlant } from "@leeward/gateway/virtual-shop/plant/plant.ts";
import { readSamplePack } from "@leeward/shared-core/messages/sample-pack.ts";
import { afterEach, describe, expect, it } from "vitest";
import { LuaFactory } from "wasmoon";
import { argonStation, cylinderBar, drop, lineBar, stillAir } from "../plant/bench-station.ts";

const bundle = readFileSync(
  new URL("../../../../firmware/dist/leeward-node.lua", import.meta.url),
  "utf8",
);
const factory = new LuaFactory();
const startUnixS = 1764054000;
const open: LuaNode[] = [];

afterEach(() => {
  for (const node of open.splice(0)) node.powerOff();
});

async function nodeOn(station = argonStation()) {
  const plant = createPlant(
    plantConfigFor(station, { presentBar: 150, startUnixS, weather: stillAir }),
    5,
  );
  plant.setReading(8);
  const files = new Map([["boot", "41"]]);
  const node = new LuaNode(factory, bundle, {
    site: "north",
    node: "n-07",
    hardwareAddress: "02aabbccddee",
    random: 99,
    plant,
    drop: 0,
    files,
  });
  const transport = new PastTransport(node, () => plant.t);
  node.use(transport);
  await node.powerOn(plant.t);
  open.push(node);
  const run = (seconds: number) => {
    for (let k = 0; k < seconds * 4; k += 1) {
      plant.step(0.25);
      node.tick(plant.t);
    }
  };
  const packs = () =>
    transport.sent
      .filter((message) => message.topic.endsWith("/samples"))
      .map((message) => {
        const read = readSamplePack(message.payload, { site: "north", node: "n-07" });
        if (!read.ok) throw new Error(JSON.stringify(read.fault));
        return { ...read.value, receivedS: message.receivedS };
      });
  const statuses = () =>
    transport.sent
      .filter((message) => message.topic.endsWith("/status"))
      .map((message) => JSON.parse(message.payload));
  return { plant, node, transport, files, run, packs, statuses };
}

describe("a node's firmware in a Lua VM", () => {
  it("says that it is there, with the next boot number, and reports the plant's pressures", async () => {
    const { plant, run, packs, statuses } = await nodeOn();
    run(130);
    expect(statuses()[0]).toMatchObject({ state: "online", boot: 42 });
    const samples = packs().flatMap((pack) => pack.samples);
    const last = (channel: string) =>
      samples.filter((sample) => sample.channel === channel).at(-1)?.value as number;
    expect(Math.abs(last("cylinder-pressure") / 1e5 - cylinderBar(plant))).toBeLessThan(1.3);
    expect(Math.abs(last("line-pressure") / 1e5 - lineBar(plant))).toBeLessThan(0.06);
    expect(Math.abs(last("cylinder-temperature") - 20)).toBeLessThan(0.7);
    expect(packs()[0]?.hardware).toBe("02aabbfffeccddee");
  });

  it("reports gas-on at once, with the ten seconds before it at 1 s, then every second", async () => {
    const { plant, run, packs } = await nodeOn();
    run(200);
    const onS = plant.t;
    drop(plant).torchOpen = true;
    run(20);
    const times = (pack: ReturnType<typeof packs>[number]) =>
      pack.samples.filter((s) => s.channel === "line-pressure").map((s) => s.time);
    const first = packs().find((pack) => times(pack).some((t) => t >= onS));
    expect((first?.receivedS ?? 0) - onS).toBeLessThan(2);
    const all = new Set(packs().flatMap(times).map(Math.round));
    for (let t = onS - 7; t < onS + 17; t += 1) expect(all.has(t), `second ${t - onS}`).toBe(true);
  });

  it("calls a broken wire by its name within five seconds, and says when it is whole again", async () => {
    const { plant, run, packs } = await nodeOn();
    run(90);
    plant.sensors.cylinder.fault = "open";
    const brokenS = plant.t;
    run(6);
    const fault = packs().find((pack) =>
      pack.samples.some(
        (s) => s.channel === "cylinder-pressure/fault" && s.value === "open-circuit",
      ),
    );
    expect((fault?.receivedS ?? Number.POSITIVE_INFINITY) - brokenS).toBeLessThan(5);
    plant.sensors.cylinder.fault = null;
    const mendedS = plant.t;
    run(70);
    const values = packs()
      .filter((pack) => pack.receivedS > mendedS + 5)
      .flatMap((pack) => pack.samples)
      .filter((s) => s.channel.startsWith("cylinder-pressure"));
    expect(values.length).toBeGreaterThan(0);
    expect(values.every((s) => s.channel === "cylinder-pressure")).toBe(true);
  });

  it("leaves out what is not fitted", async () => {
    const station = argonStation({
      sensors: { cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 } },
    });
    const { run, packs } = await nodeOn(station);
    run(130);
    const channels = new Set(packs().flatMap((pack) => pack.samples.map((s) => s.channel)));
    expect(channels.has("cylinder-pressure")).toBe(true);
    expect(channels.has("arc")).toBe(false);
    expect(channels.has("ambient-temperature")).toBe(false);
    expect([...channels].filter((name) => name === "line-pressure")).toEqual([]);
  });

  it("counts its boots over a power cut and restarts when told to", async () => {
    const { plant, node, run, statuses, files, transport } = await nodeOn();
    run(30);
    node.powerOff();
    plant.step(60);
    await node.powerOn(plant.t);
    run(30);
    expect(statuses().map((status) => status.boot)).toEqual([42, 43]);
    expect(files.get("boot")).toBe("43");
    node.message(
      "leeward/v1/north/n-07/command",
      JSON.stringify({ id: "c1", do: "restart", expires: Math.round(plant.t) + 60 }),
    );
    run(5);
    expect(transport.sent.some((message) => message.topic.endsWith("/reply"))).toBe(true);
    expect(node.takeRestart()).toBe(true);
    expect(node.takeRestart()).toBe(false);
  });

  it("keeps its packs while nobody answers and sends them later, none lost", async () => {
    const { plant, node, run, packs } = await nodeOn();
    run(60);
    const deaf = {
      connect: () => undefined,
      publish: () => false,
      subscribe: () => false,
      close: () => undefined,
    };
    const before = packs();
    node.use(deaf);
    drop(plant).torchOpen = true;
    run(120);
    const late: { topic: string; payload: string }[] = [];
    const again = new PastTransport(node, () => plant.t);
    node.use(again);
    run(100);
    late.push(...again.sent);
    const numbers = new Set([
      ...before.map((pack) => pack.seq),
      ...late
        .filter((message) => message.topic.endsWith("/samples"))
        .map((message) => Number(/"n":"seq","v":(\d+)/.exec(message.payload)?.[1])),
    ]);
    expect(numbers.size).toBeGreaterThan(60);
    expect(numbers.size).toBe(Math.max(...[...numbers].map((n) => n ?? 0)));
  });
});
