import { createServer, type Server } from "node:net";
import { join } from "node:path";
import { parseNodeTopic } from "@leeward/shared-core/messages/topics.ts";
import { topicLeaf, topicRoot } from "@leeward/shared-core/messages/wire-names.ts";
import { Aedes, type Client as Session } from "aedes";
import { Level } from "level";
import { hostInUrl, listenOnFreePort } from "../listen.ts";
import { type BrokerAccess, type Client, mayPublish, maySubscribe } from "./access.ts";
import type { MessageHandler, MessageLink, PublishOptions } from "./link.ts";
import { sessionMemory } from "./session-memory.ts";

/** How often logins that hold no more are looked for, ms. */
const recheckMs = 2000;

/**
 * MQTT 3.1.1 broker inside the gateway's process.
 *
 * Node messages are taken before the broker acknowledges them, so that an acknowledgment means
 * "stored": the broker itself would acknowledge first and keep the message afterwards. They are
 * then passed on to whoever else has subscribed.
 */
export class EmbeddedBroker implements MessageLink {
  readonly url: string;
  readonly #broker: Aedes;
  readonly #server: Server;
  readonly #level: Level;
  readonly #sockets: Set<{ destroy(): void }>;
  readonly #started: (handler: MessageHandler) => void;
  readonly #recheck: NodeJS.Timeout | null;

  private constructor(parts: {
    broker: Aedes;
    server: Server;
    level: Level;
    url: string;
    sockets: Set<{ destroy(): void }>;
    started: (handler: MessageHandler) => void;
    recheck: NodeJS.Timeout | null;
  }) {
    this.#broker = parts.broker;
    this.#server = parts.server;
    this.#level = parts.level;
    this.#sockets = parts.sockets;
    this.#started = parts.started;
    this.#recheck = parts.recheck;
    this.url = parts.url;
  }

  /**
   * Opens the broker's files under `dataDir` and listens. `searchPort` lets it take the next free
   * port; otherwise a taken port rejects. `access` decides who may log in, and what those may do who
   * log in by name; without it everybody may do everything.
   */
  static async open(options: {
    dataDir: string;
    host: string;
    port: number;
    searchPort: boolean;
    access?: BrokerAccess;
  }): Promise<EmbeddedBroker> {
    const { access } = options;
    const clients = new Map<Session, Client>();
    const level = new Level(join(options.dataDir, "broker"));
    await level.open();
    const sockets = new Set<{ destroy(): void }>();
    let broker: Aedes | null = null;
    try {
      // Before `start` nobody could store a message: clients wait for their acknowledgment.
      let started: (handler: MessageHandler) => void = () => undefined;
      const handler = new Promise<MessageHandler>((resolve) => {
        started = resolve;
      });
      broker = await Aedes.createBroker({
        persistence: sessionMemory(level),
        preConnect(_session, packet, done) {
          // Each user has client ids of their own: nobody takes over another's session.
          if (access && packet.username && packet.clientId) {
            packet.clientId = `${packet.username}:${packet.clientId}`;
          }
          done(null, true);
        },
        authenticate(session, user, password, done) {
          if (!access) {
            done(null, true);
            return;
          }
          access.login(user, password?.toString("utf8")).then(
            (client) => {
              if (client) clients.set(session, client);
              done(null, client !== null);
            },
            (error: unknown) => done(unavailable(error), false),
          );
        },
        authorizeSubscribe(session, subscription, done) {
          const client = session ? clients.get(session) : undefined;
          const heard = !client || maySubscribe(client, subscription.topic);
          done(null, heard ? subscription : null);
        },
        authorizePublish(client, packet, done) {
          const who = client ? clients.get(client) : undefined;
          if (who && !mayPublish(who, packet.topic)) {
            // MQTT 3.1.1 has no word for "not yours": the connection ends.
            done(new Error(`not allowed to publish on ${packet.topic}`));
            return;
          }
          if (client === null || !isForGateway(packet.topic)) {
            done(packet.topic.startsWith("$SYS/") ? new Error("$SYS/ is reserved") : null);
            return;
          }
          const payload =
            typeof packet.payload === "string" ? Buffer.from(packet.payload) : packet.payload;
          const taken = handler.then((handle) => handle(packet.topic, payload));
          taken.then(
            () => done(null),
            (error: unknown) => done(error instanceof Error ? error : new Error(String(error))),
          );
        },
      });
      const { handle } = broker;
      broker.on("clientDisconnect", (session) => clients.delete(session));
      const server = createServer((socket) => {
        sockets.add(socket);
        socket.once("close", () => sockets.delete(socket));
        handle(socket);
      });
      const port = await listenOnFreePort(server, options);
      const url = `mqtt://${hostInUrl(options.host)}:${port}`;
      const recheck = access
        ? setInterval(() => void endSessions(access, clients), recheckMs)
        : null;
      return new EmbeddedBroker({ broker, server, level, sockets, url, started, recheck });
    } catch (error) {
      if (broker) await closeBroker(broker);
      await level.close();
      throw error;
    }
  }

  get connected(): boolean {
    return !this.#broker.closed;
  }

  start(handler: MessageHandler): Promise<void> {
    this.#started(handler);
    return Promise.resolve();
  }

  publish(topic: string, payload: string, options: PublishOptions = {}): Promise<void> {
    return new Promise((resolve, reject) => {
      this.#broker.publish(
        {
          cmd: "publish",
          topic,
          payload: Buffer.from(payload),
          qos: options.qos ?? 0,
          retain: options.retain ?? false,
          dup: false,
        },
        (error) => (error ? reject(error) : resolve()),
      );
    });
  }

  async stop(): Promise<void> {
    if (this.#recheck) clearInterval(this.#recheck);
    const serverClosed = new Promise<void>((resolve) => this.#server.close(() => resolve()));
    await closeBroker(this.#broker);
    for (const socket of this.#sockets) socket.destroy();
    await serverClosed;
    await this.#level.close();
  }
}

/** MQTT 3.1.1, table 3.1: return code 3, so that the node tries again. */
function unavailable(error: unknown): Error & { returnCode: 3 } {
  return Object.assign(new Error(`login could not be checked: ${String(error)}`), {
    returnCode: 3 as const,
  });
}

/** Closes the sessions of those whose credentials were revoked or issued again. */
async function endSessions(access: BrokerAccess, clients: Map<Session, Client>): Promise<void> {
  try {
    const ended = await access.ended([...clients.values()]);
    for (const [session, client] of clients) {
      if (session.closed) clients.delete(session);
      else if (ended.has(client)) session.close();
    }
  } catch {
    // The store is busy or closing: the next round will tell.
  }
}

function closeBroker(broker: Aedes): Promise<void> {
  return new Promise((resolve) => broker.close(() => resolve()));
}

/** Everything below the root but what the gateway itself publishes. */
function isForGateway(topic: string): boolean {
  if (!topic.startsWith(`${topicRoot}/`)) return false;
  if (parseNodeTopic(topic).ok) return true;
  const leaf = topic.slice(topic.lastIndexOf("/") + 1);
  return ![topicLeaf.stored, topicLeaf.config, topicLeaf.command, "time"].includes(leaf);
}
