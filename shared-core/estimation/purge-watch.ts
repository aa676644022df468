import type { StationEvent } from "./estimate.ts";
import { litresPerMol, type SupplyPlan } from "./plan.ts";
import { shiftEndS } from "./site-hours.ts";
import type { EngineState } from "./supply-state.ts";
import { purgeAimS, purgeVolumeL, volumesWanted } from "./told.ts";

/** A declared purge from its declaration to its end: by a person, or by itself. */

type PurgeState = NonNullable<EngineState["purges"][number]>;

/** Gas off for so long after it flowed ends a purge, s: longer than a hose is moved (common practice, no source). */
const PAUSE_S = 600;
/** A purge declared before its gas is opened waits for it so long, s. */
const BEGIN_S = 3600;
/**
 * A purge is one flow, broken off once at most, to hand its hose on. With its aim reached, or where it was
 * broken off before, a break of this length is enough, s: what follows it is a weld, and a weld is judged
 * (common practice, no source; a needle that was turned is told from a gas-off within it).
 */
const BREAK_S = 15;
/** Nobody means a declaration of yesterday, s. */
const LONGEST_S = 86_400;

/** A person declares a purge at `t`. */
export function beginPurge(
  plan: SupplyPlan,
  state: EngineState,
  i: number,
  t: number,
  entry: PurgeState["entry"],
): void {
  state.purges[i] = { t, entry, usedL: 0, onS: 0, until: shiftEndS(plan, state, i, t) };
}

/** A declared purge ends by itself: told as an event, so that the journal holds it. */
export function endPurge(
  state: EngineState,
  i: number,
  t: number,
  by: NonNullable<StationEvent["by"]>,
): void {
  if (!state.purges[i]) return;
  state.purges[i] = null;
  state.events[i]!.push({ t, event: "purge-ended", by });
}

/**
 * Counts a declared purge on to `t`, and ends it at an arc, a long gas-off, or with the shift.
 * @param molPerS true flow of the drop while gas is on
 */
export function followPurge(
  plan: SupplyPlan,
  state: EngineState,
  i: number,
  t: number,
  dtS: number,
  molPerS: number,
): void {
  const purge = state.purges[i];
  if (!purge) return;
  const drop = state.drops[i]!;
  if (drop.on === true) {
    const seconds = Math.min(dtS, 60);
    const lpm = molPerS * Math.exp(state.told.volumeLog) * 60 * litresPerMol(plan);
    purge.usedL += (lpm * seconds) / 60;
    purge.onS = (purge.onS ?? 0) + seconds;
  }
  const standing = standingOf(purge, plan.cylinder.composition.O2 ?? 0);
  // What is welded under is no purge any more.
  if (drop.arc === true && (drop.arcSince ?? t) >= purge.t) {
    endPurge(state, i, drop.arcSince ?? t, "arc");
    return;
  }
  if (drop.on === false) {
    const begun = purge.usedL > 0;
    const offFrom = Math.max(drop.offSince ?? purge.t, purge.t);
    const again = purge.brokenT !== undefined && purge.brokenT < offFrom;
    const pauseS = !begun ? BEGIN_S : again || standing === "reached" ? BREAK_S : PAUSE_S;
    if (t - offFrom >= pauseS) {
      endPurge(state, i, offFrom + pauseS, "gas-off");
      return;
    }
    if (begun && t - offFrom >= BREAK_S) purge.brokenT = offFrom;
  }
  const shiftEnd = purge.until ?? purge.t + LONGEST_S;
  const goesOn = drop.on === true && standing === "within";
  if (t >= purge.t + LONGEST_S || (t >= shiftEnd && !goesOn)) endPurge(state, i, t, "shift");
}

function standingOf(purge: PurgeState, oxygenShare: number): "within" | "reached" | "open" {
  const volumeL = purgeVolumeL(purge.entry);
  const onS = purge.onS ?? 0;
  const aimS = purgeAimS({
    minutes: purge.entry.minutes ?? null,
    volumesWanted: volumesWanted(purge.entry, oxygenShare),
    volumesPassed: volumeL === null ? null : purge.usedL / volumeL,
    onS,
  });
  if (aimS === null) return "open";
  return onS < aimS ? "within" : "reached";
}
