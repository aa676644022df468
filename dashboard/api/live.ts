import type { LiveEvents } from "@leeward/shared-core/api/stations.ts";
import { getStations } from "./client.ts";
import { recall, remember } from "./memory.ts";
import {
  connection,
  fromMemory,
  type LiveChange,
  lastHeardS,
  setClock,
  shop,
  speed,
  stations,
  takeChanges,
  takeList,
  tick,
} from "./store.ts";

/** Figures change at most once a second, however fast events come. */
const FLUSH_MS = 1000;
/** New stations and unclaimed nodes come with the list. */
const LIST_MS = 15_000;
/** So long without a word, and the page asks whether the gateway is still there. */
const QUIET_MS = 6000;
const RETRY_MS = 2000;

/** Starts the live link and keeps it: list, events, watchdog. Returns what stops it. */
export function startLive(): () => void {
  const remembered = recall();
  if (remembered) {
    takeList(remembered.list, true);
    lastHeardS.value = remembered.keptS;
  }

  let source: EventSource | null = null;
  let waiting: LiveChange[] = [];
  let heardMs = performance.now();
  let listedMs = Number.NEGATIVE_INFINITY;
  let asking = false;
  let stopped = false;
  /** Something came of a station or node that the list does not hold. */
  let unknown = false;

  const heard = () => {
    heardMs = performance.now();
    lastHeardS.value = Date.now() / 1000;
  };

  async function list(): Promise<void> {
    if (asking || stopped) return;
    asking = true;
    unknown = false;
    const answer = await getStations();
    asking = false;
    if (stopped) return;
    listedMs = performance.now();
    if (answer.ok) {
      heard();
      takeList(answer.value);
      remember(answer.value);
      connection.value = "live";
      if (!source) listen();
    } else {
      lose();
    }
  }

  function lose(): void {
    connection.value = "lost";
    source?.close();
    source = null;
    waiting = [];
  }

  function take<K extends keyof LiveEvents>(kind: K, event: MessageEvent<string>): void {
    heard();
    try {
      const change = { kind, data: JSON.parse(event.data) } as LiveChange;
      setClock(change.data.now, speed.value);
      waiting.push(change);
    } catch {
      // A line cut off by a dying link: the next list brings the truth.
      listedMs = Number.NEGATIVE_INFINITY;
    }
  }

  function listen(): void {
    const opened = new EventSource("api/v1/events");
    source = opened;
    opened.onopen = heard;
    opened.addEventListener("estimate", (event) => take("estimate", event));
    opened.addEventListener("status", (event) => take("status", event));
    opened.addEventListener("alarm", (event) => take("alarm", event));
    // The link broke: ask at once, so that the page says so at once.
    opened.onerror = () => {
      opened.close();
      if (source === opened) source = null;
      void list();
    };
  }

  const timer = setInterval(() => {
    const changes = waiting;
    waiting = [];
    unknown ||= changes.some(({ data }) => data.id === null || !stations.value.has(data.id));
    takeChanges(changes);
    tick();
    const quietMs = performance.now() - heardMs;
    const sinceListMs = performance.now() - listedMs;
    const lost = connection.value === "lost";
    const soon = lost || shop.value?.starting !== undefined;
    if (
      (unknown && sinceListMs > RETRY_MS) ||
      sinceListMs > (soon ? RETRY_MS : LIST_MS) ||
      (quietMs > QUIET_MS && sinceListMs > QUIET_MS) ||
      (!source && !lost && sinceListMs > RETRY_MS)
    ) {
      void list();
    }
  }, FLUSH_MS);

  const goneOffline = () => void list();
  addEventListener("online", goneOffline);
  addEventListener("offline", goneOffline);
  void list();

  return () => {
    stopped = true;
    clearInterval(timer);
    source?.close();
    removeEventListener("online", goneOffline);
    removeEventListener("offline", goneOffline);
    fromMemory.value = false;
  };
}
