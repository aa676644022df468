import { connectAsync } from "mqtt";
import { expect, test } from "vitest";
import { EmbeddedBroker } from "../../../gateway/broker/embedded-broker.ts";
import { Gateway } from "../../../gateway/run/gateway.ts";
import { openSqliteStore } from "../../../gateway/store/open-sqlite.ts";
import { settingsFor } from "../notify/notify-bench.ts";
import { startWebhookReceiver } from "../notify/receivers.ts";
import {
  eventually,
  examplePack,
  exampleStation,
  HandClock,
  quietLog,
  realEngines,
  samplesTopic,
  statusTopic,
  t0,
  temporaryFolder,
  whenOver,
} from "../support.ts";

const secret = "a-secret-of-this-test-only";

/** A gateway on its own broker and store, a node that speaks MQTT with it, and a clock set by hand. */
async function shop(folder = temporaryFolder(), startS = t0) {
  const clock = new HandClock(startS);
  const store = await openSqliteStore(`${folder}/leeward.sqlite`);
  const gateway = new Gateway({
    store,
    clock,
    log: quietLog,
    factory: realEngines,
    site: "north",
    timeZone: "Europe/Copenhagen",
    retention: { rawDays: 14, minuteDays: 400 },
  });
  await gateway.open();
  await gateway.restore();
  const broker = await EmbeddedBroker.open({
    dataDir: folder,
    host: "127.0.0.1",
    port: 0,
    searchPort: false,
  });
  await gateway.serve(broker);
  let open = true;
  const stop = async () => {
    if (!open) return;
    open = false;
    await node.endAsync(true);
    await broker.stop();
    await gateway.stop();
    await store.close();
  };
  const node = await connectAsync(broker.url, { protocolVersion: 4, reconnectPeriod: 0 });
  node.on("error", () => undefined);
  whenOver(stop);
  if (gateway.directory.stations().length === 0) {
    await gateway.service.save(exampleStation({ name: "Slipway 2" }), null);
  }
  const goTo = async (at: number) => {
    for (let nowS = clock.nowS() + 1; nowS <= t0 + at; nowS++) {
      clock.goTo(nowS);
      // A tick goes through the queue of what is received.
      await gateway.ingest.between(() => Promise.resolve());
    }
  };
  let seq = startS;
  return {
    gateway,
    store,
    stop,
    goTo,
    send: (topic: string, payload: unknown) =>
      node.publishAsync(topic, JSON.stringify(payload), { qos: 1 }),
    /** Packs of a node whose clock is `aheadS` ahead, every 2 s up to `t0 + until`. */
    async packs(until: number, aheadS = 0): Promise<void> {
      while (clock.nowS() + 2 <= t0 + until) {
        await goTo(clock.nowS() + 2 - t0);
        const pack = examplePack({ endS: clock.nowS() + aheadS, seq: ++seq });
        await node.publishAsync(samplesTopic, JSON.stringify(pack), { qos: 1 });
      }
    },
    alarms: () =>
      gateway.alarms.lifeCycle
        .list()
        .map(({ condition, shown, priority }) => `${condition} ${shown} ${priority}`),
    seen: () =>
      gateway.service
        .view(gateway.directory.station("north.bay-3")!)
        .estimate?.alarms.map(({ condition }) => condition),
  };
}

test("a node 17 minutes ahead is told at once, in the place of its silence, and delivered", async () => {
  const bench = await shop();
  const hook = await startWebhookReceiver(secret);
  await bench.gateway.alarms.notifier.saveSettings(
    settingsFor([{ kind: "webhook", url: hook.url, secret }], {
      chains: [
        { priorities: ["high", "medium", "low"], steps: [{ afterS: 0, contacts: ["foreman"] }] },
      ],
    }),
  );
  await bench.packs(20);
  expect(bench.alarms()).toEqual([]);
  await bench.packs(22, 1020);
  expect(bench.alarms()).toEqual(["node-clock-wrong unacknowledged medium"]);
  expect(bench.seen()).toEqual(["node-clock-wrong"]);
  // Long after the engine, which hears nothing, took the node for silent.
  await bench.packs(300, 1020);
  expect(bench.gateway.sink.latestAlarms("north.bay-3").map((one) => one.condition)).toEqual([
    "node-silent",
  ]);
  expect(bench.alarms()).toEqual(["node-clock-wrong unacknowledged medium"]);
  expect(bench.seen()).toEqual(["node-clock-wrong"]);
  const { event } = await eventually(() => hook.received[0], "the message");
  expect(event).toMatchObject({
    data: {
      condition: "node-clock-wrong",
      line: expect.stringMatching(/^Slipway 2: The node's clock is 17 min ahead: its readings/),
    },
  });
  // Right again: gone after its off-delay, and no silence comes in its place.
  await bench.packs(330);
  expect(bench.alarms()).toEqual(["node-clock-wrong unacknowledged medium"]);
  await bench.packs(400);
  expect(bench.alarms()).toEqual(["node-clock-wrong returned-unacknowledged medium"]);
  expect(bench.seen()).toEqual([]);
  expect(hook.received).toHaveLength(1);
}, 60_000);

test("a silent node that comes back with a wrong clock: the clock explains the silence", async () => {
  const bench = await shop();
  await bench.packs(10);
  await bench.send(statusTopic, { state: "offline", boot: 1 });
  await bench.goTo(240);
  expect(bench.alarms()).toEqual(["node-silent unacknowledged medium"]);
  await bench.packs(242, 4000);
  expect(bench.alarms().sort()).toEqual([
    "node-clock-wrong unacknowledged medium",
    "node-silent suppressed-by-design medium",
  ]);
  // Not a word any more: the silence speaks again, and hides what nobody can judge.
  await bench.goTo(242 + 700);
  expect(bench.alarms().sort()).toEqual([
    "node-clock-wrong suppressed-by-design medium",
    "node-silent unacknowledged medium",
  ]);
}, 60_000);

test("it stands over a restart of the gateway, until the node had time to be heard", async () => {
  const folder = temporaryFolder();
  const first = await shop(folder);
  await first.packs(10);
  await first.packs(200, 1020);
  await first.stop();
  const second = await shop(folder, t0 + 210);
  await second.goTo(260);
  expect(second.alarms()).toEqual(["node-clock-wrong unacknowledged medium"]);
  await second.goTo(210 + 700);
  expect(second.alarms().sort()).toEqual([
    "node-clock-wrong suppressed-by-design medium",
    "node-silent unacknowledged medium",
  ]);
}, 60_000);
