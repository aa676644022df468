/** How the gateway hears nodes and speaks to them, whichever broker stands between. */
export interface MessageLink {
  /** Starts taking messages. A message is acknowledged when its handler's promise resolves. */
  start(handler: MessageHandler): Promise<void>;
  /** Publishes; resolves when the broker has it (QoS 1) or it was sent (QoS 0). */
  publish(topic: string, payload: string, options?: PublishOptions): Promise<void>;
  /** Url at which nodes and other clients find the broker. */
  readonly url: string;
  readonly connected: boolean;
  stop(): Promise<void>;
}

export interface PublishOptions {
  qos?: 0 | 1;
  retain?: boolean;
}

/** Resolves once the message is stored or refused for good; rejects where it could not be stored. */
export type MessageHandler = (topic: string, payload: Uint8Array) => Promise<void>;
