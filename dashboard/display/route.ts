export type Route =
  | { page: "floor" }
  | { page: "wall" }
  | { page: "bench" }
  | { page: "rack" }
  | { page: "ledger" }
  | { page: "alarms"; id: string | null }
  | { page: "look-back"; id: string | null; from: number | null; to: number | null }
  | { page: "setup"; place: SetupPlace }
  | { page: "station"; id: string };

/** Places of Setup: `#/setup`, `#/setup/node/north.n-07`, `#/setup/station/north.bay-3` … */
export type SetupPlace =
  | { part: "home" | "new" | "shop" | "phone" | "new-supply" }
  | { part: "node" | "station" | "supply" | "label"; id: string };

/** Spans of the chart, in seconds. */
export const spans = { "1h": 3600, "8h": 28_800, "1d": 86_400, "1w": 604_800, "1y": 31_536_000 };
export type Span = keyof typeof spans;

const ID = /^[a-z0-9-]{1,40}\.[a-z0-9-]{1,40}$/;

/** Id of an occurrence: the place, the condition, and when it came. */
const ALARM_ID = /^[a-z0-9.-]{1,81}~[a-z-]{1,40}~[a-z0-9]{1,20}$/;

/** Page of a location hash: `#/`, `#/wall`, `#/station/north.bay-3`; anything else is the Floor. */
export function routeOf(hash: string): Route {
  const [path = "", query] = hash.replace(/^#\/?/, "").split("?");
  const [page, id, more] = path.split("/");
  if (page === "wall") return { page: "wall" };
  if (page === "bench") return { page: "bench" };
  if (page === "rack") return { page: "rack" };
  if (page === "ledger") return { page: "ledger" };
  if (page === "alarms") return { page: "alarms", id: alarmIdOf(id) };
  if (page === "look-back") return lookBackOf(id, new URLSearchParams(query));
  if (page === "setup") return { page: "setup", place: setupPlaceOf(id, more) };
  if (page === "station" && id !== undefined && ID.test(id)) {
    return { page: "station", id };
  }
  return { page: "floor" };
}

function lookBackOf(id: string | undefined, query: URLSearchParams): Route {
  const second = (name: string) => {
    const text = query.get(name);
    return text !== null && /^\d{1,12}$/.test(text) ? Number(text) : null;
  };
  return {
    page: "look-back",
    id: id !== undefined && ID.test(id) ? id : null,
    from: second("from"),
    to: second("to"),
  };
}

/** Address of a station's past between two Unix seconds, the second not counted. */
export function lookBackHref(id: string, from: number, to: number): string {
  return `#/look-back/${id}?from=${Math.floor(from)}&to=${Math.floor(to)}`;
}

function setupPlaceOf(part: string | undefined, id: string | undefined): SetupPlace {
  if (part === "new" || part === "shop" || part === "phone" || part === "new-supply") {
    return { part };
  }
  if (part === "node" || part === "station" || part === "supply" || part === "label") {
    if (id !== undefined && ID.test(id)) return { part, id };
  }
  return { part: "home" };
}

export function setupNodeHref(site: string, node: string): string {
  return `#/setup/node/${site}.${node}`;
}

/** Page of Setup that changes a station. */
export function setupHref(id: string): string {
  return `#/setup/station/${id}`;
}

/** Page of Setup that changes a shared supply. */
export function supplyHref(id: string): string {
  return `#/setup/supply/${id}`;
}

/** Where it stands what a phone needs, https among it. */
export const PHONE_HREF = "#/setup/phone";

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
