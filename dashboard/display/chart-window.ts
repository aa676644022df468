import { type Span, spans } from "./route.ts";

/** What a chart shows of time, Unix seconds. */
export interface TimeWindow {
  from: number;
  to: number;
}

/** What was fetched, and how finely. */
export interface Loaded extends TimeWindow {
  /** Length of a bucket asked for, s. */
  bucketS: number;
}

/** Closer than this the samples themselves stand apart. */
export const SHORTEST_S = 120;
export const LONGEST_S = 366 * 86_400;

export const lengthOf = ({ from, to }: TimeWindow): number => to - from;

/** A named span that ends now. */
export function lastSpan(span: Span, nowS: number): TimeWindow {
  return { from: nowS - spans[span], to: nowS };
}

/** The named span that a window is as long as, if it is one. */
export function spanOf(window: TimeWindow): Span | null {
  const length = lengthOf(window);
  const names = Object.keys(spans) as Span[];
  return names.find((name) => Math.abs(length / spans[name] - 1) < 0.005) ?? null;
}

/** Moves and cuts a window so that it is neither too short nor too long and does not reach past now. */
export function clampWindow({ from, to }: TimeWindow, nowS: number): TimeWindow {
  const length = Math.min(LONGEST_S, Math.max(SHORTEST_S, to - from));
  const middle = (from + to) / 2;
  const end = Math.min(nowS, middle + length / 2);
  return { from: end - length, to: end };
}

/** Moved by a share of its length: negative is earlier. */
export function panned(window: TimeWindow, share: number, nowS: number): TimeWindow {
  const by = share * lengthOf(window);
  return clampWindow({ from: window.from + by, to: window.to + by }, nowS);
}

/**
 * Longer or shorter about one moment, which keeps its place.
 *
 * @param factor new length over the old one
 * @param place where that moment stands in the window, 0 (left) to 1 (right)
 */
export function zoomed(
  window: TimeWindow,
  factor: number,
  place: number,
  nowS: number,
): TimeWindow {
  const length = Math.min(LONGEST_S, Math.max(SHORTEST_S, lengthOf(window) * factor));
  const still = window.from + place * lengthOf(window);
  const from = still - place * length;
  return clampWindow({ from, to: from + length }, nowS);
}

/** Two fingers: the moments under them stay under them. Places are 0 to 1 across the chart. */
export function pinched(
  window: TimeWindow,
  before: readonly [number, number],
  after: readonly [number, number],
  nowS: number,
): TimeWindow {
  const apart = after[1] - after[0];
  if (Math.abs(apart) < 0.02) return window;
  const length = lengthOf(window);
  const held = window.from + before[0] * length;
  const newLength = Math.abs(((before[1] - before[0]) * length) / apart);
  const from = held - after[0] * newLength;
  return clampWindow({ from, to: from + newLength }, nowS);
}

/** Share of a window that is fetched beyond it on either side, so that panning finds it there. */
const SPARE = 0.5;
/** Share of a window that has to be left of that, before more is fetched. */
const NEAR = 0.2;

/** Most steps across a window, and how long a window they tell gas on from gas off in, s. */
const MOST_POINTS = 600;
const FINE_S = MOST_POINTS * 15;

/**
 * Steps that a chart has room for: a line is told apart from its neighbours at about 2 px a step.
 * A short window is fetched finely all the same, so that gas that went off is seen as a gap.
 */
export function pointsFor(widthPx: number, lengthS: number): number {
  if (lengthS <= FINE_S) return MOST_POINTS;
  return Math.round(Math.min(MOST_POINTS, Math.max(120, widthPx / 1.8)));
}

/** A window and nothing beside it, which is the sooner there. */
export function exactly(
  { from, to }: TimeWindow,
  points: number,
  nowS: number,
): Loaded & { points: number } {
  return { from, to: Math.min(nowS, to), bucketS: (to - from) / points, points };
}

/** What to fetch for a window: with some to spare. */
export function toLoad(
  window: TimeWindow,
  points: number,
  nowS: number,
): Loaded & { points: number } {
  const length = lengthOf(window);
  const from = window.from - SPARE * length;
  const to = Math.min(nowS, window.to + SPARE * length);
  const bucketS = length / points;
  return { from, to, bucketS, points: Math.max(2, Math.round((to - from) / bucketS)) };
}

/** Whether what was fetched serves a window: reaches far enough, and is neither coarse nor huge. */
export function isCovered(
  loaded: Loaded,
  window: TimeWindow,
  points: number,
  nowS: number,
): boolean {
  const wanted = lengthOf(window) / points;
  const near = NEAR * lengthOf(window);
  return (
    loaded.from <= window.from - near &&
    (loaded.to >= window.to + near || loaded.to >= nowS - 2 * loaded.bucketS - 10) &&
    loaded.bucketS < 1.6 * wanted &&
    loaded.bucketS > wanted / 4
  );
}
