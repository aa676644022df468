import type { StationDocument } from "@leeward/shared-core/documents/station.ts";

type FlowDevice = NonNullable<StationDocument["flowDevice"]>;

/** More marks than a hand in a glove finds at once are thinned. */
const MOST = 16;
/** What scales are divided by, in the unit printed on them. */
const STEPS = [1, 2, 5, 10, 20, 50] as const;
/** Ends of a scale of which nothing is written: what torches take, common practice. */
const usual = { "L/min": { least: 2, most: 20 }, CFH: { least: 5, most: 60 } } as const;

/**
 * Marks of a device's scale, in the unit printed on it, rising: every one of the scale, so that none
 * of them suggests what is read.
 */
export function scaleMarks(device: FlowDevice): number[] {
  const unit = device.readingUnit;
  const scale = device.kind === "variable-area" ? device : undefined;
  const least = scale?.scaleMin ?? usual[unit].least;
  const most = Math.max(scale?.scaleMax ?? usual[unit].most, least);
  const step = STEPS.find((one) => Math.floor(most / one) - Math.ceil(least / one) < MOST) ?? 100;
  const first = Math.max(1, Math.ceil(least / step));
  const count = Math.max(0, Math.floor(most / step) - first + 1);
  return Array.from({ length: count }, (_, k) => (first + k) * step);
}
