import { connectAsync, type IClientOptions, type MqttClient } from "mqtt";
import { describe, expect, it } from "vitest";
import { EmbeddedBroker } from "../../../gateway/broker/embedded-broker.ts";
import { Enrolment } from "../../../gateway/nodes/enrolment.ts";
import { NodeAccess } from "../../../gateway/nodes/node-access.ts";
import type { GatewayStore } from "../../../gateway/store/store.ts";
import { eventually, HandClock, openStore, t0, temporaryFolder, whenOver } from "../support.ts";

interface Guarded {
  url: string;
  store: GatewayStore;
  enrolment: Enrolment;
  access: NodeAccess;
  broker: EmbeddedBroker;
  /** `<topic> <payload>` of what reached the gateway. */
  taken: string[];
}

async function guarded(required = true): Promise<Guarded> {
  const store = await openStore();
  const access = new NodeAccess({
    store: store.enrolments,
    clock: new HandClock(),
    required,
    demoSite: "boatyard",
  });
  const broker = await EmbeddedBroker.open({
    dataDir: temporaryFolder(),
    host: "127.0.0.1",
    port: 0,
    searchPort: false,
    access,
  });
  whenOver(() => broker.stop());
  const taken: string[] = [];
  await broker.start(async (topic, payload) => {
    taken.push(`${topic} ${Buffer.from(payload).toString()}`);
  });
  const enrolment = new Enrolment(store.enrolments);
  return { url: broker.url, store, enrolment, access, broker, taken };
}

async function enrolled(
  one: Guarded,
  node: string,
): Promise<{ username: string; password: string }> {
  const made = await one.enrolment.enrol("north", node, true, t0);
  if (!made.ok) throw new Error(made.message);
  return { username: made.credentials.user, password: made.credentials.secret };
}

async function login(url: string, options: IClientOptions = {}): Promise<MqttClient> {
  const client = await connectAsync(url, { protocolVersion: 4, reconnectPeriod: 0, ...options });
  client.on("error", () => undefined);
  whenOver(() => client.end(true));
  return client;
}

function closed(client: MqttClient): () => boolean {
  let is = false;
  client.on("close", () => {
    is = true;
  });
  return () => is;
}

