import { z } from "zod";
import { positive } from "./common.ts";

/** Against a reference gauge: the node showed `reads` without calibration, the gauge said `is`; gauge bar. */
export const twoPointSchema = z
  .strictObject({
    lowReadsBar: z.number(),
    lowIsBar: z.number(),
    highReadsBar: positive,
    highIsBar: positive,
  })
  .refine((points) => points.highIsBar > points.lowIsBar, {
    path: ["highIsBar"],
    message: "must be above lowIsBar",
  });
export type TwoPoint = z.infer<typeof twoPointSchema>;

/** Share of the range that must lie between the points; the node refuses less. */
export const LEAST_SPAN = 0.2;
/** What the sensor may show for what the gauge says between the points; the node refuses more. */
const SPAN_RATIO = { least: 0.8, most: 1.25 } as const;

/** What stands against two points of a sensor with this range (bar): then no calibration is at fault. */
export function twoPointFault(
  { lowReadsBar, lowIsBar, highReadsBar, highIsBar }: TwoPoint,
  rangeBar: number,
): "points-too-close" | "span-off" | null {
  const span = highIsBar - lowIsBar;
  if (span < rangeBar * LEAST_SPAN) return "points-too-close";
  const ratio = (highReadsBar - lowReadsBar) / span;
  return ratio < SPAN_RATIO.least || ratio > SPAN_RATIO.most ? "span-off" : null;
}

/** What a node showed without its calibration, gauge bar, where it now shows `shownBar` with it. */
export function uncalibratedBar(points: TwoPoint | undefined, shownBar: number): number {
  if (!points) return shownBar;
  const { lowReadsBar, lowIsBar, highReadsBar, highIsBar } = points;
  const perBar = (highReadsBar - lowReadsBar) / (highIsBar - lowIsBar);
  return lowReadsBar + (shownBar - lowIsBar) * perBar;
}

/** Two points of a sensor that shows `readsBar` in the open air and has its span as made. */
export function zeroOnly(readsBar: number, rangeBar: number): TwoPoint {
  return {
    lowReadsBar: readsBar,
    lowIsBar: 0,
    highReadsBar: rangeBar + readsBar,
    highIsBar: rangeBar,
  };
}

/** What a calibration takes out: how far the sensor is off at 0 bar (bar), and its span (a share). */
export function takenOut(points: TwoPoint): { zeroBar: number; spanShare: number } {
  const perBar = (points.highReadsBar - points.lowReadsBar) / (points.highIsBar - points.lowIsBar);
  return { zeroBar: uncalibratedBar(points, 0), spanShare: perBar - 1 };
}
