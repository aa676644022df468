import { nodeTopic } from "@leeward/shared-core/messages/topics.ts";
import { commandName, topicRoot } from "@leeward/shared-core/messages/wire-names.ts";
import type { OutboxRow } from "../outbox.ts";
import { type Channel, DeliveryError } from "./channel.ts";
import { pushTopic } from "./push.ts";
import { cloudEvent } from "./webhook.ts";

export type Publish = (topic: string, payload: string, options: { qos: 0 | 1 }) => Promise<void>;

/** A lamp that lights minutes late helps nobody, s. */
const commandLifeS = 120;

/** Topic on which a site's alarms are told: `leeward/v1/<site>/alarms`. */
export function alarmTopic(site: string): string {
  return `${topicRoot}/${site}/alarms`;
}

/** The alarm topic (a CloudEvent as for the webhook, without signature), at least once. */
export class TopicChannel implements Channel {
  readonly #publish: Publish;

  constructor(publish: Publish) {
    this.#publish = publish;
  }

  async send(row: OutboxRow, repeat: boolean, timeoutMs: number): Promise<void> {
    const payload = JSON.stringify(cloudEvent(row, repeat));
    await withTimeout(this.#publish(alarmTopic(row.message.site), payload, { qos: 1 }), timeoutMs);
  }
}

/** Lamp and buzzer of the station's node, by command. */
export class NodeChannel implements Channel {
  readonly #publish: Publish;
  readonly #nowS: () => number;

  constructor(publish: Publish, nowS: () => number) {
    this.#publish = publish;
    this.#nowS = nowS;
  }

  async send(row: OutboxRow, _repeat: boolean, timeoutMs: number): Promise<void> {
    const { way, message } = row;
    if (way.kind !== "node" || message.node === null) {
      throw new DeliveryError("permanent", "the station has no node");
    }
    const command = {
      // The node answers with this id; 32 characters fit its limit.
      id: pushTopic(row.id),
      do: commandName.signal,
      lamp: way.lamp,
      buzzer: way.buzzer,
      seconds: way.seconds,
      expires: Math.round(this.#nowS() + commandLifeS),
    };
    const topic = nodeTopic(message.site, message.node, "command");
    await withTimeout(this.#publish(topic, JSON.stringify(command), { qos: 1 }), timeoutMs);
  }
}

async function withTimeout(work: Promise<void>, timeoutMs: number): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(
      () => reject(new DeliveryError("unknown", "the broker did not answer in time")),
      timeoutMs,
    );
  });
  try {
    await Promise.race([work, late]);
  } finally {
    clearTimeout(timer);
  }
}
