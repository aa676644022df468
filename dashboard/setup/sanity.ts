import type { NodeView } from "@leeward/shared-core/api/setup.ts";
import { BAR_PA } from "@leeward/shared-core/units/factors.ts";

/**
 * Whether a node's sensors can be believed, before they are fitted: in open air both pressures are
 * 0 bar gauge within their class, and the thermometers agree with the air.
 */
export type SanityState =
  | "good"
  /** Two thermometers agree: both may be wrong alike. */
  | "agree"
  | "off"
  | "fault"
  | "old"
  | "missing"
  /** A pressure sensor's range and class are not known. */
  | "no-class"
  /** A thermometer with nothing to be held against. */
  | "no-air";

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
  const air = airC ?? usable(measured, "ambient-temperature");
  const pressure = (
    channel: "cylinder-pressure" | "line-pressure",
    sensor: SensorClass | null,
  ): SanityRow => {
    const limit = sensor && (sensor.rangeBar * BAR_PA * sensor.accuracyPercentFs) / 100;
    return judged(measured, channel, { limit, expected: 0, fine: "good", unknown: "no-class" });
  };
  const probes = (["cylinder-temperature", "regulator-temperature"] as const).filter(
    (channel) => channel in measured || `${channel}/fault` in measured,
  );
  // Without an air temperature two probes that both read are held against each other; one alone is not judged.
  const read = probes.map((one) => usable(measured, one)).filter((value) => value !== null);
  const mean = read.length === 2 ? read.reduce((sum, value) => sum + value, 0) / 2 : null;
  const expected = air ?? mean;
  return [
    pressure("cylinder-pressure", classes.cylinder),
    ...(classes.lineFitted ? [pressure("line-pressure", classes.line)] : []),
    ...probes.map((channel) =>
      judged(measured, channel, {
        limit: expected === null ? null : AIR_K,
        expected: expected ?? 0,
        fine: air === null ? "agree" : "good",
        unknown: "no-air",
      }),
    ),
  ];
}

/** True where every row reads as the air. Thermometers that only agree with each other do not. */
export function allGood(rows: readonly SanityRow[]): boolean {
  return rows.length > 0 && rows.every(({ state }) => state === "good");
}

/** What a reading is held against; `unknown`: its state where there is no limit. */
interface Against {
  limit: number | null;
  expected: number;
  fine: "good" | "agree";
  unknown: "no-class" | "no-air";
}

function judged(
  measured: NodeView["measured"],
  channel: SanityRow["channel"],
  { limit, expected, fine, unknown }: Against,
): SanityRow {
  const row = measured[channel];
  const fault = faultOf(measured, channel);
  const value = numberOf(row);
  if (fault !== null) return { channel, state: "fault", value, limit, fault };
  if (!row || value === null) return { channel, state: "missing", value: null, limit };
  if (row.ageS > OLD_S) return { channel, state: "old", value, limit };
  if (limit === null) return { channel, state: unknown, value, limit };
  const within = Math.abs(value - expected) <= limit;
  return { channel, state: within ? fine : "off", value, limit };
}

/** The fault word that stands at a channel; null where there is none, or a reading came after it. */
function faultOf(measured: NodeView["measured"], channel: string): string | null {
  const fault = measured[`${channel}/fault`];
  const row = measured[channel];
  if (!fault || typeof fault.value !== "string") return null;
  return !row || fault.ageS <= row.ageS ? fault.value : null;
}

/** A reading that others may be held against: a number, of now, without a fault. */
function usable(measured: NodeView["measured"], channel: string): number | null {
  const row = measured[channel];
  if (!row || row.ageS > OLD_S || faultOf(measured, channel) !== null) return null;
  return numberOf(row);
}

function numberOf(row: NodeView["measured"][string] | undefined): number | null {
  return typeof row?.value === "number" ? row.value : null;
}
