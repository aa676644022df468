import { fixed } from "./numbers.ts";

/** Decimals beyond which nobody reads on. */
const MOST = 6;

/**
 * A value and its bounds with as many decimals as the interval deserves: two figures of half its
 * width (JCGM 100:2008, 7.2.6).
 */
export function toInterval(value: number, low: number, high: number): [string, string, string] {
  const half = (high - low) / 2;
  // Without a width the value's own size says how fine it is told.
  const scale = half > 0 && Number.isFinite(half) ? half : Math.abs(value) / 10;
  const decimals = scale > 0 ? Math.min(MOST, Math.max(0, 1 - Math.floor(Math.log10(scale)))) : 0;
  return [fixed(value, decimals), fixed(low, decimals), fixed(high, decimals)];
}
