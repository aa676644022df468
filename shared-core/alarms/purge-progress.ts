import type { StationSnapshot } from "./condition.ts";
import { rounded, spanText } from "./wording.ts";

/** How a declared purge stands, for the screen; null where none is declared. No alarm. */
export function purgeProgress(snapshot: StationSnapshot): string | null {
  const purge = snapshot.purge;
  if (purge === null) return null;
  const span = spanText(Math.max(0, snapshot.t - purge.since));
  if (purge.volumesPassed === null) {
    return `Purge on for ${span}; measure the oxygen before welding.`;
  }
  const passed = `${purge.volumesPassed.toFixed(1)} volumes through`;
  if (purge.targetVolumes !== null && purge.volumesPassed < purge.targetVolumes) {
    return `${passed} of ${rounded(purge.targetVolumes)}; keep purging.`;
  }
  return `${passed}; measure the oxygen before welding.`;
}
