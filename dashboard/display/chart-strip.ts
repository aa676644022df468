import { lengthOf, type TimeWindow } from "./chart-window.ts";

/**
 * A chart draws a strip that is longer than its window and shifts that picture while it is moved, so
 * that a frame costs no drawing. Only where the strip runs out, or its scale is no longer the
 * window's, is it drawn anew.
 */

/** Length of the strip in windows. */
export const STRIP = 2;

/** Share of a window that has to be left of the strip, while it moves and at rest. */
const NEAR = 0.15;
const NEAR_AT_REST = 0.35;
/** Scales closer than this look the same: half a pixel over a thousand. */
const SAME_SCALE = 0.0005;
/** While one zooms a line may be this much too wide or too narrow; at rest not at all. */
const LOOSE_STRETCH = 1.2;
/** A picture stretched more than this is none. */
const MOST_STRETCH = 2;

/**
 * What to draw for a window: as much on either side, but nothing later than now. Strips of one scale
 * stand whole pixels apart, so that the next one lies exactly on the last.
 *
 * @param pixels of the device across the window
 */
export function stripFor(window: TimeWindow, nowS: number, pixels: number): TimeWindow {
  const length = lengthOf(window);
  const spare = ((STRIP - 1) / 2) * length;
  const to = Math.min(window.to + spare, Math.max(nowS, window.to));
  const step = length / Math.max(1, pixels);
  const from = Math.ceil((to - STRIP * length) / step) * step;
  return { from, to: from + STRIP * length };
}

/** Where the strip stands behind its window: its left edge in px, and how far it is stretched. */
export function placeOf(
  strip: TimeWindow,
  window: TimeWindow,
  widthPx: number,
): { leftPx: number; stretch: number } {
  const length = lengthOf(window);
  const stretch = lengthOf(strip) / (STRIP * length);
  return {
    leftPx: ((strip.from - window.from) / length) * widthPx,
    stretch: Math.abs(stretch - 1) < SAME_SCALE ? 1 : stretch,
  };
}

/** `out`: part of the window has no picture. `due`: it will soon have none, or is stretched. */
export type Fit = "good" | "due" | "out";

export function fitOf(strip: TimeWindow, window: TimeWindow, nowS: number, resting = false): Fit {
  const length = lengthOf(window);
  const before = (window.from - strip.from) / length;
  const after = (strip.to - window.to) / length;
  if (before < -0.001 || after < -0.001) return "out";
  const { stretch } = placeOf(strip, window, 1);
  if (stretch > MOST_STRETCH || stretch < 1 / MOST_STRETCH) return "out";
  const loose = resting ? 1 : LOOSE_STRETCH;
  if (stretch > loose || stretch < 1 / loose) return "due";
  const near = resting ? NEAR_AT_REST : NEAR;
  if (before < near) return "due";
  return after < near && strip.to < nowS - near * length ? "due" : "good";
}
