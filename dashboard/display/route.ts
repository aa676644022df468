export type Route =
  | { page: "floor" }
  | { page: "wall" }
  | { page: "bench" }
  | { page: "alarms"; id: string | null }
  | { page: "station"; id: string };

/** Spans of the chart, in seconds. */
export const spans = { "1h": 3600, "8h": 28_800, "1d": 86_400, "1w": 604_800, "1y": 31_536_000 };
export type Span = keyof typeof spans;

const ID = /^[a-z0-9-]{1,40}\.[a-z0-9-]{1,40}$/;

/** Id of an occurrence: the place, the condition, and when it came. */
const ALARM_ID = /^[a-z0-9.-]{1,81}~[a-z-]{1,40}~[a-z0-9]{1,20}$/;

/** Page of a location hash: `#/`, `#/wall`, `#/station/north.bay-3`; anything else is the Floor. */
export function routeOf(hash: string): Route {
  const [page, id] = hash.replace(/^#\/?/, "").split("/");
  if (page === "wall") return { page: "wall" };
  if (page === "bench") return { page: "bench" };
  if (page === "alarms") return { page: "alarms", id: alarmIdOf(id) };
  if (page === "station" && id !== undefined && ID.test(id)) {
    return { page: "station", id };
  }
  return { page: "floor" };
}

function alarmIdOf(text: string | undefined): string | null {
  try {
    const id = decodeURIComponent(text ?? "");
    return ALARM_ID.test(id) ? id : null;
  } catch {
    return null;
  }
}

export function alarmHref(id: string): string {
  return `#/alarms/${encodeURIComponent(id)}`;
}

export function stationHref(id: string): string {
  return `#/station/${id}`;
}
