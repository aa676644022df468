import type { Readiness } from "@leeward/shared-core/api/operations.ts";
import type { StationList } from "@leeward/shared-core/api/stations.ts";
import type { AlarmService } from "../alarms/alarm-service.ts";
import type { Clock } from "../clock.ts";
import type { LiveBus } from "../live/bus.ts";
import type { Directory, StationRecord } from "../live/directory.ts";
import type { StationService } from "../live/station-service.ts";
import type { OpenMetricsRegistry } from "../run/metrics.ts";
import type { GatewayStore } from "../store/store.ts";
import { ProblemError } from "./problems.ts";

/** What the routes work with. */
export interface ApiContext {
  version: string;
  clock: Clock;
  store: GatewayStore;
  alarms: AlarmService;
  directory: Directory;
  service: StationService;
  bus: LiveBus;
  site: StationList["site"];
  retention: { rawDays: number; minuteDays: number };
  readiness: () => Readiness;
  metrics: OpenMetricsRegistry;
}

/** The station of a path; throws `not-found`. */
export function findStation(context: ApiContext, id: string): StationRecord {
  const station = context.directory.station(id);
  if (!station) {
    throw new ProblemError("not-found", `There is no station ${id}; an id is <site>.<station>.`);
  }
  return station;
}

/** Changes wait until the gateway has read its past; throws `not-ready`. */
export function requireReady(context: ApiContext): void {
  const { ready, state } = context.readiness();
  if (!ready)
    throw new ProblemError("not-ready", `Still starting: ${state}. Try again in a moment.`);
}
