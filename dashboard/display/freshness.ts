import { isOldEstimate } from "@leeward/shared-core/estimation/age-limit.ts";
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

/** Whether a station's values may look live. A page without its gateway shows nothing as live. */
export function freshness(input: FreshnessInput): Freshness {
  if (input.t === null || input.mode === null) return { state: "none", ageS: null };
  const ageS = Math.max(0, input.nowS - input.t);
  const old =
    input.connection === "lost" ||
    input.connection === "connecting" ||
    isOldEstimate({ t: input.t, mode: input.mode }, input);
  return { state: old ? "old" : "live", ageS };
}
