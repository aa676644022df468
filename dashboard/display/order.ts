export interface Ranked {
  id: string;
  /** 0 is the neediest. */
  rank: number;
  name: string;
}

/**
 * The order of the tiles: neediest first, but nothing jumps. A tile keeps its place when a need
 * goes away or the figures change; the order is made anew only when some station becomes needier
 * than it was, or the set of stations changes.
 *
 * @param previous the order and ranks on screen, empty at first
 */
export function nextOrder(previous: readonly Ranked[], current: readonly Ranked[]): Ranked[] {
  const before = new Map(previous.map((station) => [station.id, station]));
  const now = new Map(current.map((station) => [station.id, station]));
  const sameSet = before.size === now.size && current.every((s) => before.has(s.id));
  const needier = current.some((s) => s.rank < (before.get(s.id)?.rank ?? Number.NaN));
  if (sameSet && !needier) {
    return previous.map((station) => now.get(station.id) ?? station);
  }
  const place = new Map(previous.map((station, index) => [station.id, index]));
  return [...current].sort(
    (a, b) =>
      a.rank - b.rank ||
      (place.get(a.id) ?? Number.POSITIVE_INFINITY) -
        (place.get(b.id) ?? Number.POSITIVE_INFINITY) ||
      a.name.localeCompare(b.name, "en", { numeric: true }),
  );
}
