import { connectAsync, type MqttClient } from "mqtt";
import { describe, expect, it } from "vitest";
import { EmbeddedBroker } from "../../../gateway/broker/embedded-broker.ts";
import type { MessageLink } from "../../../gateway/broker/link.ts";
import { SiteSession } from "../../../gateway/broker/site-session.ts";
import { PortTakenError } from "../../../gateway/listen.ts";
import { startMosquitto } from "../../end-to-end/mosquitto.ts";
import { eventually, quietLog, samplesTopic, temporaryFolder, whenOver } from "../support.ts";

/** Takes messages and keeps each waiting until told. */
class HeldMessages {
  readonly got: { topic: string; text: string; store: () => void; fail: () => void }[] = [];

  readonly take = (topic: string, payload: Uint8Array): Promise<void> =>
    new Promise((resolve, reject) => {
      this.got.push({
        topic,
        text: Buffer.from(payload).toString(),
        store: resolve,
        fail: () => reject(new Error("no room")),
      });
    });
}

async function client(url: string, clientId?: string): Promise<MqttClient> {
  const connected = await connectAsync(url, {
    protocolVersion: 4,
    reconnectPeriod: 0,
    ...(clientId === undefined ? {} : { clientId }),
  });
  connected.on("error", () => undefined);
  whenOver(() => connected.end(true));
  return connected;
}

async function embedded(folder = temporaryFolder()): Promise<EmbeddedBroker> {
  const broker = await EmbeddedBroker.open({
    dataDir: folder,
    host: "127.0.0.1",
    port: 0,
    searchPort: false,
  });
  whenOver(() => broker.stop());
  return broker;
}

describe("the embedded broker", () => {
  it("acknowledges a node's message only when it is stored", async () => {
    const broker = await embedded();
    const held = new HeldMessages();
    await broker.start(held.take);
    const node = await client(broker.url);
    let acknowledged = 0;
    for (const text of ["1", "2", "3"]) {
      node.publish(samplesTopic, text, { qos: 1 }, (error) => {
        if (!error) acknowledged++;
      });
    }
    await eventually(() => held.got.length === 3, "three messages wait together");
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(acknowledged).toBe(0);
    for (const one of held.got) one.store();
    await eventually(() => acknowledged === 3, "all are acknowledged");
    expect(held.got.map((one) => one.text)).toEqual(["1", "2", "3"]);
  });

  it("lets go of a node whose message could not be stored, so that it sends again", async () => {
    const broker = await embedded();
    const held = new HeldMessages();
    await broker.start(held.take);
    const node = await client(broker.url);
    let closed = false;
    node.on("close", () => {
      closed = true;
    });
    node.publish(samplesTopic, "1", { qos: 1 });
    await eventually(() => held.got.length === 1, "it arrives");
    held.got[0]?.fail();
    await eventually(() => closed, "the connection ends unacknowledged");
  });

  it("keeps what comes before the gateway is ready waiting", async () => {
    const broker = await embedded();
    const node = await client(broker.url);
    let acknowledged = false;
    node.publish(samplesTopic, "early", { qos: 1 }, () => {
      acknowledged = true;
    });
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(acknowledged).toBe(false);
    const held = new HeldMessages();
    await broker.start(held.take);
    await eventually(() => held.got.length === 1, "it is handed over");
    held.got[0]?.store();
    await eventually(() => acknowledged, "and acknowledged");
  });

  it("takes last wills, and keeps retained messages over a restart", async () => {
    const folder = temporaryFolder();
    const first = await EmbeddedBroker.open({
      dataDir: folder,
      host: "127.0.0.1",
      port: 0,
      searchPort: false,
    });
    const got: string[] = [];
    await first.start((topic, payload) => {
      got.push(`${topic} ${Buffer.from(payload).toString()}`);
      return Promise.resolve();
    });
    const node = await connectAsync(first.url, {
      reconnectPeriod: 0,
      will: {
        topic: "leeward/v1/north/n-07/status",
        payload: Buffer.from('{"state":"offline","boot":1}'),
        qos: 1,
        retain: true,
      },
    });
    node.on("error", () => undefined);
    node.stream.destroy();
    await eventually(() => got.length === 1, "the will");
    expect(got[0]).toBe('leeward/v1/north/n-07/status {"state":"offline","boot":1}');
    await first.publish("leeward/v1/north/n-07/config", '{"revision":1}', { qos: 1, retain: true });
    node.end(true);
    await first.stop();
    const second = await embedded(folder);
    const reader = await client(second.url);
    const retained: string[] = [];
    reader.on("message", (topic, payload) => retained.push(`${topic} ${payload.toString()}`));
    await reader.subscribeAsync("leeward/v1/north/n-07/+");
    await eventually(() => retained.length === 2, "both retained messages");
    expect(retained.sort()).toEqual([
      'leeward/v1/north/n-07/config {"revision":1}',
      'leeward/v1/north/n-07/status {"state":"offline","boot":1}',
    ]);
  });

  it("passes messages on to whoever has subscribed", async () => {
    const broker = await embedded();
    await broker.start(() => Promise.resolve());
    const reader = await client(broker.url);
    const read: string[] = [];
    reader.on("message", (_topic, payload) => read.push(payload.toString()));
    await reader.subscribeAsync("leeward/v1/#", { qos: 1 });
    const node = await client(broker.url);
    await node.publishAsync(samplesTopic, "x", { qos: 1 });
    await eventually(() => read.length === 1, "it is passed on");
  });

  it("says which port is taken", async () => {
    const first = await embedded();
    const port = Number(new URL(first.url).port);
    const second = EmbeddedBroker.open({
      dataDir: temporaryFolder(),
      host: "127.0.0.1",
      port,
      searchPort: false,
    });
    await expect(second).rejects.toThrow(PortTakenError);
    const searching = await EmbeddedBroker.open({
      dataDir: temporaryFolder(),
      host: "127.0.0.1",
      port,
      searchPort: true,
    });
    whenOver(() => searching.stop());
    expect(Number(new URL(searching.url).port)).toBeGreaterThan(port);
  });
});

