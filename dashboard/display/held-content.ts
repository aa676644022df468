import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { words } from "../language/words.ts";
import { ageInWords } from "./durations.ts";

/**
 * `content as it was 19 min ago`, where the content is one of before the valve was closed: its age
 * when it was estimated, and how long ago that is at `nowS` (Unix s). Null where it is of now.
 */
export function heldContentText(estimate: Estimate | null, nowS: number): string | null {
  const heldS = estimate?.content.ageS;
  if (!estimate || heldS === undefined) return null;
  return words.left.held(ageInWords(heldS + Math.max(0, nowS - estimate.t)));
}
