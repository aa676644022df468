import type { History } from "@leeward/shared-core/api/stations.ts";
import type { Span } from "./route.ts";

/** Columns for one panel: times, then one array a line; null is a gap and is drawn as one. */
export type Columns = [number[], ...(number | null)[][]];

/** Mean of one series by name with its extremes, converted; a missing series is all gaps. */
export interface Line {
  name: string;
  pick: "mean" | "min" | "max";
  convert: (value: number) => number;
}

/**
 * Lines of one panel on one time axis. Where two series have buckets at different times each keeps
 * its own. A declared gap of more than a bucket gets a null within it, so that no line is drawn
 * across; a bucket that holds data is data, wherever its start lies.
 */
export function columns(history: History, lines: readonly Line[], bucketS = 0): Columns {
  const times = new Set<number>();
  for (const line of lines) {
    for (const t of history.series[line.name]?.t ?? []) times.add(t);
  }
  for (const gap of history.gaps) {
    if (gap.to - gap.from > bucketS) times.add((gap.from + gap.to) / 2);
  }
  const t = [...times].sort((a, b) => a - b);
  const arrays = lines.map((line) => {
    const series = history.series[line.name];
    const values = series ? series[line.pick] : [];
    const byTime = new Map(series?.t.map((time, index) => [time, values[index] ?? null]));
    return t.map((time) => {
      const value = byTime.get(time) ?? null;
      return value === null ? null : line.convert(value);
    });
  });
  return [t, ...arrays];
}

/** Below this gas counts as off, in the viewer's unit. */
const OFF = 0.02;
/** Buckets up to this length hold one state of the gas, but for those in which it changes. */
const SHORT_BUCKET_S = 15;

/**
 * Flow is drawn only while gas flows; gas off is a gap. Where gas went on or off within a bucket its
 * mean says nothing: a short bucket is left out, and of a long one the highest flow is drawn.
 */
export function flowWhileOn(
  low: readonly (number | null)[],
  mean: readonly (number | null)[],
  high: readonly (number | null)[],
  bucketS: number,
): (number | null)[] {
  return mean.map((value, index) => {
    const highest = high[index] ?? null;
    if (value === null || highest === null || highest <= OFF) return null;
    if ((low[index] ?? 0) > OFF) return value;
    return bucketS <= SHORT_BUCKET_S ? null : highest;
  });
}

/** Last value of a line up to an index, and its own index, for the name at the line's end. */
export function lineEnd(
  values: readonly (number | null)[],
  last = values.length - 1,
): { index: number; value: number } | null {
  for (let index = Math.min(last, values.length - 1); index >= 0; index--) {
    const value = values[index];
    if (value !== null && value !== undefined) return { index, value };
  }
  return null;
}

/** Upper end of a value axis from zero: the next step that the eye can divide. */
export function niceTop(value: number): number {
  if (!(value > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(value));
  for (const step of [1, 1.2, 1.6, 2, 2.4, 3, 4, 5, 6, 8, 10]) {
    if (step * power >= value * 1.0001) return step * power;
  }
  return 10 * power;
}

/** Whether a column holds any value: without one its axis has no scale of its own. */
export function hasValue(column: readonly (number | null)[] | undefined): boolean {
  return column?.some((value) => value !== null) ?? false;
}

/** Pushes labels at line ends apart so that none covers another; positions in px from the top. */
export function spread(positions: readonly number[], gapPx: number): number[] {
  const order = positions.map((_, i) => i).sort((a, b) => positions[a]! - positions[b]!);
  const result = [...positions];
  for (let k = 1; k < order.length; k++) {
    const above = result[order[k - 1]!]!;
    const here = order[k]!;
    if (result[here]! < above + gapPx) result[here] = above + gapPx;
  }
  return result;
}

/** How often to fetch again, wall seconds: about once a bucket, never more than every 5 s. */
export function refetchS(span: Span, spanS: number, points: number, speed: number): number {
  const bucket = spanS / points / Math.max(1, speed);
  return Math.min(span === "1y" ? 600 : 60, Math.max(5, bucket));
}
