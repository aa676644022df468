/**
 * The radio's MQTT library behind the application's link. Whatever the library does (raise, stay
 * silent, call twice), the application hears `connected`, `disconnected`, `published` and `message`
 * from a callback of its own, never from inside a call.
 */
import type { Node } from "../src/ports.ts";
import type { Chip } from "./chip.ts";
import type { Provision } from "./provision.ts";

const keepaliveS = 30;
const longestMessage = 4096;

export interface Radio {
  chip: Chip;
  provision: Provision;
  node: Node | undefined;
  networkUp: boolean;
  client: MqttClient | undefined;
  up: boolean;
  /** Counts clients, so that a late callback of an old one is not taken for the new one's. */
  generation: number;
}

export function createRadio(chip: Chip, provision: Provision): Radio {
  return {
    chip,
    provision,
    node: undefined,
    networkUp: false,
    client: undefined,
    up: false,
    generation: 0,
  };
}

/** Tells the application from a fresh callback. */
function soon(action: () => void): void {
  tmr.create().alarm(1, tmr.ALARM_SINGLE, action);
}

function lose(radio: Radio, generation: number, reason: string): void {
  if (generation !== radio.generation || radio.client === undefined) return;
  radio.up = false;
  radio.client = undefined;
  soon(() => radio.node?.disconnected(reason));
}

/** `Ports.connect`. */
export function connectRadio(radio: Radio, willTopic: string, willPayload: string): void {
  radio.generation += 1;
  const { generation, provision, chip } = radio;
  if (!radio.networkUp) {
    soon(() => radio.node?.disconnected("no network"));
    return;
  }
  const client = mqtt.Client(
    `leeward-node-${provision.site}-${provision.node}`,
    keepaliveS,
    provision.user,
    provision.secret,
    1,
    longestMessage,
  );
  radio.client = client;
  client.lwt(willTopic, willPayload, 1, 1);
  client.on("connect", () => {
    if (generation !== radio.generation) return;
    radio.up = true;
    soon(() => radio.node?.connected());
  });
  client.on("offline", () => lose(radio, generation, "offline"));
  client.on("message", (_client, topic, payload) => {
    if (generation !== radio.generation) return;
    soon(() => radio.node?.message(topic ?? "", payload ?? ""));
  });
  const [done, started] = pcall(() => {
    chip.connectBroker(client, provision, () => lose(radio, generation, "refused"));
  });
  if (!done) lose(radio, generation, `the radio: ${started as string}`);
}

/** `Ports.publish`: the library raises where it is not connected; here that is `false`. */
export function publishRadio(
  radio: Radio,
  topic: string,
  payload: string,
  qos: number,
  retain: boolean,
): boolean {
  const { client, generation } = radio;
  if (client === undefined || !radio.up) return false;
  let accepted = false;
  const [done] = pcall(() => {
    accepted = client.publish(topic, payload, qos, retain ? 1 : 0, () => {
      if (generation === radio.generation) soon(() => radio.node?.published());
    });
  });
  return done && accepted;
}

export function subscribeRadio(radio: Radio, topic: string, qos: number): boolean {
  const { client } = radio;
  if (client === undefined || !radio.up) return false;
  const [done] = pcall(() => {
    client.subscribe(topic, qos);
  });
  return done;
}

export function closeRadio(radio: Radio): void {
  const { client } = radio;
  radio.generation += 1;
  radio.client = undefined;
  radio.up = false;
  if (client !== undefined) {
    pcall(() => {
      client.close();
    });
  }
}
