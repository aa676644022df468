import { deadLetterReasons } from "@leeward/shared-core/messages/dead-letter-reasons.ts";
import { describe, expect, it } from "vitest";
import { nodeConfig } from "../../../gateway/run/node-configs.ts";
import {
  eventually,
  examplePack,
  exampleStation,
  HandClock,
  samplesTopic,
  startTestGateway,
  statusTopic,
  t0,
  temporaryFolder,
} from "../support.ts";

const line = { n: "line-pressure", u: "Pa", t: t0, v: 345000 };

describe("receiving", () => {
  it("stores a repeat once, and counts it once in every mean", async () => {
    const { link, store, gateway } = await startTestGateway();
    const pack = examplePack({ endS: t0, seq: 1 });
    await link.send(samplesTopic, pack);
    await link.send(samplesTopic, pack);
    await Promise.all([link.send(samplesTopic, pack), link.send(samplesTopic, pack)]);
    expect(await store.readLog({ afterId: 0, of: null, limit: 10 })).toHaveLength(1);
    expect(gateway.ingest.counts.repeats).toBe(3);
    const later = t0 + 1;
    const history = await store.history({
      from: t0 - 3600,
      to: later,
      points: 10,
      rawFrom: 0,
      minutesFrom: 0,
      series: [
        {
          name: "line-pressure",
          parts: [{ owner: "node:north/n-07", from: t0 - 3600, to: later }],
        },
      ],
      presence: { parts: [], silenceS: 60 },
    });
    expect(history.series.get("line-pressure")?.mean).toEqual([345000]);
  });

  it("stores the same number with other content too, flagged and journalled", async () => {
    const { link, store } = await startTestGateway();
    await link.send(samplesTopic, examplePack({ endS: t0 - 10, seq: 1 }));
    await link.send(samplesTopic, examplePack({ endS: t0, seq: 1 }));
    const log = await store.readLog({ afterId: 0, of: null, limit: 10 });
    expect(log.map((entry) => entry.flag)).toEqual([null, "conflict"]);
    const journal = await store.journal({ from: 0, to: t0 + 100, limit: 10 });
    expect(journal.map((entry) => entry.kind)).toContain("pack-conflict");
  });

  it("takes an unnumbered repeat once where it has times of its own", async () => {
    const { link, store } = await startTestGateway();
    await link.send(samplesTopic, [line]);
    await link.send(samplesTopic, [line]);
    await link.send(samplesTopic, [{ ...line, t: t0 - 1 }]);
    expect(await store.readLog({ afterId: 0, of: null, limit: 10 })).toHaveLength(2);
  });

  it("tells the node through which number everything is stored", async () => {
    const { link } = await startTestGateway();
    const notices = () =>
      link.published
        .filter((one) => one.topic === "leeward/v1/north/n-07/stored")
        .map((one) => JSON.parse(one.payload) as { boot: number; through: number });
    for (const seq of [5, 6, 8]) {
      await link.send(samplesTopic, examplePack({ endS: t0 - 60 + seq, seq }));
    }
    await eventually(() => notices().length >= 3, "three notices");
    expect(notices().at(-1)).toEqual({ boot: 1, through: 6 });
    await link.send(samplesTopic, examplePack({ endS: t0 - 53, seq: 7 }));
    await eventually(() => notices().at(-1)?.through === 8, "the hole is filled");
  });

  it("passes over a hole that the node can no longer fill", async () => {
    const clock = new HandClock();
    const { link } = await startTestGateway({ clock });
    await link.send(samplesTopic, examplePack({ endS: t0, seq: 1 }));
    await link.send(samplesTopic, examplePack({ endS: t0 + 1, seq: 3 }));
    clock.goTo(t0 + 601);
    await link.send(samplesTopic, examplePack({ endS: t0 + 600, seq: 4 }));
    await eventually(
      () => link.published.some((one) => one.payload === '{"boot":1,"through":4}'),
      "the hole is passed over",
    );
  });

  it("goes on counting after a restart", async () => {
    const folder = temporaryFolder();
    const first = await startTestGateway({ folder });
    for (const seq of [1, 2, 3]) {
      await first.link.send(samplesTopic, examplePack({ endS: t0 + seq, seq }));
    }
    await first.stop();
    const second = await startTestGateway({ folder });
    await second.link.send(samplesTopic, examplePack({ endS: t0 + 4, seq: 4 }));
    await eventually(
      () => second.link.published.some((one) => one.payload === '{"boot":1,"through":4}'),
      "counting goes on",
    );
  });

  it("lets samples newer than a will override it, late ones not", async () => {
    const clock = new HandClock();
    const { link, gateway } = await startTestGateway({ clock });
    const state = () => gateway.registry.get("north", "n-07")?.state;
    await link.send(statusTopic, { state: "online", firmware: "1.0.0", boot: 1 });
    await link.send(samplesTopic, examplePack({ endS: t0, seq: 1 }));
    expect(state()).toBe("online");
    await link.send(statusTopic, { state: "offline", boot: 1 });
    expect(state()).toBe("offline");
    await link.send(samplesTopic, examplePack({ endS: t0 - 100, seq: 0 }));
    expect(state()).toBe("offline");
    clock.goTo(t0 + 10);
    await link.send(samplesTopic, examplePack({ endS: t0 + 9, seq: 2 }));
    expect(state()).toBe("online");
    expect(gateway.registry.get("north", "n-07")?.status?.firmware).toBe("1.0.0");
  });

  it("announces the time on the whole minute", async () => {
    const clock = new HandClock(t0 + 13);
    const { link, gateway } = await startTestGateway({ clock });
    await link.send("leeward/v1/south/n-01/samples", [line]);
    clock.goTo(t0 + 130);
    const times = link.published.filter((one) => one.topic.endsWith("/time"));
    expect(new Set(times.map((one) => one.topic))).toEqual(
      new Set(["leeward/v1/north/time", "leeward/v1/south/time"]),
    );
    expect(times.map((one) => (JSON.parse(one.payload) as { unix: number }).unix)).toEqual([
      t0 + 60,
      t0 + 60,
      t0 + 120,
      t0 + 120,
    ]);
    await gateway.ingest.tick();
  });

  it("sends a claimed node its ranges and limits, retained under its revision", async () => {
    const { link, gateway } = await startTestGateway();
    const station = exampleStation();
    await gateway.service.save(station, null);
    const config = link.published.find((one) => one.topic === "leeward/v1/north/n-07/config");
    expect(JSON.parse(config?.payload ?? "null")).toMatchObject({
      // Follows from the content: see the tests of node-configs.
      revision: nodeConfig({ station, supply: null }).revision,
      calibration: { cylinder: { rangePa: 250e5 }, line: { fitted: true, rangePa: 10e5 } },
      limits: { residualPa: 10e5, lineMostPa: 8e5 },
    });
  });
});

