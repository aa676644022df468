import type { StationList, StationView } from "@leeward/shared-core/api/stations.ts";
import type { Connection } from "../display/freshness.ts";

/** What changes of a station from second to second; the rest of it comes with the list. */
export interface StationPatch {
  id: string;
  estimate: StationView["estimate"];
  node: StationView["node"];
  paceS: number;
}

/** A list without the stations that the page knows already as they are. */
export interface ListChange {
  rest: Omit<StationList, "stations">;
  /** Every station there is. */
  ids: string[];
  /** New ones, and those whose description or name changed. */
  views: StationView[];
}

/** The gateway's clock at a moment of this computer's, ms since 1970. */
export interface ClockReading {
  gatewayS: number;
  atMs: number;
}

/** From the worker to the page. */
export type FeedMessage =
  | { kind: "remembered"; list: StationList; keptS: number }
  | { kind: "list"; change: ListChange; clock: ClockReading }
  | { kind: "patches"; patches: StationPatch[]; clock: ClockReading | null }
  /** People or the life cycle did something to alarms: lists of them are old. */
  | { kind: "alarms-changed" }
  | { kind: "state"; connection: Connection; heardS: number | null };

/** From the page to the worker. */
export type FeedRequest =
  | { kind: "start"; base: string }
  /** The page has shown the last patches and can take so many more. */
  | { kind: "next"; most: number }
  /** Stations in sight: these come first. */
  | { kind: "watch"; ids: string[] }
  | { kind: "ask"; why: "network" | "changed" };

/** The clock that page and worker share, ms since 1970; it never goes back. */
export const sharedMs = () => performance.timeOrigin + performance.now();
