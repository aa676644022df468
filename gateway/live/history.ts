import {
  type History,
  type HistorySeriesName,
  historySeriesNames,
} from "@leeward/shared-core/api/stations.ts";
import type { GatewayStore, HistoryPart, HistoryRows } from "../store/store.ts";
import type { Directory, StationRecord } from "./directory.ts";

/** A silence longer than this shows as a gap, s: three samples at the idle pace are 45 s. */
const silenceS = 60;

const nodeSeries: Readonly<Record<string, string>> = {
  "cylinder-pressure": "Pa",
  "line-pressure": "Pa",
  "cylinder-temperature": "Cel",
  "regulator-temperature": "Cel",
  "ambient-temperature": "Cel",
};

const stationSeries: Readonly<Record<string, string>> = {
  flow: "L/min",
  "flow-low": "L/min",
  "flow-high": "L/min",
  indicated: "L/min",
  content: "L",
};

export interface HistoryRequest {
  from: number;
  to: number;
  points: number;
  /** All of them where none is named. */
  series?: readonly HistorySeriesName[] | undefined;
  nowS: number;
  rawDays: number;
  minuteDays: number;
}

/** History of one station, at the resolution of a screen, whatever the span. */
export async function stationHistory(
  store: GatewayStore,
  directory: Directory,
  station: StationRecord,
  request: HistoryRequest,
): Promise<History> {
  const { from, points, nowS } = request;
  const to = Math.min(request.to, Math.max(nowS, from + 1));
  const nodeParts = directory.historyParts(station, from, to);
  const ownParts: HistoryPart[] = [{ owner: `station:${station.id}`, from, to }];
  const rows = await store.history({
    from,
    to,
    points,
    rawFrom: nowS - request.rawDays * 86_400,
    minutesFrom: nowS - request.minuteDays * 86_400,
    series: (request.series ?? historySeriesNames).map((name) => ({
      name,
      parts: name in nodeSeries ? nodeParts : ownParts,
    })),
    presence: { parts: nodeParts, silenceS },
  });
  const series: History["series"] = {};
  for (const [name, columns] of rows.series) {
    series[name] = { unit: unitOf(name, station), ...withGaps(columns, rows) };
  }
  return { series, gaps: rows.gaps, reference: "metric20" };
}

function unitOf(name: string, station: StationRecord): string {
  if (name === "indicated") return station.document.flowDevice?.readingUnit ?? "L/min";
  return nodeSeries[name] ?? stationSeries[name] ?? "";
}

type Columns = HistoryRows["series"] extends Map<string, infer T> ? T : never;
type GappedColumns = Omit<History["series"][string], "unit">;

/** A null between the last value before a gap and the first one after it. */
export function withGaps(
  columns: Columns,
  rows: Pick<HistoryRows, "gaps" | "bucketS">,
): GappedColumns {
  const out: GappedColumns = { t: [], min: [], mean: [], max: [] };
  let next = 0;
  const { gaps, bucketS } = rows;
  for (const [index, t] of columns.t.entries()) {
    while (next < gaps.length && gaps[next]!.to <= t + bucketS) {
      const before = out.t.at(-1);
      if (before !== undefined && t - before > bucketS) addNull(out, (before + t) / 2);
      next++;
    }
    out.t.push(t);
    out.min.push(columns.min[index]!);
    out.mean.push(columns.mean[index]!);
    out.max.push(columns.max[index]!);
  }
  const last = out.t.at(-1);
  if (next < gaps.length && last !== undefined && gaps[next]!.from >= last) {
    addNull(out, last + bucketS);
  }
  return out;
}

function addNull(out: GappedColumns, t: number): void {
  out.t.push(t);
  out.min.push(null);
  out.mean.push(null);
  out.max.push(null);
}
