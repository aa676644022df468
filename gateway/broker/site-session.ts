import { topicLeaf, topicRoot } from "@leeward/shared-core/messages/wire-names.ts";
import { connect, type MqttClient } from "mqtt";
import type { Logger } from "../log.ts";
import type { MessageHandler, MessageLink, PublishOptions } from "./link.ts";

/**
 * The one MQTT session of a site at any broker: client id `leeward-<site>`, clean session off,
 * QoS 1. While the gateway is away the broker keeps the site's messages; whoever owns the site
 * next takes over its queue. Reconnects for ever.
 */
export class SiteSession implements MessageLink {
  readonly url: string;
  readonly #sites: readonly string[];
  readonly #log: Logger;
  readonly #client: MqttClient;
  #stopping = false;

  constructor(options: { url: string; sites: readonly [string, ...string[]]; log: Logger }) {
    this.url = withoutPassword(options.url);
    this.#sites = options.sites;
    this.#log = options.log;
    this.#client = connect(options.url, {
      clientId: `leeward-${options.sites[0]}`,
      clean: false,
      protocolVersion: 4,
      manualConnect: true,
      reconnectPeriod: 1000,
      connectTimeout: 10_000,
      keepalive: 30,
      resubscribe: false,
    });
  }

  get connected(): boolean {
    return this.#client.connected;
  }

  async start(handler: MessageHandler): Promise<void> {
    const client = this.#client;
    client.handleMessage = (packet, next) => {
      const { stream } = client;
      const payload =
        typeof packet.payload === "string" ? Buffer.from(packet.payload) : packet.payload;
      const stored = handler(packet.topic, payload);
      if (packet.qos === 0) {
        stored.catch((error: unknown) => this.#log.error({ error }, "message not stored"));
        next();
        return;
      }
      stored.then(
        () => {
          // A message number belongs to its connection; after a reconnect the broker sends again.
          if (client.connected && client.stream === stream) {
            // biome-ignore lint/complexity/useLiteralKeys: private in its types, and the one way to acknowledge later.
            client["_sendPacket"]({ cmd: "puback", messageId: packet.messageId ?? 0 });
          }
        },
        (error: unknown) => this.#log.error({ error }, "message not stored"),
      );
      // An error keeps the client from acknowledging by itself, and it goes on reading: so many
      // messages await one commit.
      next(new Error("acknowledged when stored"));
    };
    client.on("error", (error) => this.#log.warn({ error: error.message }, "broker connection"));
    client.on("connect", (connack) => {
      this.#log.info(
        { broker: this.url, session: connack.sessionPresent ? "resumed" : "new" },
        "connected to the broker",
      );
      const topics = this.#sites.flatMap((site) =>
        [topicLeaf.samples, topicLeaf.status, topicLeaf.reply].map(
          (leaf) => `${topicRoot}/${site}/+/${leaf}`,
        ),
      );
      client.subscribe(topics, { qos: 1 }, (error) => {
        if (error && !this.#stopping) this.#log.error({ error: error.message }, "not subscribed");
      });
    });
    client.connect();
    await new Promise<void>((resolve) => {
      client.once("connect", () => resolve());
      // The gateway runs on while the broker is away, and says so.
      client.once("close", () => resolve());
    });
  }

  async publish(topic: string, payload: string, options: PublishOptions = {}): Promise<void> {
    const { qos = 0, retain = false } = options;
    if (qos === 0 && !this.#client.connected) return;
    await this.#client.publishAsync(topic, payload, { qos, retain });
  }

  async stop(): Promise<void> {
    this.#stopping = true;
    await this.#client.endAsync(!this.#client.connected);
  }
}

function withoutPassword(url: string): string {
  const parsed = new URL(url);
  parsed.password = "";
  return parsed.toString();
}
