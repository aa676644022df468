import type { AlarmSpell } from "@leeward/shared-core/api/alarm-spells.ts";
import type { AlarmList, AlarmView } from "@leeward/shared-core/api/alarms.ts";
import type {
  History,
  HistorySeriesName,
  Problem,
  StationList,
  StationView,
} from "@leeward/shared-core/api/stations.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";

/** Relative to the page, so that a path prefix of a proxy carries over. */
const BASE = "api/v1/";
const TIMEOUT_MS = 8000;

/**
 * What came of a request: never throws. `offline` means that no answer came at all; `asked` that it
 * only asked for something, so that nothing of what a person said can be lost.
 */
export type Answer<T> =
  | { ok: true; value: T }
  | { ok: false; offline: boolean; asked?: boolean; status: number; problem: Problem | null };

export async function request<T>(path: string, init: RequestInit = {}): Promise<Answer<T>> {
  let response: Response;
  try {
    response = await fetch(BASE + path, { ...init, signal: AbortSignal.timeout(TIMEOUT_MS) });
  } catch {
    const asked = (init.method ?? "GET") === "GET";
    return { ok: false, offline: true, asked, status: 0, problem: null };
  }
  const text = await response.text().catch(() => "");
  let body: unknown = null;
  try {
    body = text === "" ? null : JSON.parse(text);
  } catch {
    return { ok: false, offline: false, status: response.status, problem: null };
  }
  if (!response.ok) {
    return {
      ok: false,
      offline: false,
      status: response.status,
      problem: isProblem(body) ? body : null,
    };
  }
  return { ok: true, value: body as T };
}

function isProblem(body: unknown): body is Problem {
  return typeof body === "object" && body !== null && "title" in body;
}

export const getStations = () => request<StationList>("stations");

export const getStation = (id: string) => request<StationView>(`stations/${id}`);

export const getHistory = (
  id: string,
  from: number,
  to: number,
  points: number,
  series: readonly HistorySeriesName[],
) =>
  request<History>(
    `stations/${id}/history?from=${Math.floor(from)}&to=${Math.ceil(to)}&points=${points}&series=${series.join(",")}`,
  );

export const getAlarmSpells = (id: string, from: number, to: number) =>
  request<{ spells: AlarmSpell[] }>(
    `stations/${id}/alarm-spells?from=${Math.floor(from)}&to=${Math.ceil(to)}`,
  );

/** Writes a description. `version` null means: only if there is no such station yet. */
export const putStation = (id: string, description: StationDocument, version: number | null) =>
  request<StationView>(`stations/${id}`, {
    method: "PUT",
    headers: {
      "content-type": "application/json",
      ...(version === null ? { "if-none-match": "*" } : { "if-match": `"${version}"` }),
    },
    body: JSON.stringify(description),
  });

export const getAlarms = () => request<AlarmList>("alarms");

export const acknowledgeAlarm = (id: string, by: string) =>
  request<AlarmView>(`alarms/${encodeURIComponent(id)}/acknowledge`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ by }),
  });

type EntryKind = "swap" | "reading" | "purge" | "job" | "leakTest";

/** Tells the gateway what a person did; the same key is taken once, however often it is sent. */
export function postEntry<K extends EntryKind>(
  id: string,
  kind: K,
  entry: Pick<PersonEntry, K>,
): Promise<Answer<unknown>> {
  const body = kind === "reading" ? entry : entry[kind];
  return request(`stations/${id}/${kind === "leakTest" ? "leak-test" : kind}`, {
    method: "POST",
    headers: { "content-type": "application/json", "idempotency-key": freshKey() },
    body: JSON.stringify(body ?? {}),
  });
}

/** Until when the last cylinder change of a station can be taken back, RFC 3339; null where it cannot. */
export async function undoableUntil(site: string, id: string): Promise<string | null> {
  const rack = await request<{ undoable?: { station: string; until: string }[] }>(
    `sites/${site}/rack`,
  );
  if (!rack.ok) return null;
  const found = rack.value.undoable?.find(
    ({ station }) => station === id || `${site}.${station}` === id,
  );
  return found?.until ?? null;
}

/** Takes back the cylinder change that was told last, within half an hour of it. */
export const undoSwap = (id: string, by: string) =>
  request<unknown>(`stations/${id}/undo-swap`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ by }),
  });

/** 128 random bits in hex; `randomUUID` is missing on plain http. */
function freshKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
