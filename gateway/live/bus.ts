import { EventEmitter } from "node:events";
import type { LiveEvents } from "@leeward/shared-core/api/stations.ts";

/** What changes, as it changes: feeds the server-sent events and whoever else listens. */
export class LiveBus {
  readonly #emitter = new EventEmitter();

  constructor() {
    // One listener a browser; a hundred tabs are no leak.
    this.#emitter.setMaxListeners(0);
  }

  emit<K extends keyof LiveEvents>(kind: K, event: LiveEvents[K]): void {
    this.#emitter.emit(kind, event);
  }

  /** Returns what stops listening. */
  on<K extends keyof LiveEvents>(kind: K, listener: (event: LiveEvents[K]) => void): () => void {
    this.#emitter.on(kind, listener);
    return () => {
      this.#emitter.off(kind, listener);
    };
  }
}
