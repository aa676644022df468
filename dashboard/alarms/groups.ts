import type { AlarmStateWord, AlarmView } from "@leeward/shared-core/api/alarms.ts";
import { nextOrder, type Ranked } from "../display/order.ts";
import { urgencyOf } from "../display/urgency.ts";

/** From what asks most of somebody to what asks nothing. */
export const stateOrder = [
  "unacknowledged",
  "latched-unacknowledged",
  "returned-unacknowledged",
  "acknowledged",
  "latched-acknowledged",
  "shelved",
  "out-of-service",
  "suppressed-by-design",
] as const satisfies readonly AlarmStateWord[];

const rank = { now: 0, soon: 1, today: 2 } as const;

/** Places of all alarms; one that is there keeps its place until some alarm becomes more urgent. */
export function alarmOrder(previous: readonly Ranked[], alarms: readonly AlarmView[]): Ranked[] {
  return nextOrder(
    previous,
    alarms.map((alarm) => ({
      id: alarm.id,
      rank: rank[urgencyOf(alarm)],
      // The longest standing first, among equals.
      name: alarm.since,
    })),
  );
}

export interface AlarmGroup {
  state: (typeof stateOrder)[number];
  alarms: AlarmView[];
}

/** Alarms by state, the neediest state first; within one in the order given. Empty groups are left out. */
export function groupAlarms(
  alarms: readonly AlarmView[],
  order: readonly Pick<Ranked, "id">[],
): AlarmGroup[] {
  const place = new Map(order.map(({ id }, index) => [id, index]));
  const at = (alarm: AlarmView) => place.get(alarm.id) ?? Number.POSITIVE_INFINITY;
  return stateOrder
    .map((state) => ({
      state,
      alarms: alarms.filter((alarm) => alarm.state === state).sort((a, b) => at(a) - at(b)),
    }))
    .filter((group) => group.alarms.length > 0);
}

/** What can be done about an alarm in its state: acknowledge, put away, bring back. */
export function actsFor(alarm: Pick<AlarmView, "state">): ("seen" | "looked" | "away" | "back")[] {
  switch (alarm.state) {
    case "unacknowledged":
    case "returned-unacknowledged":
      return ["seen", "away"];
    case "latched-unacknowledged":
    case "latched-acknowledged":
      return ["looked", "away"];
    case "acknowledged":
      return ["away"];
    case "shelved":
    case "out-of-service":
      return ["back"];
    default:
      return [];
  }
}

/** Times for which an alarm may be put away, min; its limit among them. */
export function awayChoices(limitMin: number): number[] {
  return [15, 60, 240, 480].filter((minutes) => minutes <= limitMin);
}
