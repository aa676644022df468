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

/** Reads what is kept under a key, with the wall time of keeping, ms; null where there is nothing. */
async function read(key: string): Promise<unknown> {
  const database = await open();
  const kept: unknown = await settled(database.transaction(STORE).objectStore(STORE).get(key));
  database.close();
  return kept ?? null;
}

async function write(key: string, kept: unknown): Promise<void> {
  const database = await open();
  await settled(database.transaction(STORE, "readwrite").objectStore(STORE).put(kept, key));
  database.close();
}

async function open(): Promise<IDBDatabase> {
  const request = indexedDB.open(DATABASE, 1);
  request.onupgradeneeded = () => request.result.createObjectStore(STORE);
  return settled(request);
}

/** Keeps the last list on this device, so that the page opens without a gateway, marked as old. */
export async function remember(list: StationList): Promise<void> {
  try {
    const kept: Kept = { keptMs: Date.now(), list };
    await write(KEY, kept);
  } catch {
    // Full or forbidden storage: the page then opens empty when off line, and says so.
  }
}

/** The kept list, its `now` moved on by the time since, so that ages come out right. */
export async function recall(): Promise<{ list: StationList; keptS: number } | null> {
  try {
    const kept = await read(KEY);
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

interface KeptAnswer {
  keptMs: number;
  value: unknown;
}

/** Keeps what a page was answered last, so that it opens without a gateway, marked as old. */
export async function rememberAnswer(page: string, value: unknown): Promise<void> {
  try {
    await write(`answer.1 ${page}`, { keptMs: Date.now(), value } satisfies KeptAnswer);
  } catch {
    // Full or forbidden storage: the page then says that it cannot be fetched.
  }
}

/** What a page was answered last, and when, Unix s of this device; null where nothing was kept. */
export async function recallAnswer(
  page: string,
): Promise<{ value: unknown; keptS: number } | null> {
  try {
    const kept = (await read(`answer.1 ${page}`)) as KeptAnswer | null;
    return kept && typeof kept.keptMs === "number"
      ? { value: kept.value, keptS: kept.keptMs / 1000 }
      : null;
  } catch {
    return null;
  }
}
