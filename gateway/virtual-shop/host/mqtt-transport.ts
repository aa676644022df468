import mqtt, { type MqttClient } from "mqtt";
import type { NodeEars, NodeTransport } from "./lua-node.ts";

/** A node's own MQTT session over TCP: clean session, last will, no reconnecting of its own. */
export class MqttTransport implements NodeTransport {
  private readonly ears: NodeEars;
  private readonly brokerUrl: string;
  private readonly clientId: string;
  private readonly credentials: { username?: string; password?: string };
  private client: MqttClient | null = null;

  constructor(
    ears: NodeEars,
    brokerUrl: string,
    clientId: string,
    credentials: { username?: string; password?: string } = {},
  ) {
    this.ears = ears;
    this.brokerUrl = brokerUrl;
    this.clientId = clientId;
    this.credentials = credentials;
  }

  connect(willTopic: string, willPayload: string): void {
    this.close();
    const client = mqtt.connect(this.brokerUrl, {
      clientId: this.clientId,
      clean: true,
      keepalive: 30,
      reconnectPeriod: 0,
      connectTimeout: 10_000,
      protocolVersion: 4,
      will: { topic: willTopic, payload: Buffer.from(willPayload), qos: 1, retain: true },
      ...this.credentials,
    });
    this.client = client;
    client.on("connect", () => this.ears.connected());
    client.on("message", (topic, payload) => this.ears.message(topic, payload.toString("latin1")));
    let reason = "closed";
    client.on("error", (error) => {
      reason = error.message;
    });
    client.on("close", () => {
      if (this.client !== client) return;
      this.client = null;
      client.end(true);
      this.ears.disconnected(reason);
    });
  }

  publish(topic: string, payload: string, qos: number, retain: boolean): boolean {
    const client = this.client;
    if (!client?.connected) return false;
    client.publish(
      topic,
      Buffer.from(payload, "latin1"),
      { qos: qos === 1 ? 1 : 0, retain },
      (e) => {
        if (!e && this.client === client) this.ears.published();
      },
    );
    return true;
  }

  subscribe(topic: string, qos: number): boolean {
    if (!this.client?.connected) return false;
    this.client.subscribe(topic, { qos: qos === 1 ? 1 : 0 });
    return true;
  }

  /** Lets the session go without its last will being sent by the client's own doing. */
  close(): void {
    const client = this.client;
    this.client = null;
    client?.end(true);
  }

  /** Ends the session in good order. */
  async end(): Promise<void> {
    const client = this.client;
    this.client = null;
    if (client) await client.endAsync();
  }
}
