import type { JournalEntry } from "@leeward/shared-core/api/operations.ts";
import { request } from "../api/client.ts";

/** A welder's rhythm shows within two weeks. */
const SPAN_DAYS = 14;
const MOST_ENTRIES = 2000;

/** Arc starts of a station as its gas-on spells, on the days that it worked. */
export interface CountedStarts {
  perDay: number;
  /** Days with any gas-on. */
  days: number;
}

/** Counts gas-on spells by calendar day; null where there was none. */
export function countStarts(
  entries: readonly Pick<JournalEntry, "kind" | "time">[],
): CountedStarts | null {
  const times = entries.filter((entry) => entry.kind === "gas-on").map((entry) => entry.time);
  const days = new Set(times.map((time) => time.slice(0, 10))).size;
  return days === 0 ? null : { perDay: times.length / days, days };
}

/** The station's own starts of late, from the gateway's journal. */
export async function stationStarts(id: string, nowS: number): Promise<CountedStarts | null> {
  const from = new Date((nowS - SPAN_DAYS * 86_400) * 1000).toISOString();
  const answer = await request<{ entries: JournalEntry[] }>(
    `journal?station=${encodeURIComponent(id)}&from=${from}&limit=${MOST_ENTRIES}`,
  );
  if (!answer.ok) return null;
  const { entries } = answer.value;
  // A full page may begin within a day: that day would count too little.
  const oldest = entries.at(-1)?.time.slice(0, 10);
  const whole =
    entries.length < MOST_ENTRIES
      ? entries
      : entries.filter((one) => one.time.slice(0, 10) !== oldest);
  return countStarts(whole);
}
