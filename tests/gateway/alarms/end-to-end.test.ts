import { describe, expect, test } from "vitest";
import { settingsFor } from "../notify/notify-bench.ts";
import { startWebhookReceiver } from "../notify/receivers.ts";
import {
  eventually,
  examplePack,
  exampleStation,
  HandClock,
  samplesTopic,
  startTestGateway,
  statusTopic,
  type TestGateway,
  t0,
  temporaryFolder,
} from "../support.ts";

const secret = "a-secret-of-this-test-only";

/** From a node's message, through the real engine, to what people get. */
async function shop(folder = temporaryFolder(), startS = t0) {
  const bench = await startTestGateway({ folder, clock: new HandClock(startS) });
  const { gateway, link, clock } = bench;
  let seq = startS - t0;
  if (gateway.directory.stations().length === 0) {
    await gateway.service.save(exampleStation({ name: "Slipway 2" }), null);
  }
  return {
    ...bench,
    /** Two seconds of samples that end at `t0 + at`, with more records on top. */
    async pack(at: number, more: Record<string, unknown>[] = []): Promise<void> {
      clock.goTo(t0 + at);
      await link.send(samplesTopic, [...examplePack({ endS: t0 + at, seq: ++seq }), ...more]);
    },
    /** Two seconds of samples that ended at `t0 + at`, heard now. */
    async late(at: number, more: Record<string, unknown>[] = []): Promise<void> {
      await link.send(samplesTopic, [...examplePack({ endS: t0 + at, seq: ++seq }), ...more]);
    },
    conditions: () => gateway.alarms.lifeCycle.list().map((one) => `${one.condition} ${one.shown}`),
  };
}

async function withHook(bench: TestGateway) {
  const hook = await startWebhookReceiver(secret);
  await bench.gateway.alarms.notifier.saveSettings(
    settingsFor([{ kind: "webhook", url: hook.url, secret }], {
      chains: [
        { priorities: ["high", "medium", "low"], steps: [{ afterS: 0, contacts: ["foreman"] }] },
      ],
    }),
  );
  return hook;
}

/** What the node kept while nobody heard it: a broken wire from 12 s to 40 s, or to the end. */
async function heardLate(bench: Awaited<ReturnType<typeof shop>>, healed: boolean): Promise<void> {
  for (let at = 2; at <= 10; at += 2) await bench.pack(at);
  bench.clock.goTo(t0 + 1800);
  // A fault fades 2.5 min after the last pack that names it, and its alarm a minute later.
  for (let at = 12; at <= 320; at += 2) {
    await bench.late(at, at <= 40 || !healed ? [openCircuit] : []);
  }
  for (let at = 1802; at <= 1840; at += 2) await bench.pack(at, healed ? [] : [openCircuit]);
}

/** Some 8 L/min out of 50 L. */
const drawn = (t: number) => 150e5 - 270 * (t - t0);
const openCircuit = { n: "line-pressure/fault", vs: "open-circuit" };