describe("the site's session at Debian's mosquitto", () => {
  const session = async (url: string, take: HeldMessages["take"]): Promise<MessageLink> => {
    const link = new SiteSession({ url, sites: ["north"], log: quietLog });
    await link.start(take);
    whenOver(() => link.stop());
    await eventually(() => link.connected, "connected");
    return link;
  };

  it("lets many messages await one commit, and acknowledges when they are stored", async () => {
    const mosquitto = await startMosquitto();
    const held = new HeldMessages();
    const link = await session(mosquitto.url, held.take);
    const node = await client(mosquitto.url);
    // Subscribing is under way when the session begins.
    await eventually(async () => {
      await node.publishAsync(samplesTopic, "probe", { qos: 1 });
      return held.got.length > 0;
    }, "the session hears");
    for (const one of held.got.splice(0)) one.store();
    for (let index = 0; index < 50; index++) {
      await node.publishAsync(samplesTopic, String(index), { qos: 1 });
    }
    // mosquitto sends 20 without acknowledgment; so many wait together.
    await eventually(() => held.got.length >= 20, "twenty wait together");
    expect(held.got.length).toBe(20);
    let done = 0;
    while (done < 50) {
      await eventually(() => held.got.length > done, "more comes");
      for (const one of held.got.slice(done)) one.store();
      done = held.got.length;
    }
    expect(held.got.map((one) => Number(one.text))).toEqual(
      Array.from({ length: 50 }, (_, i) => i),
    );
    expect(link.connected).toBe(true);
  });

  it("gets again what it had not acknowledged, and what came while it was away", async () => {
    const mosquitto = await startMosquitto();
    const first = new HeldMessages();
    const link = new SiteSession({ url: mosquitto.url, sites: ["north"], log: quietLog });
    await link.start(first.take);
    const node = await client(mosquitto.url);
    await eventually(async () => {
      await node.publishAsync(samplesTopic, "a", { qos: 1 });
      return first.got.length > 0;
    }, "the session hears");
    const sent = first.got.map((one) => one.text);
    await link.stop();
    await node.publishAsync(samplesTopic, "b", { qos: 1 });
    const second = new HeldMessages();
    await session(mosquitto.url, second.take);
    await eventually(() => second.got.length >= sent.length + 1, "both come again");
    expect(second.got.map((one) => one.text)).toEqual([...sent, "b"]);
  });

  it("comes back when the broker does", async () => {
    const folder = temporaryFolder();
    const mosquitto = await startMosquitto({ folder });
    const held = new HeldMessages();
    const link = await session(mosquitto.url, held.take);
    await mosquitto.kill();
    await eventually(() => !link.connected, "it notices");
    await startMosquitto({ folder, port: mosquitto.port });
    await eventually(() => link.connected, "it is back");
    const node = await client(mosquitto.url);
    await eventually(async () => {
      await node.publishAsync(samplesTopic, "x", { qos: 1 });
      return held.got.length > 0;
    }, "and hears");
  });
});
