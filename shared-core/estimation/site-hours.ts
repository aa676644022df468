import { endAndNextStart, inSpan, spanEndS, type WeeklySpan } from "../documents/calendar.ts";
import { calibrationEndS } from "../documents/calibration.ts";
import type { StationDocument } from "../documents/station.ts";
import type { SupplySetup } from "./engine.ts";
import { localTimeS } from "./habit.ts";
import type { SupplyPlan } from "./plan.ts";
import type { EngineState } from "./supply-state.ts";

/** What the set-up says about hours and dates: planned power-off, shifts, calibrations. */

/** Where no shifts are set a declaration ends at midnight, and after this long at the latest, s. */
const LONGEST_SHIFT_S = 10 * 3600;

/** End of the shift that `t` lies in, Unix s. */
export function shiftEndS(plan: SupplyPlan, state: EngineState, drop: number, t: number): number {
  const local = localTimeS(state.habits[drop]!, plan.setup.timeZone, t);
  const shifts = plan.setup.site?.calendar?.shifts ?? [];
  const midnight = (Math.floor(local / 86_400) + 1) * 86_400;
  const end = spanEndS(shifts, local) ?? Math.min(midnight, local + LONGEST_SHIFT_S);
  return t + end - local;
}

/** A shift that follows within this is the same day's work after a break, s. */
const BREAK_S = 4 * 3600;
/** The end of a shift counts as the end of the day's work for this long, s. */
const EVENING_S = 12 * 3600;
/** Where no shift has ended, the day's work may have from this hour on. */
const AFTERNOON_H = 14;

/**
 * The local day (since 1970) whose work is over at this local time (s); null while it is not: in a
 * shift or a break, and before 14:00 where no shift tells.
 */
export function dayThatIsOver(shifts: readonly WeeklySpan[], localS: number): number | null {
  if (inSpan(shifts, localS)) return null;
  const { ended, next } = endAndNextStart(shifts, localS);
  if (next !== null && next - localS <= BREAK_S) return null;
  // A shift that ends at midnight belongs to the day before.
  if (ended !== null && localS - ended < EVENING_S) return Math.floor((ended - 1) / 86_400);
  const day = Math.floor(localS / 86_400);
  return localS - day * 86_400 >= AFTERNOON_H * 3600 ? day : null;
}

/** Whether the node's power is off by plan at this local time (s). */
export function plannedOff(plan: SupplyPlan, drop: number, localS: number): boolean {
  return inSpan(offSpans(plan, drop), localS);
}

function offSpans(plan: SupplyPlan, drop: number): readonly WeeklySpan[] {
  const own = plan.drops[drop]!.station.plannedOff;
  return own ?? plan.setup.site?.calendar?.powerOff ?? [];
}

/** After a planned power-off a node has this long to start, join the network and be heard, s. */
const POWER_ON_S = 600;

/** Whether a planned power-off explains at this local time (s) a silence since another. */
export function silentAsPlanned(
  plan: SupplyPlan,
  drop: number,
  sinceLocalS: number,
  localS: number,
): boolean {
  const spans = offSpans(plan, drop);
  if (inSpan(spans, localS)) return true;
  const ended = spanEndS(spans, localS - POWER_ON_S);
  return ended !== null && sinceLocalS < ended;
}

/** Power-offs may follow each other; a plan that has no end within so many is one for good. */
const MOST_SPANS = 40;

/**
 * When a planned power-off no longer explains a silence, Unix s: `from` where none does then, else
 * when the node should have been heard again; null where that is never.
 *
 * @param since last word of the node, Unix s
 * @param from when the node counted as silent, Unix s
 */
export function plannedSilenceEndS(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
  since: number,
  from: number,
): number | null {
  const local = (t: number) => localTimeS(state.habits[drop]!, plan.setup.timeZone, t);
  const sinceLocal = local(since);
  const spans = offSpans(plan, drop);
  let t = from;
  for (let k = 0; k < MOST_SPANS; k++) {
    const now = local(t);
    if (!silentAsPlanned(plan, drop, sinceLocal, now)) return t;
    const end = spanEndS(spans, now) ?? spanEndS(spans, now - POWER_ON_S) ?? now;
    t += Math.max(end + POWER_ON_S - now, 1);
  }
  return null;
}

/** When the oldest calibration of a drop's sensors and device runs out, Unix s; null where none is on record. */
export function calibrationDueS(setup: SupplySetup, station: StationDocument): number | null {
  const sensors = { ...setup.supply?.sensors, ...station.sensors };
  const ends = [
    calibrationEndS(sensors.cylinder ?? {}),
    calibrationEndS(sensors.line ?? {}),
    calibrationEndS({ calibrated: station.flowDevice?.fit?.date }),
  ].filter((end) => end !== null);
  return ends.length === 0 ? null : Math.min(...ends);
}
