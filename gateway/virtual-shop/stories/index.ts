import { healthy } from "./healthy.ts";
import { lastLiquid } from "./last-liquid.ts";
import { longSeam } from "./long-seam.ts";
import { openPurge } from "./open-purge.ts";
import { shortFlow } from "./short-flow.ts";
import type { Story } from "./story.ts";
import { trappedLine } from "./trapped-line.ts";

/** The demo's six stations. */
export const stories: readonly Story[] = [
  shortFlow,
  longSeam,
  trappedLine,
  openPurge,
  healthy,
  lastLiquid,
];
