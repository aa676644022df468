import type { AlarmSpell } from "@leeward/shared-core/api/alarm-spells.ts";
import type { History } from "@leeward/shared-core/api/stations.ts";
import { useEffect, useRef, useState } from "preact/hooks";
import { getAlarmSpells, getHistory } from "../api/client.ts";
import { nowS, speed } from "../api/store.ts";
import { refetchS } from "../display/chart-data.ts";
import {
  isCovered,
  type Loaded,
  lastSpan,
  lengthOf,
  type TimeWindow,
  toLoad,
} from "../display/chart-window.ts";
import type { Span } from "../display/route.ts";

/** Buckets across a window. */
const POINTS = 600;
/** A window rests this long before it is fetched for, so that a drag does not ask sixty times a second. */
const REST_MS = 120;

export interface HistoryState {
  window: TimeWindow;
  /** It goes along with now. */
  following: boolean;
  data: { history: History; spells: AlarmSpell[]; loaded: Loaded; nowS: number } | null;
  state: "loading" | "shown" | "failed";
  follow(span: Span): void;
  /** Where the chart was moved to. */
  moveTo(window: TimeWindow): void;
}

/** History of one station for a window that moves, fetched with some to spare on both sides. */
export function useHistory(id: string): HistoryState {
  const [span, setSpan] = useState<Span | null>("1h");
  const [window, setWindow] = useState<TimeWindow>(() => lastSpan("1h", nowS.peek()));
  const [data, setData] = useState<HistoryState["data"]>(null);
  const [state, setState] = useState<HistoryState["state"]>("loading");
  const latest = useRef({ window, loaded: data?.loaded ?? null });
  latest.current = { window, loaded: data?.loaded ?? null };

  // What follows now is fetched again and again, what does not only where it reaches past the data.
  useEffect(() => {
    let stopped = false;
    let timer = 0;
    const fetchFor = async (wanted: TimeWindow) => {
      const now = nowS.peek();
      const { points, ...loaded } = toLoad(wanted, POINTS, now);
      const [history, spells] = await Promise.all([
        getHistory(id, loaded.from, loaded.to, points),
        getAlarmSpells(id, loaded.from, loaded.to),
      ]);
      if (stopped) return;
      if (!history.ok) {
        setState("failed");
      } else {
        const known = spells.ok ? spells.value.spells : [];
        setData({ history: history.value, spells: known, loaded, nowS: now });
        setState("shown");
        if (span !== null) setWindow(wanted);
      }
      if (span === null) return;
      const again = refetchS(span, lengthOf(wanted), POINTS, speed.peek());
      timer = globalThis.setTimeout(() => fetchFor(lastSpan(span, nowS.peek())), again * 1000);
    };
    const { loaded } = latest.current;
    if (span !== null) {
      setState("loading");
      void fetchFor(lastSpan(span, nowS.peek()));
    } else if (!loaded || !isCovered(loaded, window, POINTS, nowS.peek())) {
      timer = globalThis.setTimeout(() => fetchFor(window), REST_MS);
    }
    return () => {
      stopped = true;
      clearTimeout(timer);
    };
    // A window that follows is set by its own fetch: only one that was moved asks anew.
  }, [id, span, span === null ? window : null]);

  return {
    window,
    following: span !== null,
    data,
    state,
    follow(next) {
      setSpan(next);
      setWindow(lastSpan(next, nowS.peek()));
    },
    moveTo(next) {
      setSpan(null);
      setWindow(next);
    },
  };
}
