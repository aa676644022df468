import type { AlarmSpell } from "@leeward/shared-core/api/alarm-spells.ts";
import type { History, HistorySeriesName } from "@leeward/shared-core/api/stations.ts";
import { type ReadonlySignal, useSignal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { getAlarmSpells, getHistory } from "../api/client.ts";
import { nowS, speed } from "../api/store.ts";
import { refetchS } from "../display/chart-data.ts";
import {
  exactly,
  isCovered,
  type Loaded,
  lastSpan,
  lengthOf,
  type TimeWindow,
  toLoad,
} from "../display/chart-window.ts";
import type { Span } from "../display/route.ts";

/** What the panels draw. */
const DRAWN: readonly HistorySeriesName[] = [
  "flow",
  "flow-low",
  "flow-high",
  "indicated",
  "cylinder-pressure",
  "line-pressure",
];
/** More is fetched no sooner than this after it was wanted: a drag does not ask sixty times a second. */
const REST_MS = 120;
/** What lies beside a span is fetched when the span itself has been drawn. */
const BESIDE_MS = 400;

export interface HistoryData {
  history: History;
  spells: AlarmSpell[];
  loaded: Loaded;
  nowS: number;
}

export interface HistoryState {
  /** What the chart shows; changes with every frame while it is moved. */
  window: ReadonlySignal<TimeWindow>;
  /** The span that goes along with now; null where one looks elsewhere. */
  span: Span | null;
  data: HistoryData | null;
  state: "loading" | "shown" | "failed";
  follow(span: Span): void;
  /** Where the chart was moved to. */
  moveTo(window: TimeWindow): void;
}

/**
 * History of one station for a window that moves, fetched with some to spare on both sides.
 *
 * @param points steps that the chart has room for in a window of so many seconds
 */
export function useHistory(id: string, points: (lengthS: number) => number): HistoryState {
  const [span, setSpan] = useState<Span | null>("1h");
  const window = useSignal<TimeWindow>(lastSpan("1h", nowS.peek()));
  const [data, setData] = useState<HistoryData | null>(null);
  const [state, setState] = useState<HistoryState["state"]>("loading");
  const loadedNow = useRef<Loaded | null>(null);

  // What follows now is fetched again and again, what does not only where it reaches past the data.
  useEffect(() => {
    let stopped = false;
    let timer = 0;
    const later = (work: () => void, ms: number) => {
      timer = globalThis.setTimeout(work, ms) as unknown as number;
    };
    const load = async (wanted: TimeWindow, beside: boolean): Promise<boolean> => {
      const now = nowS.peek();
      const { points: asked, ...loaded } = (beside ? toLoad : exactly)(
        wanted,
        points(lengthOf(wanted)),
        now,
      );
      // The spells are quickly told: asked for first they do not wait for the history.
      const spellsAnswer = getAlarmSpells(id, loaded.from, loaded.to);
      const history = await getHistory(id, loaded.from, loaded.to, asked, DRAWN);
      const spells = await spellsAnswer;
      if (stopped) return false;
      if (!history.ok) {
        setState("failed");
        return false;
      }
      loadedNow.current = loaded;
      if (span !== null) window.value = wanted;
      setData({
        history: history.value,
        spells: spells.ok ? spells.value.spells : [],
        loaded,
        nowS: now,
      });
      setState("shown");
      return true;
    };
    const end = (dropped?: () => void) => () => {
      stopped = true;
      clearTimeout(timer);
      dropped?.();
    };

    if (span !== null) {
      const refresh = async () => {
        const wanted = lastSpan(span, nowS.peek());
        await load(wanted, true);
        if (!stopped)
          later(
            refresh,
            refetchS(span, lengthOf(wanted), points(lengthOf(wanted)), speed.peek()) * 1000,
          );
      };
      setState("loading");
      void load(lastSpan(span, nowS.peek()), false).then(() => {
        if (!stopped) later(refresh, BESIDE_MS);
      });
      return end();
    }

    let busy = false;
    const look = () => {
      const wanted = window.peek();
      const loaded = loadedNow.current;
      if (busy || (loaded && isCovered(loaded, wanted, points(lengthOf(wanted)), nowS.peek())))
        return;
      busy = true;
      later(async () => {
        const done = await load(window.peek(), true);
        busy = false;
        // Moved on meanwhile; what failed is asked for with the next move.
        if (done && !stopped) look();
      }, REST_MS);
    };
    return end(window.subscribe(look));
  }, [id, span]);

  return {
    window,
    span,
    data,
    state,
    follow: setSpan,
    moveTo(next) {
      setSpan(null);
      window.value = next;
    },
  };
}
