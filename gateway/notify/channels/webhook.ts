import { createHmac } from "node:crypto";
import type { OutboxRow } from "../outbox.ts";
import { type Channel, DeliveryError, outcomeOfError, outcomeOfStatus } from "./channel.ts";

/**
 * A CloudEvents 1.0 event in structured JSON mode. `id` is stable over repeats, so that a receiver
 * can tell them; `repeat` says that an earlier attempt may have arrived.
 */
export function cloudEvent(row: OutboxRow, repeat: boolean): Record<string, unknown> {
  const { message } = row;
  return {
    specversion: "1.0",
    id: row.id,
    source: `/leeward/${message.site}`,
    type: `leeward.${message.kind}.v1`,
    ...(message.station === null ? {} : { subject: message.station }),
    time: new Date(message.t * 1000).toISOString(),
    datacontenttype: "application/json",
    repeat,
    data: {
      occurrence: message.occurrence,
      condition: message.condition,
      priority: message.priority,
      line: message.line,
      body: message.body,
      link: message.link,
    },
  };
}

/** Signature over id, time of sending and body: `v1,` and the HMAC-SHA-256 in base64. */
export function signWebhook(secret: string, id: string, sentS: number, body: string): string {
  return `v1,${createHmac("sha256", secret).update(`${id}.${sentS}.${body}`).digest("base64")}`;
}

/** A signed CloudEvents POST to an address of the owner's choice. Redirects are not followed. */
export class WebhookChannel implements Channel {
  readonly #nowS: () => number;

  constructor(nowS: () => number) {
    this.#nowS = nowS;
  }

  async send(row: OutboxRow, repeat: boolean, timeoutMs: number): Promise<void> {
    if (row.way.kind !== "webhook") throw new DeliveryError("permanent", "this is no webhook");
    const body = JSON.stringify(cloudEvent(row, repeat));
    const sentS = Math.floor(this.#nowS());
    let response: Response;
    try {
      response = await fetch(row.way.url, {
        method: "POST",
        redirect: "manual",
        signal: AbortSignal.timeout(timeoutMs),
        headers: {
          "content-type": "application/cloudevents+json; charset=utf-8",
          "webhook-id": row.id,
          "webhook-timestamp": String(sentS),
          "webhook-signature": signWebhook(row.way.secret, row.id, sentS, body),
        },
        body,
      });
      await response.body?.cancel();
    } catch (error) {
      throw outcomeOfError(error);
    }
    const outcome = outcomeOfStatus(response.status);
    if (outcome !== "delivered") {
      throw new DeliveryError(outcome, `the receiver answered ${response.status}`);
    }
  }
}
