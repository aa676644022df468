import type { AlarmSpell } from "@leeward/shared-core/api/alarm-spells.ts";
import { conditionTitle } from "./alarm-text.ts";
import { type Urgency, urgencyOf } from "./urgency.ts";

/** A stretch of time in which something stood that could not wait until the end of the day. */
export interface Stretch {
  from: number;
  /** Null while it still stands. */
  to: number | null;
  urgency: Exclude<Urgency, "today">;
  title: string;
}

/** What a chart tints, the most urgent last, so that it is drawn on top. */
export function stretches(spells: readonly AlarmSpell[]): Stretch[] {
  return spells
    .flatMap(({ from, to, condition, priority }) => {
      const urgency = urgencyOf({ priority });
      return urgency === "today"
        ? []
        : [{ from, to, urgency, title: `${conditionTitle(condition)}.` }];
    })
    .sort((a, b) => (a.urgency === b.urgency ? a.from - b.from : a.urgency === "now" ? 1 : -1));
}

/** Titles of what stood at a moment, the most urgent first, each once. */
export function titlesAt(all: readonly Stretch[], t: number): string[] {
  const standing = all.filter(({ from, to }) => from <= t && (to === null || t <= to));
  return [...new Set(standing.reverse().map(({ title }) => title))];
}
