import type { LiveEvents, StationList, StationView } from "@leeward/shared-core/api/stations.ts";
import { needRank } from "../display/urgency.ts";
import type { ListChange, StationPatch } from "./feed-messages.ts";

/** Figures change at most once a second, however fast events come. */
const IN_SIGHT_MS = 950;
/** Out of sight a tile needs to be no newer than what scrolling to it brings anyway. */
const OUT_OF_SIGHT_MS = 5000;

export type LiveChange =
  | { kind: "estimate"; data: LiveEvents["estimate"] }
  | { kind: "status"; data: LiveEvents["status"] }
  | { kind: "alarm"; data: LiveEvents["alarm"] };

interface Known {
  view: StationView;
  /** Everything but estimate and node, as text: what tells whether the page knows it. */
  told: string;
  /** When the page was last given it; null while there is news. */
  givenMs: number;
  news: boolean;
  /** A change of need or of the gas waits for nobody. */
  pressing: boolean;
}

/**
 * What the page does not know yet. It keeps the newest of each station and hands out little at a
 * time: changes of need at once, stations in sight once a second, the others now and then.
 */
export class Feed {
  readonly #known = new Map<string, Known>();
  #watched = new Set<string>();

  /** Which stations are in sight; none named means that all are. */
  watch(ids: readonly string[]): void {
    this.#watched = new Set(ids);
  }

  /** All that is known, as a list for this device's memory. */
  list(rest: ListChange["rest"]): StationList {
    return { ...rest, stations: [...this.#known.values()].map(({ view }) => view) };
  }

  /** Takes a list: the truth about which stations there are. */
  takeList(list: StationList, nowMs: number): ListChange {
    const { stations, ...rest } = list;
    const ids = stations.map(({ id }) => id);
    const there = new Set(ids);
    for (const id of this.#known.keys()) if (!there.has(id)) this.#known.delete(id);
    const views: StationView[] = [];
    for (const view of stations) {
      const known = this.#known.get(view.id);
      const told = toldOf(view);
      if (!known || known.told !== told) {
        const fresh = known ? { ...view, ...newest(known.view, view) } : view;
        this.#known.set(view.id, {
          view: fresh,
          told,
          givenMs: nowMs,
          news: false,
          pressing: false,
        });
        views.push(fresh);
        continue;
      }
      if ((view.estimate?.t ?? 0) > (known.view.estimate?.t ?? 0)) {
        this.#note(known, { ...known.view, estimate: view.estimate, node: view.node });
      } else if (
        view.node.state !== known.view.node.state ||
        view.node.clockAheadS !== known.view.node.clockAheadS
      ) {
        this.#note(known, { ...known.view, node: view.node });
      }
      known.view = { ...known.view, paceS: view.paceS };
    }
    return { rest, ids, views };
  }

  /** Takes one event; false where its station is not known yet. */
  takeEvent({ kind, data }: LiveChange): boolean {
    const known = data.id === null ? undefined : this.#known.get(data.id);
    if (!known) return false;
    const { view } = known;
    if (kind === "estimate") {
      if (view.estimate && view.estimate.t > data.estimate.t) return true;
      const node = { ...view.node, lastSample: data.lastSample };
      this.#note(known, { ...view, estimate: data.estimate, node });
    } else if (kind === "status") {
      this.#note(known, { ...view, node: { ...view.node, state: data.state } });
    } else if (view.estimate) {
      this.#note(known, { ...view, estimate: { ...view.estimate, alarms: data.alarms } });
    }
    return true;
  }

  /** The most pressing news, at most so many; empty while nothing is due. */
  next(nowMs: number, most: number): StationPatch[] {
    const due: { id: string; known: Known; rank: number }[] = [];
    for (const [id, known] of this.#known) {
      if (!known.news) continue;
      const inSight = this.#watched.size === 0 || this.#watched.has(id);
      const wait = inSight ? IN_SIGHT_MS : OUT_OF_SIGHT_MS;
      if (!known.pressing && nowMs - known.givenMs < wait) continue;
      due.push({ id, known, rank: known.pressing ? 0 : inSight ? 1 : 2 });
    }
    due.sort((a, b) => a.rank - b.rank || a.known.givenMs - b.known.givenMs);
    return due.slice(0, most).map(({ id, known }) => {
      known.news = false;
      known.pressing = false;
      known.givenMs = nowMs;
      const { estimate, node, paceS } = known.view;
      return { id, estimate, node, paceS };
    });
  }

  #note(known: Known, view: StationView): void {
    const [before, after] = [known.view.estimate, view.estimate];
    known.pressing ||=
      before?.mode !== after?.mode ||
      known.view.node.state !== view.node.state ||
      needRank(before?.alarms ?? []) !== needRank(after?.alarms ?? []);
    known.view = view;
    known.news = true;
  }
}

function toldOf(view: StationView): string {
  const { estimate: _estimate, node: _node, paceS: _pace, ...rest } = view;
  return JSON.stringify(rest);
}

/** A list that was on its way while an event came must not put an older estimate back. */
function newest(known: StationView, listed: StationView): Partial<StationView> {
  return known.estimate &&
    listed.estimate &&
    known.version === listed.version &&
    known.estimate.t > listed.estimate.t
    ? { estimate: known.estimate, node: known.node }
    : {};
}
