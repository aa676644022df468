import type { Estimate, Mode } from "./estimate.ts";

/** A node that idles sends a pack a minute; after three of them it is late. */
export const IDLE_LIMIT_S = 180;
/** A node with gas on sends every 2 s. */
const FLOWING_LIMIT_S = 15;
/** Wall seconds that network and page may take. */
const TRANSPORT_S = 3;

/**
 * Seconds after which a value of this mode no longer counts as live. `common practice, no source`:
 * some packs may be late before a value is called old.
 *
 * @param paceS seconds between packs, as listed
 * @param speed clock seconds per wall second (1 but for demos)
 */
export function ageLimitS(mode: Mode, paceS: number, speed: number): number {
  const transport = TRANSPORT_S * speed;
  // The pace is that of the moment it was listed: an idle one says nothing about flowing.
  if (mode === "flowing") {
    return (
      (3 * paceS <= IDLE_LIMIT_S / 2 ? Math.max(FLOWING_LIMIT_S, 3 * paceS) : FLOWING_LIMIT_S) +
      transport
    );
  }
  const idle = mode === "idle" || mode === "valve-closed";
  return Math.max(3 * paceS, idle ? IDLE_LIMIT_S : FLOWING_LIMIT_S) + transport;
}

/**
 * When what an estimate shows was measured, Unix s. The line that says that a node is silent is
 * newer than anything the node has sent: what it shows is as old as the newest sample.
 *
 * @param lastSampleS time of the node's newest sample, Unix s; null where there is none
 */
export function measuredAtS(
  estimate: Pick<Estimate, "t" | "mode">,
  lastSampleS: number | null,
): number {
  const { t, mode } = estimate;
  return mode === "silent" && lastSampleS !== null && lastSampleS < t ? lastSampleS : t;
}

/**
 * Whether an estimate is older than its pace, or of a silent node: then nothing of it, its mode
 * neither, tells what is now.
 *
 * @param nowS time by the same clock, Unix s
 */
export function isOldEstimate(
  { t, mode }: Pick<Estimate, "t" | "mode">,
  at: { nowS: number; paceS: number; speed: number },
): boolean {
  return mode === "silent" || at.nowS - t > ageLimitS(mode, at.paceS, at.speed);
}
