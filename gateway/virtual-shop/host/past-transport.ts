import type { NodeEars, NodeTransport } from "./lua-node.ts";

export interface PastMessage {
  receivedS: number;
  topic: string;
  payload: string;
}

/**
 * Stands for the broker while the past is made up: takes every message at once and answers as a
 * gateway does that stores at once (`stored`).
 */
export class PastTransport implements NodeTransport {
  readonly sent: PastMessage[] = [];
  private readonly ears: NodeEars;
  private readonly nowS: () => number;
  private through = 0;
  private boot = 0;
  private told = 0;
  private storedTopic = "";
  private up = false;

  constructor(ears: NodeEars, nowS: () => number) {
    this.ears = ears;
    this.nowS = nowS;
  }

  connect(): void {
    this.up = true;
    this.ears.connected();
  }

  publish(topic: string, payload: string): boolean {
    if (!this.up) return false;
    this.sent.push({ receivedS: this.nowS() + 0.05, topic, payload });
    const boot = /"n":"boot"[^}]*?"v":(\d+)/.exec(payload);
    const seq = /"n":"seq"[^}]*?"v":(\d+)/.exec(payload);
    if (boot && seq) {
      this.boot = Number(boot[1]);
      this.through = Number(seq[1]);
    }
    this.ears.published();
    return true;
  }

  subscribe(topic: string): boolean {
    if (topic.endsWith("/stored")) this.storedTopic = topic;
    return this.up;
  }

  /** Tells the node what is stored; call about once a minute. */
  tellStored(): void {
    if (!this.up || this.through === this.told || this.storedTopic === "") return;
    this.told = this.through;
    this.ears.message(this.storedTopic, `{"boot":${this.boot},"through":${this.through}}`);
  }

  close(): void {
    this.up = false;
  }
}
