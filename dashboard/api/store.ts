import type { LiveEvents, StationList, StationView } from "@leeward/shared-core/api/stations.ts";
import { batch, computed, signal } from "@preact/signals";
import type { Connection } from "../display/freshness.ts";
import { nextOrder, type Ranked } from "../display/order.ts";
import { needRank } from "../display/urgency.ts";

/** The gateway's clock as last heard, and the page's own clock at that moment. */
interface ClockMark {
  gatewayS: number;
  pageMs: number;
  speed: number;
}

export const connection = signal<Connection>("connecting");
/** Wall time (Unix s) at which the gateway was last heard; null before the first answer. */
export const lastHeardS = signal<number | null>(null);
/** Shop, time zone, demo and unclaimed nodes, as last listed. */
export const shop = signal<Omit<StationList, "stations"> | null>(null);
export const stations = signal<ReadonlyMap<string, StationView>>(new Map());
/** Tiles in order; see `nextOrder`. */
export const order = signal<readonly Ranked[]>([]);
/** The gateway's clock, advanced once a second by the page. */
export const nowS = signal(Date.now() / 1000);
/** True while everything shown comes from this device's memory of an earlier visit. */
export const fromMemory = signal(false);

export const speed = computed(() => shop.value?.demo.speed ?? 1);
export const timeZone = computed(() => shop.value?.site.timeZone ?? "UTC");
export const orderedStations = computed(() =>
  order.value.map((ranked) => stations.value.get(ranked.id)).filter((view) => view !== undefined),
);

let mark: ClockMark | null = null;

/** The gateway's clock at this instant. */
function gatewayNow(): number {
  if (!mark) return Date.now() / 1000;
  return mark.gatewayS + ((performance.now() - mark.pageMs) / 1000) * mark.speed;
}

export function setClock(gatewayS: number, demoSpeed: number): void {
  mark = { gatewayS, pageMs: performance.now(), speed: demoSpeed };
}

export function tick(): void {
  nowS.value = gatewayNow();
}

/** Takes a full list: the truth about which stations and nodes there are. */
export function takeList(list: StationList, remembered = false): void {
  batch(() => {
    const { stations: views, ...rest } = list;
    setClock(list.now, list.demo.speed);
    shop.value = rest;
    stations.value = new Map(views.map((view) => [view.id, newer(view)]));
    fromMemory.value = remembered;
    reorder();
    tick();
  });
}

/** A list that was on its way while an event came must not put an older estimate back. */
function newer(view: StationView): StationView {
  const known = stations.value.get(view.id);
  if (fromMemory.value || !known?.estimate || !view.estimate) return view;
  return known.estimate.t > view.estimate.t && known.version === view.version
    ? { ...view, estimate: known.estimate, node: known.node }
    : view;
}

export type LiveChange =
  | { kind: "estimate"; data: LiveEvents["estimate"] }
  | { kind: "status"; data: LiveEvents["status"] }
  | { kind: "alarm"; data: LiveEvents["alarm"] };

/** Applies what came in since the last second, in order, in one go. */
export function takeChanges(changes: readonly LiveChange[]): void {
  if (changes.length === 0) return;
  batch(() => {
    const next = new Map(stations.value);
    for (const change of changes) applyChange(next, change);
    stations.value = next;
    reorder();
  });
}

function applyChange(views: Map<string, StationView>, change: LiveChange): void {
  const id = change.data.id;
  if (id === null) return;
  const view = views.get(id);
  if (!view) return;
  if (change.kind === "estimate") {
    const { estimate, lastSample } = change.data;
    if (view.estimate && view.estimate.t > estimate.t) return;
    views.set(id, { ...view, estimate, node: { ...view.node, lastSample } });
  } else if (change.kind === "status") {
    views.set(id, { ...view, node: { ...view.node, state: change.data.state } });
  } else if (view.estimate) {
    views.set(id, { ...view, estimate: { ...view.estimate, alarms: change.data.alarms } });
  }
}

function reorder(): void {
  const ranked = [...stations.value.values()].map((view) => ({
    id: view.id,
    name: view.name,
    rank: view.estimate ? needRank(view.estimate.alarms) : 3,
  }));
  order.value = nextOrder(order.value, ranked);
}
