import type { StationList } from "@leeward/shared-core/api/stations.ts";

const KEY = "leeward.last-list.1";

interface Kept {
  /** Wall time of keeping, ms. */
  keptMs: number;
  list: StationList;
}

/** Keeps the last list on this device, so that the page opens without a gateway, marked as old. */
export function remember(list: StationList): void {
  try {
    const kept: Kept = { keptMs: Date.now(), list };
    localStorage.setItem(KEY, JSON.stringify(kept));
  } catch {
    // Full or forbidden storage: the page then opens empty when off line, and says so.
  }
}

/** The kept list, its `now` moved on by the time since, so that ages come out right. */
export function recall(): { list: StationList; keptS: number } | null {
  try {
    const text = localStorage.getItem(KEY);
    if (text === null) return null;
    const kept: unknown = JSON.parse(text);
    if (!isKept(kept)) return null;
    const passedS = Math.max(0, (Date.now() - kept.keptMs) / 1000);
    return {
      list: { ...kept.list, now: kept.list.now + passedS },
      keptS: kept.keptMs / 1000,
    };
  } catch {
    return null;
  }
}

function isKept(value: unknown): value is Kept {
  if (typeof value !== "object" || value === null) return false;
  const { keptMs, list } = value as Partial<Kept>;
  return typeof keptMs === "number" && Array.isArray(list?.stations) && list.demo !== undefined;
}
