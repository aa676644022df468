import { createServer, type Server } from "node:net";
import { createWallClock } from "@leeward/gateway/clock.ts";
import { createVirtualShop, type VirtualShop } from "@leeward/gateway/virtual-shop/virtual-shop.ts";
import { readSamplePack, type SentPack } from "@leeward/shared-core/messages/sample-pack.ts";
import { Aedes } from "aedes";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

interface Heard {
  topic: string;
  payload: string;
  receivedS: number;
  live: boolean;
}

const startS = 1764057600 + 6 * 3600;
/** Fast enough that minutes of the shop pass while the test waits for seconds. */
const speed = 20;

const packsOf = (heard: Heard[], node: string): { pack: SentPack; live: boolean }[] =>
  heard
    .filter((message) => message.topic === `leeward/v1/boatyard/${node}/samples`)
    .map((message) => {
      const read = readSamplePack(message.payload, { site: "boatyard", node });
      if (!read.ok) throw new Error(JSON.stringify(read.fault));
      return { pack: read.value, live: message.live };
    });

describe("virtual shop", () => {
  const heard: Heard[] = [];
  let broker: Aedes;
  let server: Server;
  let shop: VirtualShop;
  let port = 0;
  const complaints: string[] = [];
  let seen = { pastMs: 0, liveTruth: new Map<string, number>() };

  beforeAll(async () => {
    broker = await Aedes.createBroker();
    server = createServer(broker.handle);
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    port = (server.address() as { port: number }).port;
    const clock = createWallClock({ speed, startS });
    shop = createVirtualShop({
      clock,
      brokerUrl: `mqtt://127.0.0.1:${port}`,
      pastHours: 0.5,
      log: (line) => complaints.push(line),
    });
    const begun = performance.now();
    await shop.preAge({
      deliver: (topic, payload, receivedS) => {
        heard.push({ topic, payload, receivedS, live: false });
      },
    });
    seen.pastMs = performance.now() - begun;
    broker.on("publish", (packet, client) => {
      if (!client) return;
      heard.push({
        topic: packet.topic,
        payload: packet.payload.toString(),
        receivedS: clock.nowS(),
        live: true,
      });
    });
    await shop.start();
    await new Promise((resolve) => setTimeout(resolve, 7000));
    seen = {
      ...seen,
      liveTruth: new Map(
        shop.stations.map((s) => [s.station, shop.truth(s.station).cylinderGaugePa]),
      ),
    };
  });

  afterAll(async () => {
    await shop.stop();
    await new Promise<void>((resolve) => broker.close(() => resolve()));
    await new Promise((resolve) => server.close(resolve));
  });

  it("hands the past over in order of receipt, every station from its first seconds", () => {
    const past = heard.filter((message) => !message.live);
    expect(past.length).toBeGreaterThan(1000);
    for (let i = 1; i < past.length; i += 1) {
      expect(past[i]!.receivedS).toBeGreaterThanOrEqual(past[i - 1]!.receivedS);
    }
    for (const station of shop.stations) {
      const first = past.find((message) => message.topic.includes(`/${station.node}/samples`));
      expect(first!.receivedS - (startS - 1800)).toBeLessThan(120);
    }
  });

  it("goes on live: the same boot, numbers without a break, a status that is retained", () => {
    for (const station of shop.stations) {
      const packs = packsOf(heard, station.node ?? "");
      const live = packs.filter((one) => one.live);
      expect(live.length).toBeGreaterThan(0);
      expect(new Set(packs.map((one) => one.pack.boot)).size).toBe(1);
      const numbers = new Set(packs.map((one) => one.pack.seq));
      const largest = Math.max(...[...numbers].map((n) => n ?? 0));
      expect(numbers.size).toBe(largest);
    }
    const online = heard.filter((m) => m.live && m.topic.endsWith("/status"));
    expect(new Set(online.map((m) => m.topic)).size).toBe(6);
    expect(online.every((m) => JSON.parse(m.payload).state === "online")).toBe(true);
  });

  it("reports what the plants do, through the firmware, within the sensors' class", () => {
    for (const station of shop.stations) {
      const packs = packsOf(heard, station.node ?? "").filter((one) => one.live);
      const samples = packs.flatMap((one) => one.pack.samples);
      const last = samples.filter((s) => s.channel === "cylinder-pressure").at(-1);
      const truth = seen.liveTruth.get(station.station) ?? Number.NaN;
      // 0.5 % of 250 bar, and what flows between the last pack and the look at the truth.
      expect(Math.abs((last?.value as number) - truth)).toBeLessThan(1.25e5 + 0.6e5);
    }
  });

  it("never complains", () => {
    expect(complaints.filter((line) => /fail|stumbled|off:|again/.test(line))).toEqual([]);
  });

  it("makes up half an hour in a few seconds", () => {
    expect(seen.pastMs).toBeLessThan(20_000);
  });
});

describe("a virtual shop in trouble", () => {
  it("says what is missing and how to make it where the firmware was not built", async () => {
    const shop = createVirtualShop({
      clock: createWallClock({ startS }),
      brokerUrl: "mqtt://127.0.0.1:1",
      bundleFile: "/nonexistent/node.lua",
    });
    await expect(shop.start()).rejects.toThrow(/cannot be read.*npm run build -w firmware/);
  });

  it("goes on without a broker, keeps its nodes' packs, and stops cleanly", async () => {
    const complaints: string[] = [];
    const shop = createVirtualShop({
      clock: createWallClock({ startS, speed: 10 }),
      // A port that was free a moment ago and has nobody behind it.
      brokerUrl: "mqtt://127.0.0.1:9",
      pastHours: 0.1,
      log: (line) => complaints.push(line),
    });
    await shop.preAge({ deliver: () => undefined });
    await shop.start();
    const before = shop.truth("prop-shop").t;
    await new Promise((resolve) => setTimeout(resolve, 2500));
    expect(shop.truth("prop-shop").t - before).toBeGreaterThan(10);
    await shop.stop();
    expect(complaints.filter((line) => /stumbled|failed/.test(line))).toEqual([]);
    expect(() => shop.truth("nowhere")).toThrow(/no station nowhere/);
  });

  it("breaks off a past that is being made up when it is stopped, and stays stopped", async () => {
    const shop = createVirtualShop({
      clock: createWallClock({ startS }),
      brokerUrl: "mqtt://127.0.0.1:9",
      pastHours: 12,
    });
    let handed = 0;
    const past = shop.preAge({
      deliver: () => {
        handed += 1;
      },
    });
    while (handed < 500) await new Promise((resolve) => setImmediate(resolve));
    const begun = performance.now();
    await shop.stop();
    await past;
    expect(performance.now() - begun).toBeLessThan(3000);
    const after = handed;
    await shop.start();
    await new Promise((resolve) => setTimeout(resolve, 400));
    expect(handed).toBe(after);
  });
});