describe("refusing", () => {
  const bad: [
    string,
    string,
    string | Buffer | unknown[] | object,
    keyof typeof deadLetterReasons,
  ][] = [
    ["malformed JSON", samplesTopic, '[{"n":"line-pressure"', "not-json"],
    ["bytes that are no text", samplesTopic, Buffer.from([0xff, 0xfe, 0x00]), "not-json"],
    ["no SenML", samplesTopic, { hello: 1 }, "not-senml"],
    ["a later SenML", samplesTopic, [{ ...line, bver: 20 }], "senml-version"],
    ["an empty pack", samplesTopic, [], "empty-pack"],
    ["an unknown record", samplesTopic, [{ ...line, n: "gas-colour" }], "unknown-record"],
    ["a wrong unit", samplesTopic, [{ ...line, u: "psi" }], "wrong-unit"],
    ["a wrong type", samplesTopic, [{ n: "arc", v: 1 }], "wrong-type"],
    ["an impossible value", samplesTopic, [{ ...line, v: 1e12 }], "impossible-value"],
    ["a time from the future", samplesTopic, [{ ...line, t: t0 + 86_400 }], "impossible-time"],
    ["a time from long ago", samplesTopic, [{ ...line, t: t0 - 500 * 86_400 }], "impossible-time"],
    [
      "two boots in one",
      samplesTopic,
      [
        { n: "boot", v: 1 },
        { n: "boot", v: 2 },
      ],
      "contradictory-pack",
    ],
    [
      "another node's name",
      samplesTopic,
      [{ bn: "north/n-08:", ...line }],
      "base-name-contradicts-topic",
    ],
    ["an unknown topic", "leeward/v1/north/n-07/sample", [line], "unknown-topic"],
    ["a broken status", statusTopic, { state: "tired" }, "bad-status"],
    ["a broken reply", "leeward/v1/north/n-07/reply", { ok: "yes" }, "bad-reply"],
    ["a megabyte", samplesTopic, `[${" ".repeat(1_000_000)}]`, "payload-too-large"],
    ["one byte too many", samplesTopic, `[${" ".repeat(8191)}]`, "payload-too-large"],
  ];

  it.each(bad)(
    "puts %s to the dead letters, and goes on",
    async (_name, topic, payload, reason) => {
      const { gateway, store, link } = await startTestGateway();
      const bytes = Buffer.isBuffer(payload)
        ? payload
        : Buffer.from(typeof payload === "string" ? payload : JSON.stringify(payload));
      await gateway.ingest.message(topic, bytes);
      await link.send(samplesTopic, examplePack({ endS: t0, seq: 1 }));
      const letters = await store.deadLetters({ limit: 10 });
      expect(letters).toHaveLength(1);
      expect(letters[0]).toMatchObject({ reason, topic, bytes: bytes.byteLength });
      expect(letters[0]?.message).toContain(deadLetterReasons[reason]);
      expect(letters[0]?.payload.length).toBeLessThanOrEqual(2048);
      expect(await store.readLog({ afterId: 0, of: null, limit: 10 })).toHaveLength(1);
    },
  );

  it("keeps another board from speaking under a living node's name", async () => {
    const clock = new HandClock();
    const { link, store } = await startTestGateway({ clock });
    const from = (mac: string, t: number) => [{ bn: `urn:dev:mac:${mac}:`, ...line, t }];
    await link.send(samplesTopic, from("0024befffe804ff1", t0));
    await link.send(samplesTopic, from("0024befffe804ff2", t0));
    expect((await store.deadLetters({ limit: 9 })).map((one) => one.reason)).toEqual([
      "topic-claimed",
    ]);
    // A board that has been silent for ten minutes was exchanged.
    clock.goTo(t0 + 700);
    await link.send(samplesTopic, from("0024befffe804ff2", t0 + 700));
    expect(await store.deadLetters({ limit: 9 })).toHaveLength(1);
    const journal = await store.journal({ from: 0, to: t0 + 800, limit: 9 });
    expect(journal.map((entry) => entry.kind)).toContain("board-changed");
  });

  it("takes a pack of exactly 8 KiB", async () => {
    const { gateway, store } = await startTestGateway();
    const text = JSON.stringify([line]);
    const padded = text.replace("[", `[${" ".repeat(8192 - text.length)}`);
    expect(Buffer.byteLength(padded)).toBe(8192);
    await gateway.ingest.message(samplesTopic, Buffer.from(padded));
    expect(await store.deadLetterCount()).toBe(0);
  });

  it("covers every reason but those of the fast demo and of replayed person lines here", () => {
    const elsewhere = ["topic-claimed", "demo-speed", "bad-person"];
    const covered = new Set([...bad.map((one) => one[3]), ...elsewhere]);
    expect([...covered].sort()).toEqual(Object.keys(deadLetterReasons).sort());
  });
});
