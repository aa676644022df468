import type { History, StationView } from "@leeward/shared-core/api/stations.ts";
import { useEffect, useRef, useState } from "preact/hooks";
import { getHistory } from "../api/client.ts";
import { nowS, speed, timeZone } from "../api/store.ts";
import { refetchS } from "../display/chart-data.ts";
import { type Span, spans } from "../display/route.ts";
import type { UnitChoice } from "../display/units.ts";
import { language } from "../language/live-words.ts";
import { words } from "../language/words.ts";
import { theme } from "../settings/settings.ts";
import type { HistoryChart } from "./history-chart.ts";

const POINTS = 600;

/** Flow against the demand, and both pressures, over a span that one chooses. */
export function HistoryCard({ view, units }: { view: StationView; units: UnitChoice }) {
  const [span, setSpan] = useState<Span>("1h");
  const [history, setHistory] = useState<History | null>(null);
  const [state, setState] = useState<"loading" | "shown" | "failed">("loading");
  const [asked, setAsked] = useState({ from: 0, to: 0 });
  const host = useRef<HTMLDivElement>(null);
  const chart = useRef<HistoryChart | null>(null);

  useEffect(() => {
    let stopped = false;
    let timer = 0;
    setState("loading");
    const fetchOnce = async () => {
      const to = nowS.peek();
      const from = to - spans[span];
      const answer = await getHistory(view.id, from, to, POINTS);
      if (stopped) return;
      if (answer.ok) {
        setHistory(answer.value);
        setAsked({ from, to });
      }
      setState(answer.ok ? "shown" : "failed");
      timer = window.setTimeout(
        fetchOnce,
        refetchS(span, spans[span], POINTS, speed.peek()) * 1000,
      );
    };
    void fetchOnce();
    return () => {
      stopped = true;
      clearTimeout(timer);
    };
  }, [view.id, span]);

  useEffect(() => {
    const element = host.current;
    if (!element || !history) return;
    let stopped = false;
    void import("./history-chart.ts").then(({ createHistoryChart }) => {
      if (stopped) return;
      chart.current ??= createHistoryChart(element);
      chart.current.show({
        history,
        ...asked,
        span,
        points: POINTS,
        units,
        zone: timeZone.peek(),
        demand: view.estimate?.demand ?? null,
        alarms: view.estimate?.alarms ?? [],
        device: view.description.flowDevice ?? null,
      });
    });
    return () => {
      stopped = true;
    };
  }, [history, units, theme.value, language.value]);

  useEffect(
    () => () => {
      chart.current?.destroy();
      chart.current = null;
    },
    [],
  );

  const empty =
    history !== null && Object.values(history.series).every((series) => series.t.length === 0);
  return (
    <section class="card history" aria-labelledby="history-title">
      <div class="history-head">
        <h2 class="card-title" id="history-title">
          {words.chart.title}
        </h2>
        <fieldset class="spans">
          <legend class="visually-hidden">{words.chart.span}</legend>
          {(Object.keys(spans) as Span[]).map((key) => (
            <button
              key={key}
              type="button"
              class="span-button"
              aria-pressed={span === key}
              onClick={() => setSpan(key)}
            >
              {words.chart.spans[key]}
            </button>
          ))}
        </fieldset>
      </div>
      <div
        ref={host}
        class={state === "failed" ? "chart chart-old" : "chart"}
        data-span={state === "shown" ? span : undefined}
        role="img"
        aria-label={words.chart.describe(words.chart.spans[span])}
      />
      <p class="card-small history-note" role="status">
        {state === "loading" && words.chart.loading}
        {state === "failed" && words.chart.failed}
        {state === "shown" && (empty ? words.chart.empty : note(span, history?.gaps.length ?? 0))}
      </p>
    </section>
  );
}

/** Gaps, and on long spans how flow is drawn where gas went on and off within one step. */
function note(span: Span, gaps: number): string {
  return [words.chart.gaps(gaps), span === "1h" ? "" : words.chart.highest]
    .filter(Boolean)
    .join(" ");
}
