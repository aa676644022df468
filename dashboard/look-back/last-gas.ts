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

/**
 * The hour of gas nearest to a span in which none flowed, Unix s: what somebody may have meant who
 * looks at an empty one. Null where gas flowed in the span, where the history does not reach it, and
 * where it knows of none.
 *
 * @param span from and to, Unix s
 * @param asked where the history was asked from, and the length of its steps: it holds only those
 *   in which something was recorded
 * @param nowS the hour ends no later
 */
export function nearestGasSpan(
  history: History,
  span: { from: number; to: number },
  { sinceS, bucketS }: { sinceS: number; bucketS: number },
  nowS: number,
): { from: number; to: number } | null {
  const { t = [], max = [] } = history.series.flow ?? {};
  if (span.to <= sinceS) return null;
  let nearest: { t: number; away: number } | null = null;
  for (const [index, at] of t.entries()) {
    const flow = max[index] ?? null;
    if (flow === null || flow <= OFF_LPM) continue;
    const away = Math.max(span.from - (at + bucketS), at - span.to);
    if (away < 0) return null;
    if (nearest === null || away < nearest.away) nearest = { t: at, away };
  }
  if (nearest === null) return null;
  if (nearest.t >= span.to) return { from: nearest.t, to: Math.min(nowS, nearest.t + HOUR_S) };
  const to = Math.min(nowS, nearest.t + bucketS);
  return { from: to - HOUR_S, to };
}