describe("a broker that asks for credentials", () => {
  it("refuses who has none, wrong ones, or another's", async () => {
    const one = await guarded();
    const { username, password } = await enrolled(one, "n-07");
    const other = await enrolled(one, "n-08");
    for (const options of [
      {},
      { username },
      { username, password: other.password },
      { username: "north/n-99", password },
      { username: "owner", password },
      { username: "north/n-07/x", password },
      { username: "virtual-stations", password: "" },
    ]) {
      await expect(login(one.url, options)).rejects.toThrow(/not authorized/i);
    }
    expect((await login(one.url, { username, password })).connected).toBe(true);
    const typed = password.toLowerCase().replace(/(.{4})/g, "$1-");
    expect((await login(one.url, { username, password: typed })).connected).toBe(true);
    expect((await one.store.enrolments.get("north", "n-07"))?.lastLoginS).toBe(t0);
    expect((await one.store.enrolments.get("north", "n-08"))?.lastLoginS).toBeNull();
  });

  it("lets a node speak for itself alone", async () => {
    const one = await guarded();
    const node = await login(one.url, await enrolled(one, "n-07"));
    await node.publishAsync("leeward/v1/north/n-07/samples", "mine", { qos: 1 });
    expect(one.taken).toEqual(["leeward/v1/north/n-07/samples mine"]);
    for (const topic of [
      "leeward/v1/north/n-08/samples",
      "leeward/v1/south/n-07/status",
      "leeward/v1/north/n-07/config",
      "leeward/v1/north/n-07/stored",
      "leeward/v1/north/time",
      "leeward/v1/north/n-07/samples/more",
      "elsewhere",
    ]) {
      const client = await login(one.url, await enrolled(one, "n-07"));
      const gone = closed(client);
      client.publish(topic, "not mine", { qos: 1 });
      await eventually(gone, `publishing on ${topic} ends the connection`);
    }
    expect(one.taken).toHaveLength(1);
  });

  it("lets a node hear what is meant for it", async () => {
    const one = await guarded();
    const node = await login(one.url, await enrolled(one, "n-07"));
    const own = [
      "leeward/v1/north/n-07/config",
      "leeward/v1/north/n-07/#",
      "leeward/v1/north/time",
    ];
    const foreign = [
      "#",
      "leeward/v1/#",
      "leeward/v1/+/n-07/config",
      "leeward/v1/north/+/config",
      "leeward/v1/north/n-08/command",
      "leeward/v1/south/time",
      "$SYS/#",
    ];
    for (const topic of own) {
      expect((await node.subscribeAsync(topic, { qos: 1 }))[0]?.qos).toBe(1);
    }
    for (const topic of foreign) {
      await expect(node.subscribeAsync(topic, { qos: 1 })).rejects.toThrow(/Subscribe error/);
    }
    const heard: string[] = [];
    node.on("message", (topic) => heard.push(topic));
    await one.broker.publish("leeward/v1/north/n-08/command", "{}", { qos: 1 });
    await one.broker.publish("leeward/v1/north/n-07/command", "{}", { qos: 1 });
    await eventually(() => heard.length > 0, "its own command");
    expect(heard).toEqual(["leeward/v1/north/n-07/command"]);
  });

  it("takes a node's will for itself, none for another", async () => {
    const one = await guarded();
    const die = async (topic: string) => {
      const client = await login(one.url, {
        ...(await enrolled(one, "n-07")),
        will: { topic, payload: Buffer.from("gone"), qos: 1, retain: true },
      });
      client.stream.destroy();
    };
    await die("leeward/v1/north/n-08/status");
    await die("leeward/v1/north/n-07/status");
    await eventually(() => one.taken.length > 0, "its own will");
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(one.taken).toEqual(["leeward/v1/north/n-07/status gone"]);
  });

  it("keeps client ids apart by user: nobody inherits another's session or throws it out", async () => {
    const one = await guarded();
    const first = await enrolled(one, "n-07");
    const second = await enrolled(one, "n-08");
    const node = await login(one.url, { ...first, clientId: "same", clean: false });
    await node.subscribeAsync("leeward/v1/north/n-07/command", { qos: 1 });
    const gone = closed(node);
    const other = await login(one.url, { ...second, clientId: "same", clean: false });
    const heard: string[] = [];
    other.on("message", (topic) => heard.push(topic));
    await one.broker.publish("leeward/v1/north/n-07/command", "{}", { qos: 1 });
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(gone()).toBe(false);
    expect(heard).toEqual([]);
  });

  it.each(["revoked", "issued again"])("cuts a node off whose credentials are %s", async (how) => {
    const one = await guarded();
    const login1 = await enrolled(one, "n-07");
    const bystander = await login(one.url, await enrolled(one, "n-08"));
    const node = await login(one.url, login1);
    const gone = closed(node);
    if (how === "revoked") expect((await one.enrolment.revoke("north", "n-07", t0)).ok).toBe(true);
    else await enrolled(one, "n-07");
    await eventually(gone, "it is cut off within seconds", 6000);
    await expect(login(one.url, login1)).rejects.toThrow(/not authorized/i);
    expect(bystander.connected).toBe(true);
  });

  it("lets the owner hear everything and command, and the demo play its own site", async () => {
    const one = await guarded();
    const key = await one.enrolment.makeOwner();
    const owner = await login(one.url, { username: "owner", password: key });
    const heard: string[] = [];
    owner.on("message", (topic) => heard.push(topic));
    await owner.subscribeAsync("leeward/#", { qos: 1 });
    await owner.publishAsync("leeward/v1/north/n-07/command", "{}", { qos: 1 });
    const { username, password } = one.access.demo;
    const demo = await login(one.url, { username, password });
    await demo.publishAsync("leeward/v1/boatyard/v-1/status", "x", { qos: 1 });
    await eventually(() => heard.length === 2, "a command and a virtual node's status");
    const gone = closed(demo);
    demo.publish("leeward/v1/north/n-07/status", "x", { qos: 1 });
    await eventually(gone, "but not another site's");
  });
});

describe("a broker for this machine alone", () => {
  it("lets anybody in without a name, and holds who gives one to it", async () => {
    const one = await guarded(false);
    const anyone = await login(one.url);
    await anyone.publishAsync("leeward/v1/north/n-99/samples", "x", { qos: 1 });
    expect(one.taken).toHaveLength(1);
    const { username } = await enrolled(one, "n-07");
    await expect(login(one.url, { username, password: "wrong" })).rejects.toThrow(/authorized/i);
  });
});
