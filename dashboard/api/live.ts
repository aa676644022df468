import type { FeedMessage, FeedRequest } from "./feed-messages.ts";
import {
  alarmNews,
  connection,
  fromMemory,
  lastHeardS,
  setClock,
  speed,
  takeListChange,
  takePatches,
  takeRemembered,
  tick,
} from "./store.ts";

/** Stations that the page takes in at a time; what is drawn of them has a budget of its own. */
const TAKEN = 40;

let worker: Worker | null = null;

function ask(request: FeedRequest): void {
  worker?.postMessage(request);
}

/** Which stations are in sight: their news comes first. */
export function watch(ids: readonly string[]): void {
  ask({ kind: "watch", ids: [...ids] });
}

/** Starts the live link, which works beside the page, and keeps its clock. Returns what stops it. */
export function startLive(): () => void {
  const feed = new Worker(new URL("./live-worker.ts", import.meta.url), { type: "module" });
  worker = feed;
  feed.onmessage = ({ data }: MessageEvent<FeedMessage>) => receive(data);
  ask({ kind: "start", base: document.baseURI });
  ask({ kind: "next", most: TAKEN });

  const timer = setInterval(tick, 1000);
  const network = () => ask({ kind: "ask", why: "network" });
  addEventListener("online", network);
  addEventListener("offline", network);

  return () => {
    clearInterval(timer);
    feed.terminate();
    worker = null;
    removeEventListener("online", network);
    removeEventListener("offline", network);
    fromMemory.value = false;
  };
}

function receive(message: FeedMessage): void {
  switch (message.kind) {
    case "remembered":
      takeRemembered(message.list);
      lastHeardS.value = message.keptS;
      return;
    case "list":
      setClock(message.clock, message.change.rest.demo.speed);
      takeListChange(message.change);
      return;
    case "state":
      connection.value = message.connection;
      if (message.heardS !== null) lastHeardS.value = message.heardS;
      return;
    case "alarms-changed":
      alarmNews.value++;
      return;
    case "patches":
      // With the next frame, so that a page out of sight takes nothing in.
      requestAnimationFrame(() => {
        if (message.clock) setClock(message.clock, speed.peek());
        takePatches(message.patches);
        ask({ kind: "next", most: TAKEN });
      });
  }
}
