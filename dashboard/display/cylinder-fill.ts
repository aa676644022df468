import type { ContentEstimate } from "@leeward/shared-core/estimation/estimate.ts";

/** Heights of the drawing, 0 (foot) to 1 (full), from below. */
export interface CylinderFill {
  /** Cannot be used: hatched, from the foot up to here. */
  unusable: number;
  /** Surely there: filled up to here. */
  sure: number;
  /** Perhaps there: lighter, from `sure` up to here. */
  perhaps: number;
}

/**
 * How to draw what is in a cylinder.
 *
 * @param fullLitres what a full one holds, in the same litres as the estimate
 * @returns null where the content or the size is unknown: the drawing then stays empty with a dash
 */
export function cylinderFill(
  content: ContentEstimate,
  fullLitres: number | null,
): CylinderFill | null {
  if (content.litres === null || fullLitres === null || fullLitres <= 0) return null;
  const part = (litres: number) => Math.min(1, Math.max(0, litres / fullLitres));
  const sure = part(content.low ?? content.litres);
  const perhaps = part(content.high ?? content.litres);
  const usable = content.usableLitres ?? content.litres;
  return { unusable: Math.min(sure, part(content.litres - usable)), sure, perhaps };
}

/** A tile's cylinder is less than 200 pixels high. */
const STEPS = 1000;

/** The fill in steps finer than a tile can show, so that its drawing stands still between them. */
export function inSteps(fill: CylinderFill | null): CylinderFill | null {
  if (!fill) return null;
  const step = (part: number) => Math.round(part * STEPS) / STEPS;
  return { unusable: step(fill.unusable), sure: step(fill.sure), perhaps: step(fill.perhaps) };
}
