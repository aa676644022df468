import type { StationList } from "@leeward/shared-core/api/stations.ts";

const DATABASE = "leeward";
const STORE = "kept";
const KEY = "last-list.1";

interface Kept {
  /** Wall time of keeping, ms. */
  keptMs: number;
  list: StationList;
}

function settled<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

async function open(): Promise<IDBDatabase> {
  const request = indexedDB.open(DATABASE, 1);
  request.onupgradeneeded = () => request.result.createObjectStore(STORE);
  return settled(request);
}

/** Keeps the last list on this device, so that the page opens without a gateway, marked as old. */
export async function remember(list: StationList): Promise<void> {
  try {
    const database = await open();
    const kept: Kept = { keptMs: Date.now(), list };
    await settled(database.transaction(STORE, "readwrite").objectStore(STORE).put(kept, KEY));
    database.close();
  } catch {
    // Full or forbidden storage: the page then opens empty when off line, and says so.
  }
}

/** The kept list, its `now` moved on by the time since, so that ages come out right. */
export async function recall(): Promise<{ list: StationList; keptS: number } | null> {
  try {
    const database = await open();
    const kept: unknown = await settled(database.transaction(STORE).objectStore(STORE).get(KEY));
    database.close();
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
