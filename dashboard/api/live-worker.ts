import type { LiveEvents, StationList } from "@leeward/shared-core/api/stations.ts";
import type { Connection } from "../display/freshness.ts";
import { Feed, type LiveChange } from "./feed.ts";
import {
  type ClockReading,
  type FeedMessage,
  type FeedRequest,
  sharedMs,
} from "./feed-messages.ts";
import { recall, remember } from "./memory.ts";

/**
 * The live link, off the page's main thread: list, events, watchdog and memory. Two hundred
 * stations are read here; the page gets what it shows, as fast as it shows it.
 */

/** How often news is looked for, for a page that waits. */
const STEP_MS = 50;
/** New stations and unclaimed nodes come with the list. */
const LIST_MS = 15_000;
/** So long without a word, and the page asks whether the gateway is still there. */
const QUIET_MS = 6000;
const RETRY_MS = 2000;
const TIMEOUT_MS = 8000;

const feed = new Feed();
let base = "";
let source: EventSource | null = null;
let connection: Connection = "connecting";
let clock: ClockReading | null = null;
let heardMs = sharedMs();
let toldHeardS = 0;
let listedMs = Number.NEGATIVE_INFINITY;
let asking = false;
let starting = false;
/** Something came of a station or node that the list does not hold. */
let unknown = false;
/** How many patches the page waits for; 0 while it is busy with the last ones. */
let wanted = 0;

const tell = (message: FeedMessage) => postMessage(message);
const url = (path: string) => new URL(`api/v1/${path}`, base);

function tellState(): void {
  toldHeardS = heardMs / 1000;
  tell({ kind: "state", connection, heardS: toldHeardS });
}

function heard(): void {
  heardMs = sharedMs();
  // For `nothing since`, whole seconds do.
  if (heardMs / 1000 - toldHeardS > 1) tellState();
}

async function getList(): Promise<StationList | null> {
  try {
    const response = await fetch(url("stations"), { signal: AbortSignal.timeout(TIMEOUT_MS) });
    return response.ok ? ((await response.json()) as StationList) : null;
  } catch {
    return null;
  }
}

async function list(): Promise<void> {
  if (asking) return;
  asking = true;
  unknown = false;
  const answer = await getList();
  asking = false;
  listedMs = sharedMs();
  if (!answer) {
    lose();
    return;
  }
  clock = { gatewayS: answer.now, atMs: listedMs };
  starting = answer.starting !== undefined;
  const change = feed.takeList(answer, listedMs);
  tell({ kind: "list", change, clock });
  connection = "live";
  heardMs = listedMs;
  tellState();
  if (!source) listen();
  void remember(feed.list(change.rest));
}

function lose(): void {
  connection = "lost";
  source?.close();
  source = null;
  tell({ kind: "state", connection, heardS: toldHeardS || null });
}

function take<K extends keyof LiveEvents>(kind: K, event: MessageEvent<string>): void {
  heard();
  try {
    const change = { kind, data: JSON.parse(event.data) } as LiveChange;
    clock = { gatewayS: change.data.now, atMs: heardMs };
    if (!feed.takeEvent(change)) unknown = true;
    if (change.kind === "alarm" && change.data.changed) {
      tell({ kind: "alarms-changed" });
      // One of the whole shop comes with the list.
      if (change.data.id === null) void list();
    }
  } catch {
    // A line cut off by a dying link: the next list brings the truth.
    listedMs = Number.NEGATIVE_INFINITY;
  }
}

function listen(): void {
  const opened = new EventSource(url("events"));
  source = opened;
  opened.onopen = heard;
  for (const kind of ["estimate", "status", "alarm"] as const) {
    opened.addEventListener(kind, (event) => take(kind, event));
  }
  // The link broke: ask at once, so that the page says so at once.
  opened.onerror = () => {
    opened.close();
    if (source === opened) source = null;
    void list();
  };
}

function give(): void {
  if (wanted === 0) return;
  const patches = feed.next(sharedMs(), wanted);
  if (patches.length === 0) return;
  wanted = 0;
  tell({ kind: "patches", patches, clock });
}

function watchdog(): void {
  const nowMs = sharedMs();
  const quietMs = nowMs - heardMs;
  const sinceListMs = nowMs - listedMs;
  const lost = connection === "lost";
  if (
    (unknown && sinceListMs > RETRY_MS) ||
    sinceListMs > (lost || starting ? RETRY_MS : LIST_MS) ||
    (quietMs > QUIET_MS && sinceListMs > QUIET_MS) ||
    (!source && !lost && sinceListMs > RETRY_MS)
  ) {
    void list();
  }
}

async function start(from: string): Promise<void> {
  base = from;
  const answer = list();
  const kept = await recall();
  // The gateway was faster than the memory: nothing old is shown at all.
  if (kept && connection !== "live") tell({ kind: "remembered", ...kept });
  await answer;
  setInterval(give, STEP_MS);
  setInterval(watchdog, 1000);
}

addEventListener("message", ({ data }: MessageEvent<FeedRequest>) => {
  if (data.kind === "start") void start(data.base);
  else if (data.kind === "watch") feed.watch(data.ids);
  else if (data.kind === "ask") void list();
  else {
    wanted = data.most;
    give();
  }
});
