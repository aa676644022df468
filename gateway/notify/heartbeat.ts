import type { Clock } from "../clock.ts";
import type { Logger } from "../log.ts";

const timeoutMs = 10_000;

/** Tells an address outside that the gateway lives: whoever watches it notices when it stops. */
export class Heartbeat {
  readonly #clock: Clock;
  readonly #log: Logger;
  #cancel: () => void = () => undefined;
  /** Unix s of the last beat that was taken, and why the latest was not. */
  state: { last: number | null; error: string | null } = { last: null, error: null };

  constructor(options: { clock: Clock; log: Logger }) {
    this.#clock = options.clock;
    this.#log = options.log;
  }

  /** Beats at once and every `everyS` seconds; null ends it. */
  set(beat: { url: string; everyS: number } | null): void {
    this.#cancel();
    this.#cancel = () => undefined;
    if (beat === null) return;
    const send = () => {
      this.#send(beat.url).catch((error: unknown) => {
        if (this.state.error === null) this.#log.warn({ error: String(error) }, "heartbeat lost");
        this.state = { ...this.state, error: String(error) };
      });
    };
    send();
    this.#cancel = this.#clock.every(beat.everyS, send);
  }

  stop(): void {
    this.set(null);
  }

  async #send(url: string): Promise<void> {
    const response = await fetch(url, { method: "POST", signal: AbortSignal.timeout(timeoutMs) });
    await response.body?.cancel();
    if (!response.ok) throw new Error(`it answered ${response.status}`);
    this.state = { last: this.#clock.nowS(), error: null };
  }
}
