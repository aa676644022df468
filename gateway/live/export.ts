import type { SupplySetup } from "@leeward/shared-core/estimation/engine.ts";
import type { GatewayStore, LogEntry } from "../store/store.ts";
import { Directory, setupTag } from "./directory.ts";

export interface StationExport {
  /** Files beside the samples: `station.json`, or `supply.json` and `stations/…`. */
  documents: { name: string; json: unknown }[];
  /** Lines of the samples file. */
  lines: unknown[];
}

const pageSize = 1000;

/**
 * What the engine of a station has received, in order of receipt. Replayed with `--every 1` it gives
 * the live lines again, exactly where the stretch begins with the engine itself (no `from`); a later
 * beginning starts as an engine starts that knows nothing yet.
 * Null where the store knows no such station.
 */
export async function exportStation(
  store: GatewayStore,
  stationId: string,
  span: { from?: number; to?: number },
): Promise<StationExport | null> {
  const directory = new Directory("UTC");
  await directory.load(store);
  const station = directory.station(stationId);
  if (!station) return null;
  const key = directory.keyOf(station);
  const engine = (await store.engines()).find((record) => record.key === key);
  const fallback = directory.setupOf(key);
  let setup = engine ? (JSON.parse(engine.setup) as SupplySetup) : fallback;
  if (!setup) return null;

  const of = directory.nodesEver(key);
  const stationNames = new Set(of.stations);
  const lines: unknown[] = [];
  const setupLogId = engine?.setupLogId ?? 0;
  // An engine that did not bring its past along begins with its set-up.
  let afterId = (engine?.startReceived ?? 0) > 0 ? setupLogId : 0;
  for (;;) {
    const page = await store.readLog({
      afterId,
      of,
      limit: pageSize,
      ...(span.to === undefined ? {} : { toReceived: span.to }),
    });
    for (const entry of page) {
      const before = span.from !== undefined && entry.received < span.from;
      if (entry.kind === "setup") {
        if (entry.station !== setupTag(key) || entry.id <= setupLogId) continue;
        const changed = JSON.parse(entry.payload) as SupplySetup;
        if (before) setup = changed;
        else lines.push({ received: entry.received, setup: changed });
      } else if (!before && (entry.kind !== "person" || stationNames.has(entry.station ?? ""))) {
        lines.push(lineOf(entry));
      }
    }
    const last = page.at(-1);
    if (!last || page.length < pageSize) break;
    afterId = last.id;
  }
  return { documents: documentsOf(setup), lines };
}

function lineOf(entry: LogEntry): unknown {
  const { received, kind, site, node, station, payload } = entry;
  const json = JSON.parse(payload) as unknown;
  if (kind === "person") return { received, station, person: json };
  return { received, topic: `leeward/v1/${site}/${node}/${kind}`, payload: json };
}

function documentsOf(setup: SupplySetup): StationExport["documents"] {
  const zone = setup.timeZone === undefined ? {} : { timeZone: setup.timeZone };
  if (setup.supply === null) {
    return [{ name: "station.json", json: { ...setup.stations[0], ...zone } }];
  }
  return [
    { name: "supply.json", json: { ...setup.supply, ...zone } },
    ...setup.stations.map((station) => ({
      name: `stations/${station.station}.json`,
      json: station,
    })),
  ];
}
