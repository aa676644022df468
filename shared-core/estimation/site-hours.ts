import { inSpan, spanEndS } from "../documents/calendar.ts";
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

/** Whether the node's power is off by plan at this local time (s). */
export function plannedOff(plan: SupplyPlan, drop: number, localS: number): boolean {
  const own = plan.drops[drop]!.station.plannedOff;
  return inSpan(own ?? plan.setup.site?.calendar?.powerOff ?? [], localS);
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
