import { createHash } from "node:crypto";
import type { Agent } from "node:https";
import webPush from "web-push";
import type { OutboxStore } from "../../store/outbox-store.ts";
import type { OutboxRow } from "../outbox.ts";
import {
  type Channel,
  DeliveryError,
  outcomeOfError,
  outcomeOfStatus,
  PartlyDelivered,
} from "./channel.ts";

export interface VapidKeys {
  publicKey: string;
  privateKey: string;
}

/** New key pair of RFC 8292; browsers subscribe with the public one. */
export function createVapidKeys(): VapidKeys {
  return webPush.generateVAPIDKeys();
}

/** RFC 8030, 5.4: at most 32 characters of base64url; a later message with it replaces the former. */
export function pushTopic(text: string): string {
  return createHash("sha256").update(text).digest("base64url").slice(0, 32);
}

const urgency = { high: "high", medium: "normal", low: "low" } as const;

/** What the service worker of the dashboard gets. `tag` is stable: a repeat replaces its original. */
export function pushPayload(row: OutboxRow, repeat: boolean): Record<string, unknown> {
  const { message } = row;
  return {
    id: message.id,
    tag: message.occurrence ?? message.id,
    line: message.line,
    body: message.body,
    link: message.link,
    priority: message.priority,
    station: message.station,
    t: message.t,
    repeat,
  };
}

/**
 * Web Push (RFC 8030) with encrypted content (RFC 8291) and the server's signature (RFC 8292) to
 * every browser that the contact has subscribed, or to the one that the row names. Delivered once one
 * push service has taken it; browsers whose service failed for now are left to be tried again.
 */
export class PushChannel implements Channel {
  readonly #outbox: OutboxStore;
  readonly #vapid: VapidKeys & { subject: string };
  readonly #agent: Agent | undefined;

  constructor(options: {
    outbox: OutboxStore;
    vapid: VapidKeys & { subject: string };
    /** For a push service behind a certificate authority of one's own. */
    agent?: Agent;
  }) {
    this.#outbox = options.outbox;
    this.#vapid = options.vapid;
    this.#agent = options.agent;
  }

  async send(row: OutboxRow, repeat: boolean, timeoutMs: number): Promise<void> {
    const only = "subscription" in row.way ? row.way.subscription : null;
    const subscriptions = (await this.#outbox.subscriptions()).filter(
      ({ id, contact }) => contact === row.contact && (only === null || id === only),
    );
    if (subscriptions.length === 0) {
      throw new DeliveryError("permanent", `no browser of ${row.contact} is subscribed`);
    }
    const payload = JSON.stringify(pushPayload(row, repeat));
    const results = await Promise.allSettled(
      subscriptions.map((subscription) =>
        webPush.sendNotification(
          { endpoint: subscription.endpoint, keys: subscription.keys },
          payload,
          {
            vapidDetails: this.#vapid,
            TTL: Math.max(60, Math.round(row.expires - row.created)),
            urgency: urgency[row.message.priority],
            topic: pushTopic(row.message.occurrence ?? row.message.id),
            timeout: timeoutMs,
            ...(this.#agent ? { agent: this.#agent } : {}),
          },
        ),
      ),
    );
    const errors: DeliveryError[] = [];
    const left: PartlyDelivered["left"][number][] = [];
    for (const [i, result] of results.entries()) {
      if (result.status === "fulfilled") continue;
      const error = toDeliveryError(result.reason);
      errors.push(error);
      const gone =
        result.reason instanceof webPush.WebPushError &&
        [404, 410].includes(result.reason.statusCode);
      const subscription = subscriptions[i];
      if (subscription && error.outcome !== "permanent") {
        const { id } = subscription;
        left.push({ part: id, way: { kind: "push", subscription: id }, error });
      }
      if (gone && subscription) await this.#outbox.removeSubscription(subscription.id);
    }
    if (errors.length < results.length) {
      if (left.length > 0) throw new PartlyDelivered(left);
      return;
    }
    throw errors.find((error) => error.outcome !== "permanent") ?? errors[0];
  }
}

function toDeliveryError(reason: unknown): DeliveryError {
  if (!(reason instanceof webPush.WebPushError)) return outcomeOfError(reason);
  const outcome = outcomeOfStatus(reason.statusCode);
  const text = `the push service answered ${reason.statusCode}`;
  return new DeliveryError(outcome === "delivered" ? "unknown" : outcome, text);
}
