import type { StationDocument } from "../documents/station.ts";
import type { RecentPast, StationSnapshot } from "./condition.ts";
import { type Said, says } from "./language/said.ts";

/**
 * How to take the pressure off an idle line, complete and in a safe order.
 * Practice of the trade (ANSI Z49.1 and CGA E-4 in substance, from memory); local rules come first.
 *
 * @param closed the readings say that the cylinder valve is closed: a hand on it makes sure; null where
 * the closing of it is said already
 */
export function bleedAdvice(station: StationDocument, closed: boolean | null = false): Said {
  return says("bleed", {
    closed,
    screw: station.regulator?.adjust !== "preset",
    confined: station.place?.confined === true,
  });
}

/** Greatest gauge pressure that the line may see, Pa; null where the set-up does not say. */
export function lineLimitPa(station: StationDocument): number | null {
  const bar = station.regulator?.maxLineBar ?? station.regulator?.reliefBar;
  return bar === undefined ? null : bar * 1e5;
}

/** Lock-up after a gas-on takes about a minute (closure test of ISO 2503); a trend looks back. */
const lockUpS = 120;

/** Opening the cylinder valve fills the line in one step; a trend over minutes needs as long to forget it. */
const openingS = 600;

/** True while the trend still holds the step of lock-up, or of the cylinder valve that was opened. */
export function trendUnsettled(snapshot: StationSnapshot, past: RecentPast): boolean {
  const { idleLine, t } = snapshot;
  if (idleLine === null || t - idleLine.since < lockUpS) return true;
  return past.openedT !== null && t - past.openedT < openingS;
}

/** Seconds until the line reaches `limitPa` at its present trend; null while it does not rise. */
export function secondsToLimit(snapshot: StationSnapshot, limitPa: number): number | null {
  const idle = snapshot.idleLine;
  if (idle === null || snapshot.linePa === null || idle.trendPaPerS <= 0) return null;
  return Math.max(0, limitPa - snapshot.linePa) / idle.trendPaPerS;
}
