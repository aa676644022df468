import type { ActiveAlarm, Priority } from "@leeward/shared-core/estimation/estimate.ts";

/** The time there is to act. The alarm priorities high, medium and low stand behind it. */
export type Urgency = "now" | "soon" | "today";

const byPriority: Readonly<Record<Priority, Urgency>> = {
  high: "now",
  medium: "soon",
  low: "today",
};

export function urgencyOf(alarm: Pick<ActiveAlarm, "priority">): Urgency {
  return byPriority[alarm.priority];
}

const rank: Readonly<Record<Urgency, number>> = { now: 0, soon: 1, today: 2 };

/** Alarms with the most urgent first; among equals the longest standing. */
export function mostUrgentFirst(alarms: readonly ActiveAlarm[]): ActiveAlarm[] {
  return [...alarms].sort((a, b) => rank[urgencyOf(a)] - rank[urgencyOf(b)] || a.since - b.since);
}

/** 0 (now) to 3 (nothing to do). */
export function needRank(alarms: readonly ActiveAlarm[]): number {
  return alarms.reduce((least, alarm) => Math.min(least, rank[urgencyOf(alarm)]), 3);
}
