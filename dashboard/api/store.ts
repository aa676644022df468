import type { StationList, StationView } from "@leeward/shared-core/api/stations.ts";
import { batch, computed, type Signal, signal } from "@preact/signals";
import type { Connection } from "../display/freshness.ts";
import { nextOrder, type Ranked } from "../display/order.ts";
import { needRank } from "../display/urgency.ts";
import {
  type ClockReading,
  type ListChange,
  type StationPatch,
  sharedMs,
} from "./feed-messages.ts";

export const connection = signal<Connection>("connecting");
/** Wall time (Unix s) at which the gateway was last heard; null before the first answer. */
export const lastHeardS = signal<number | null>(null);
/** Shop, time zone, demo and unclaimed nodes, as last listed. */
export const shop = signal<Omit<StationList, "stations"> | null>(null);
/** Stations in the order of their tiles; see `nextOrder`. */
export const order = signal<readonly string[]>([]);
/** The gateway's clock, advanced once a second by the page. */
export const nowS = signal(Date.now() / 1000);
/** True while everything shown comes from this device's memory of an earlier visit. */
export const fromMemory = signal(false);
/** Counts what people and the life cycle did to alarms: lists of them are asked for anew. */
export const alarmNews = signal(0);

export const speed = computed(() => shop.value?.demo.speed ?? 1);
/** The site that stations of one's own belong to; undefined before the first answer. */
export const ownSite = computed(() => shop.value?.site.own ?? shop.value?.site.id);
export const timeZone = computed(() => shop.value?.site.timeZone ?? "UTC");

/** A signal a station: news of one is nothing to the others. */
const views = new Map<string, Signal<StationView>>();
/** Changes where a station comes or goes, and only then. */
const there = signal<readonly string[]>([]);
let ranks: readonly Ranked[] = [];

/** One station, to be read in a component that shows it; undefined where there is none. */
export function stationOf(id: string): StationView | undefined {
  // A station that comes or goes changes the list of them.
  there.value;
  return views.get(id)?.value;
}

/** All stations by id. Whoever reads it is drawn anew with every change of any of them. */
export const stations = computed<ReadonlyMap<string, StationView>>(
  () =>
    new Map(
      there.value.flatMap((id) => {
        const view = views.get(id)?.value;
        return view ? [[id, view]] : [];
      }),
    ),
);

/** All stations as their tiles stand; as costly to read as `stations`. */
export const orderedStations = computed(() =>
  order.value.map((id) => stations.value.get(id)).filter((view) => view !== undefined),
);

let mark: ClockReading | null = null;
let markSpeed = 1;

/** The gateway's clock at this instant. */
function gatewayNow(): number {
  if (!mark) return Date.now() / 1000;
  return mark.gatewayS + ((sharedMs() - mark.atMs) / 1000) * markSpeed;
}

export function setClock(reading: ClockReading, demoSpeed: number): void {
  mark = reading;
  markSpeed = demoSpeed;
}

export function tick(): void {
  nowS.value = gatewayNow();
}

/** Takes a whole list that the page asked for itself. */
export function takeList(list: StationList): void {
  const { stations: listed, ...rest } = list;
  setClock({ gatewayS: list.now, atMs: sharedMs() }, list.demo.speed);
  takeListChange({ rest, ids: listed.map(({ id }) => id), views: listed });
}

/** Takes what this device kept of an earlier visit. */
export function takeRemembered(list: StationList): void {
  batch(() => {
    fromMemory.value = true;
    takeList(list);
    fromMemory.value = true;
  });
}

/** Takes a list: the truth about which stations and nodes there are. */
export function takeListChange({ rest, ids, views: listed }: ListChange): void {
  batch(() => {
    shop.value = rest;
    const wasMemory = fromMemory.value;
    fromMemory.value = false;
    for (const view of listed) put(wasMemory ? view : newer(view));
    const gone = new Set(views.keys());
    for (const id of ids) gone.delete(id);
    for (const id of gone) views.delete(id);
    if (ids.length !== there.value.length || ids.some((id, index) => id !== there.value[index])) {
      there.value = ids.filter((id) => views.has(id));
    }
    reorder();
    tick();
  });
}

function put(view: StationView): void {
  const known = views.get(view.id);
  if (known) known.value = view;
  else views.set(view.id, signal(view));
}

/** A list that was on its way while an event came must not put an older estimate back. */
function newer(view: StationView): StationView {
  const known = views.get(view.id)?.peek();
  if (!known?.estimate || !view.estimate) return view;
  return known.estimate.t > view.estimate.t && known.version === view.version
    ? { ...view, estimate: known.estimate, node: known.node }
    : view;
}

/** Takes what changed of some stations. */
export function takePatches(patches: readonly StationPatch[]): void {
  batch(() => {
    let moved = false;
    for (const { id, ...news } of patches) {
      const station = views.get(id);
      if (!station) continue;
      const before = station.peek();
      moved ||= rankOf(before.estimate) !== rankOf(news.estimate);
      station.value = { ...before, ...news };
    }
    if (moved) reorder();
  });
}

function rankOf(estimate: StationView["estimate"]): number {
  return estimate ? needRank(estimate.alarms) : 3;
}

function reorder(): void {
  ranks = nextOrder(
    ranks,
    [...views].map(([id, station]) => {
      const { name, estimate } = station.peek();
      return { id, name, rank: rankOf(estimate) };
    }),
  );
  if (
    ranks.length !== order.value.length ||
    ranks.some(({ id }, index) => id !== order.value[index])
  ) {
    order.value = ranks.map(({ id }) => id);
  }
}
