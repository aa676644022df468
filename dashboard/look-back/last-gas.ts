import type { History } from "@leeward/shared-core/api/stations.ts";

/** Below this gas counts as off, L/min. */
const OFF_LPM = 0.02;
const HOUR_S = 3600;

/**
 * The hour up to the last gas of a history, Unix s: what somebody most likely asks about. Null where
 * no gas flowed in it.
 *
 * @param bucketS length of the history's steps
 * @param nowS the span ends no later
 */
export function lastGasSpan(
  history: History,
  bucketS: number,
  nowS: number,
): { from: number; to: number } | null {
  const flow = history.series.flow;
  const last = flow?.max.findLastIndex((value) => value !== null && value > OFF_LPM) ?? -1;
  const t = flow?.t[last];
  if (t === undefined) return null;
  const to = Math.min(nowS, t + bucketS);
  return { from: to - HOUR_S, to };
}
