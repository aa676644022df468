import type { NodeView } from "@leeward/shared-core/api/setup.ts";
import { BAR_PA } from "@leeward/shared-core/units/factors.ts";

/**
 * Whether a node's sensors can be believed, before they are fitted: in open air both pressures are
 * 0 bar gauge within their class, and the thermometers agree with the air.
 */
export type SanityState = "good" | "agree" | "off" | "fault" | "old" | "missing" | "no-class";

export interface SanityRow {
  channel: "cylinder-pressure" | "line-pressure" | "cylinder-temperature" | "regulator-temperature";
  state: SanityState;
  /** Gauge Pa or °C; null where there is none. */
  value: number | null;
  /** What it may be off by; null where its class is not known. */
  limit: number | null;
  /** What a fault word says. */
  fault?: string;
}

/** Class of a sensor as described: range in bar, limit in percent of it. */
export interface SensorClass {
  rangeBar: number;
  accuracyPercentFs: number;
}

/** Older than this nothing is judged, s: an idle node packs every 60 s. */
const OLD_S = 90;
/** Thermometers may differ from the air by this much, K: 0.5 K of their class and slow warming. */
const AIR_K = 3;

export function sanity(
  node: Pick<NodeView, "measured">,
  classes: { cylinder: SensorClass | null; line: SensorClass | null; lineFitted: boolean },
  airC: number | null,
): SanityRow[] {
  const { measured } = node;
  const air = airC ?? numberOf(measured["ambient-temperature"]);
  const pressure = (
    channel: "cylinder-pressure" | "line-pressure",
    sensor: SensorClass | null,
  ): SanityRow => {
    const limit = sensor && (sensor.rangeBar * BAR_PA * sensor.accuracyPercentFs) / 100;
    return judged(measured, channel, limit, 0, "good");
  };
  const probes = (["cylinder-temperature", "regulator-temperature"] as const).filter(
    (channel) => channel in measured || `${channel}/fault` in measured,
  );
  // Without an air temperature the two probes are only held against each other.
  const mean = probes.length === 2 ? meanOf(probes.map((one) => numberOf(measured[one]))) : null;
  const expected = air ?? mean;
  return [
    pressure("cylinder-pressure", classes.cylinder),
    ...(classes.lineFitted ? [pressure("line-pressure", classes.line)] : []),
    ...probes.map((channel) =>
      judged(
        measured,
        channel,
        expected === null ? null : AIR_K,
        expected ?? 0,
        air === null ? "agree" : "good",
      ),
    ),
  ];
}

/** True where no row speaks against fitting the sensors, and none is unknown. */
export function allGood(rows: readonly SanityRow[]): boolean {
  return rows.length > 0 && rows.every(({ state }) => state === "good" || state === "agree");
}

function judged(
  measured: NodeView["measured"],
  channel: SanityRow["channel"],
  limit: number | null,
  expected: number,
  fine: "good" | "agree",
): SanityRow {
  const row = measured[channel];
  const fault = measured[`${channel}/fault`];
  const value = numberOf(row);
  if (fault && (!row || fault.ageS <= row.ageS) && typeof fault.value === "string") {
    return { channel, state: "fault", value, limit, fault: fault.value };
  }
  if (!row || value === null) return { channel, state: "missing", value: null, limit };
  if (row.ageS > OLD_S) return { channel, state: "old", value, limit };
  if (limit === null) return { channel, state: "no-class", value, limit };
  const within = Math.abs(value - expected) <= limit;
  return { channel, state: within ? fine : "off", value, limit };
}

function numberOf(row: NodeView["measured"][string] | undefined): number | null {
  return typeof row?.value === "number" ? row.value : null;
}

function meanOf(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length;
}