describe("from the node to the phone", () => {
  test("a sensor fault within 5 s of samples, and its message within 2 s of that", async () => {
    const bench = await shop();
    const hook = await withHook(bench);
    for (let at = 2; at <= 10; at += 2) await bench.pack(at);
    expect(bench.conditions()).toEqual([]);
    for (let at = 12; at <= 18 && bench.conditions().length === 0; at += 2) {
      await bench.pack(at, [openCircuit]);
    }
    expect(bench.conditions()).toEqual(["sensor-fault unacknowledged"]);
    const rungS = bench.clock.nowS();
    expect(rungS - (t0 + 12)).toBeLessThanOrEqual(5);
    // Equipment waits 20 s in case it comes back by itself.
    await bench.gateway.alarms.lifeCycle.settled();
    for (let at = 20; at <= 40; at += 2) await bench.pack(at, [openCircuit]);
    const { event } = await eventually(() => hook.received[0], "the message");
    // By the gateway's clock, which is moved by hand: a busy machine takes longer for the same work.
    const [row] = await bench.store.outbox.list({ limit: 1 });
    expect((row?.due ?? Number.NaN) - (rungS + 20)).toBeLessThanOrEqual(2);
    expect(event).toMatchObject({
      subject: "north.bay-3",
      data: {
        condition: "sensor-fault",
        line: expect.stringContaining("Slipway 2: Sensor fault: line pressure sensor: broken wire"),
      },
    });
  });
  test("what one person does to an alarm is told to every open browser", async () => {
    const bench = await shop();
    const told: string[] = [];
    bench.gateway.bus.on("alarm", ({ id, alarms, changed }) => {
      for (const one of changed ?? []) {
        told.push(`${id} ${one.condition} ${one.state} ${alarms.map((a) => a.condition)}`);
      }
    });
    for (let at = 2; at <= 40; at += 2) await bench.pack(at, at > 8 ? [openCircuit] : []);
    const { lifeCycle } = bench.gateway.alarms;
    const { id } = lifeCycle.list()[0]!;
    told.length = 0;
    await lifeCycle.acknowledge(id, "Ada", "", t0 + 41);
    await lifeCycle.shelve(id, { by: "Ada", note: "", minutes: 5 }, t0 + 42);
    await lifeCycle.unshelve(id, "Ben", t0 + 43);
    expect(told).toEqual([
      "north.bay-3 sensor-fault acknowledged sensor-fault",
      "north.bay-3 sensor-fault shelved sensor-fault",
      "north.bay-3 sensor-fault unacknowledged sensor-fault",
    ]);
  });
  test("a node that falls silent, and comes back", async () => {
    const bench = await shop();
    for (let at = 2; at <= 10; at += 2) await bench.pack(at);
    await bench.link.send(statusTopic, { state: "offline", boot: 1 });
    // At once: not three times its pace later.
    bench.clock.goTo(t0 + 11);
    await eventually(() => bench.conditions().length > 0, "the alarm of the silence");
    expect(bench.conditions()).toEqual(["node-silent unacknowledged"]);
    await bench.link.send(statusTopic, { state: "online", firmware: "1.0.0", boot: 1, config: 1 });
    for (let at = 250; at <= 280; at += 2) await bench.pack(at);
    expect(bench.conditions()).toEqual(["node-silent returned-unacknowledged"]);
  });
  // Two hours in which the gateway did not run, or its machine slept.
  const awayS = 7200;
  test.each(["did not run", "slept"])(
    "a node whose silence came due while the gateway %s: three minutes to come back, then it rings, with its own times",
    async (why) => {
      const folder = temporaryFolder();
      const first = await shop(folder);
      const hook = await withHook(first);
      for (let at = 2; at <= 10; at += 2) await first.pack(at);
      if (why === "did not run") await first.stop();
      const { clock, gateway, store, conditions } =
        why === "slept" ? first : await shop(folder, t0 + awayS);
      if (why === "slept") clock.leapTo(t0 + awayS);
      const goTo = async (at: number) => {
        clock.goTo(t0 + awayS + at);
        // A tick goes through the queue of what is received.
        await gateway.ingest.between(() => Promise.resolve());
        clock.goTo(t0 + awayS + at + 5);
        await gateway.alarms.lifeCycle.settled();
      };
      await goTo(170);
      expect(conditions()).toEqual([]);
      await goTo(185);
      expect(conditions()).toEqual(["node-silent unacknowledged"]);
      const [standing] = gateway.alarms.lifeCycle.list();
      // Packs came every 2 s up to 10 s; three times the pace of an idle node's later it came due.
      expect(standing!.since).toBe(t0 + 10);
      expect(standing!.late).toBe(false);
      expect(Math.abs(standing!.rang! - (t0 + awayS + 185))).toBeLessThanOrEqual(10);
      const journal = await store.alarms.journal({ from: 0, to: 4e9, limit: 100 });
      const [raised, rang] = journal.reverse();
      expect(raised).toMatchObject({ kind: "raised", condition: "node-silent" });
      expect(Math.abs(raised!.t - (t0 + 190))).toBeLessThanOrEqual(2);
      expect(raised!.recorded).toBeGreaterThanOrEqual(t0 + awayS + 170);
      expect(rang).toMatchObject({ kind: "rang", t: standing!.rang });
      await goTo(230);
      const { event } = await eventually(() => hook.received[0], "its message");
      expect(event).toMatchObject({ data: { condition: "node-silent" } });
    },
  );
  test("a node that comes back within three minutes of the gateway rings nothing", async () => {
    const folder = temporaryFolder();
    const first = await shop(folder);
    const hook = await withHook(first);
    for (let at = 2; at <= 10; at += 2) await first.pack(at);
    await first.stop();
    const second = await shop(folder, t0 + awayS);
    second.clock.goTo(t0 + awayS + 150);
    for (let at = awayS + 152; at <= awayS + 300; at += 2) await second.pack(at);
    expect(second.conditions()).toEqual([]);
    await second.gateway.alarms.lifeCycle.settled();
    const journal = await second.store.alarms.journal({ from: 0, to: 4e9, limit: 100 });
    expect(journal.reverse().map(({ kind }) => kind)).toEqual(["raised", "found-afterwards"]);
    expect(await second.store.outbox.list({ limit: 10 })).toEqual([]);
    expect(hook.received).toEqual([]);
  });
  test("a fault that only late packs show is found afterwards: in the journal, and nobody is rung", async () => {
    const bench = await shop();
    const hook = await withHook(bench);
    await heardLate(bench, true);
    expect(bench.conditions().filter((one) => one.startsWith("sensor-fault"))).toEqual([]);
    await bench.gateway.alarms.lifeCycle.settled();
    const journal = await bench.store.alarms.journal({ from: 0, to: 4e9, limit: 100 });
    const fault = journal.filter(({ condition }) => condition === "sensor-fault").reverse();
    expect(fault.map(({ kind }) => kind)).toEqual(["raised", "found-afterwards"]);
    const outbox = await bench.store.outbox.list({ limit: 50 });
    expect(outbox.map(({ message }) => message.condition)).not.toContain("sensor-fault");
    bench.clock.goTo(t0 + 1900);
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(JSON.stringify(hook.received.map(({ event }) => event))).not.toContain("sensor-fault");
  });
  test("a fault that late packs show and that still holds rings", async () => {
    const bench = await shop();
    const hook = await withHook(bench);
    await heardLate(bench, false);
    expect(bench.conditions()).toContain("sensor-fault unacknowledged");
    bench.clock.goTo(t0 + 1900);
    await eventually(
      () => hook.received.some(({ event }) => JSON.stringify(event).includes("sensor-fault")),
      "its message",
    );
  });
  for (const behindS of [300, 3600]) {
    test(`a node whose clock is ${behindS} s behind rings, and its clock is told`, async () => {
      const bench = await shop();
      const hook = await withHook(bench);
      let seq = 0;
      for (let at = 2; at <= 600; at += 2) {
        bench.clock.goTo(t0 + at);
        const endS = t0 + at - behindS;
        const pack = examplePack({ endS, seq: ++seq, cylinderPa: drawn });
        await bench.link.send(samplesTopic, [...pack, ...(at > 500 ? [openCircuit] : [])]);
      }
      const rang = bench.gateway.alarms.lifeCycle
        .list()
        .filter(({ rang }) => rang !== null)
        .map(({ condition }) => condition);
      expect(rang.sort()).toEqual(["node-clock-wrong", "sensor-fault"]);
      await eventually(
        () => hook.received.some(({ event }) => JSON.stringify(event).includes("sensor-fault")),
        "its message",
      );
    });
  }
  test("what waited at a node whose clock is behind is found afterwards all the same", async () => {
    const bench = await shop();
    const behindS = 3600;
    let seq = 0;
    const send = async (endS: number, faulty: boolean) => {
      const pack = examplePack({ endS: endS - behindS, seq: ++seq, cylinderPa: drawn });
      await bench.link.send(samplesTopic, [...pack, ...(faulty ? [openCircuit] : [])]);
    };
    for (let at = 2; at <= 500; at += 2) {
      bench.clock.goTo(t0 + at);
      await send(t0 + at, false);
    }
    // The link is down for half an hour; a wire breaks meanwhile, and is mended.
    bench.clock.goTo(t0 + 2300);
    for (let at = 502; at <= 900; at += 2) await send(t0 + at, at > 520 && at < 560);
    for (let at = 2302; at <= 2340; at += 2) {
      bench.clock.goTo(t0 + at);
      await send(t0 + at, false);
    }
    await bench.gateway.alarms.lifeCycle.settled();
    const journal = await bench.store.alarms.journal({ from: 0, to: 4e9, limit: 100 });
    const fault = journal.filter(({ condition }) => condition === "sensor-fault").reverse();
    expect(fault.map(({ kind }) => kind)).toEqual(["raised", "found-afterwards"]);
  });
  test("killed and started again: the same alarm, acknowledged as it was, and no second message", async () => {
    const folder = temporaryFolder();
    const first = await shop(folder);
    const hook = await withHook(first);
    for (let at = 2; at <= 40; at += 2) await first.pack(at, at > 8 ? [openCircuit] : []);
    await eventually(() => hook.received[0], "the message");
    const { id } = first.gateway.alarms.lifeCycle.list()[0]!;
    await first.gateway.alarms.lifeCycle.acknowledge(id, "Ada", "", t0 + 40);
    await eventually(
      async () => (await first.store.outbox.list({ limit: 1 }))[0]?.state === "delivered",
      "its note in the outbox",
    );
    await first.crash();
    const second = await shop(folder);
    expect(second.gateway.alarms.lifeCycle.list()).toMatchObject([
      { id, shown: "acknowledged", acknowledgedBy: "Ada" },
    ]);
    second.clock.goTo(t0 + 42);
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(hook.received).toHaveLength(1);
  });
});
