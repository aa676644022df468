import type { Mode } from "@leeward/shared-core/estimation/estimate.ts";

/** How the page stands with its gateway. */
export type Connection = "connecting" | "live" | "lost";

export interface FreshnessInput {
  connection: Connection;
  /** Time of the estimate shown, Unix s; null where there is none. */
  t: number | null;
  mode: Mode | null;
  /** The gateway's clock now, Unix s. */
  nowS: number;
  paceS: number;
  /** Clock seconds per wall second (1 but for demos). */
  speed: number;
}

export interface Freshness {
  /** `none`: nothing was ever received. Only `live` values may look live. */
  state: "live" | "old" | "none";
  ageS: number | null;
}

/** A node that idles sends a pack a minute; after three of them it is late. */
export const IDLE_LIMIT_S = 180;
/** A node with gas on sends every 2 s. */
const FLOWING_LIMIT_S = 15;
/** Wall seconds that network and page may take. */
const TRANSPORT_S = 3;

/** Seconds after which a value of this mode no longer counts as live. */
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

/** Whether a station's values may look live. A page without its gateway shows nothing as live. */
export function freshness(input: FreshnessInput): Freshness {
  if (input.t === null || input.mode === null) return { state: "none", ageS: null };
  const ageS = Math.max(0, input.nowS - input.t);
  const old =
    input.connection === "lost" ||
    input.connection === "connecting" ||
    input.mode === "silent" ||
    ageS > ageLimitS(input.mode, input.paceS, input.speed);
  return { state: old ? "old" : "live", ageS };
}
