/** When to order gas, from what each station will want by its habit. Pure. */

export interface GasStation {
  gas: string;
  /** Clock minutes until its cylinder is due, by habit; null where nobody can say. */
  dueInMinutes: number | null;
  /** Clock minutes that a full cylinder lasts here, by habit; null where nobody can say. */
  fullLastsMinutes: number | null;
}

export interface ReorderInput {
  nowS: number;
  stations: readonly GasStation[];
  /** Full cylinders in store, by gas. */
  inStore: ReadonlyMap<string, number>;
  /** Days between an order and its delivery; days for which an order is to last. */
  leadDays: number;
  coverDays: number;
}

export interface Reorder {
  gas: string;
  inStore: number;
  /** Stations of which nobody can say when they change, or how often after the next change. */
  unknown: number;
  /** Unix s of the first change-over that finds no full cylinder; null where none is foreseen. */
  outOfStock: number | null;
  orderBy: number | null;
  order: number;
}

const DAY_S = 86_400;
const DAY_MIN = 1440;

/**
 * Clock minutes that a full cylinder lasts, from how long the present one will.
 *
 * @param dueInMinutes clock minutes until the present one is due, by habit
 * @param usableL what of it can be used, and what a full one holds, in the same litres
 * @returns null where the present one is due within a day: that is the pace of these hours, and welders
 *   go home
 */
export function fullLastsMinutes(
  dueInMinutes: number | null,
  usableL: number | null,
  fullL: number | null,
): number | null {
  if (dueInMinutes === null || usableL === null || fullL === null) return null;
  if (usableL <= 0 || dueInMinutes < DAY_MIN) return null;
  return (dueInMinutes * fullL) / usableL;
}

/** Nobody orders further ahead than this, s. */
const horizonS = 366 * DAY_S;
/** Change-overs counted for one station: a full one that lasts minutes is a mistake. */
const mostChanges = 2000;

/** Change-overs of one station from now on, Unix s. */
function changes(station: GasStation, nowS: number): number[] {
  if (station.dueInMinutes === null) return [];
  const due: number[] = [];
  let t = nowS + Math.max(0, station.dueInMinutes) * 60;
  while (t < nowS + horizonS && due.length < mostChanges) {
    due.push(t);
    if (station.fullLastsMinutes === null || station.fullLastsMinutes <= 0) break;
    t += station.fullLastsMinutes * 60;
  }
  return due;
}

/** What to order of each gas and by when; the most urgent first. */
export function reorder(input: ReorderInput): Reorder[] {
  const { nowS, stations, inStore, leadDays, coverDays } = input;
  const gases = new Set([...stations.map(({ gas }) => gas), ...inStore.keys()]);
  const lines = [...gases].map((gas): Reorder => {
    const here = stations.filter((station) => station.gas === gas);
    const due = here.flatMap((station) => changes(station, nowS)).sort((a, b) => a - b);
    const stock = inStore.get(gas) ?? 0;
    const outOfStock = due[stock] ?? null;
    // What is ordered today arrives after the lead time and is to last from then on.
    const until = nowS + (leadDays + coverDays) * DAY_S;
    const wanted = due.filter((t) => t < until).length;
    return {
      gas,
      inStore: stock,
      unknown: here.filter(
        ({ dueInMinutes, fullLastsMinutes }) => dueInMinutes === null || fullLastsMinutes === null,
      ).length,
      outOfStock,
      orderBy: outOfStock === null ? null : outOfStock - leadDays * DAY_S,
      order: Math.max(0, wanted - stock),
    };
  });
  const at = (line: Reorder) => line.orderBy ?? Number.POSITIVE_INFINITY;
  return lines.sort((a, b) => at(a) - at(b) || a.gas.localeCompare(b.gas, "en"));
}
