import type { StationSnapshot } from "./condition.ts";
import { type Said, says } from "./language/said.ts";

/** How a declared purge stands, for the screen; null where none is declared. No alarm. */
export function purgeProgress(snapshot: StationSnapshot): Said | null {
  const purge = snapshot.purge;
  if (purge === null) return null;
  const volumes = purge.volumesPassed;
  if (volumes === null) return says("purge-by-time", { s: Math.max(0, snapshot.t - purge.since) });
  if (purge.targetVolumes !== null && volumes < purge.targetVolumes) {
    return says("purge-going", { volumes, wanted: purge.targetVolumes });
  }
  return says("purge-through", { volumes });
}
