import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import {
  gasOnNeeded,
  type Lasts,
  plannedWeld,
  willItLast,
} from "@leeward/shared-core/estimation/will-it-last.ts";
import type { TimeLeft } from "./time-left.ts";

/** What is planned: minutes of gas-on as they are, or a seam with its starts. */
export type Plan =
  | { gasOnMinutes: number }
  | { lengthM: number; speedCmPerMin: number; starts: number };

export interface PlanLasts extends Lasts {
  /** Gas-on minutes that the plan needs. */
  neededMinutes: number;
}

/** Will the gas last for the plan? A seam's starts cost what procedure and hose say. */
export function lastsFor(
  left: TimeLeft | null,
  station: StationDocument,
  flowLpm: number | null,
  plan: Plan,
): PlanLasts {
  const need =
    "gasOnMinutes" in plan
      ? { minutes: plan.gasOnMinutes, sigma: 0 }
      : gasOnNeeded(
          plannedWeld(station, {
            arcMinutes: (plan.lengthM * 100) / Math.max(plan.speedCmPerMin, 0.1),
            starts: Math.max(1, plan.starts),
            flowLpm,
          }),
        );
  const quantiles =
    left === null || left.median === null
      ? { median: null }
      : {
          median: left.median,
          ...(left.low === null ? {} : { low: left.low }),
          ...(left.high === null ? {} : { high: left.high }),
        };
  return { ...willItLast(quantiles, need), neededMinutes: need.minutes };
}
