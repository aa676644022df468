import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useEffect, useRef } from "preact/hooks";
import { nowS, timeZone } from "../api/store.ts";
import { stretches } from "../display/chart-spells.ts";
import { lengthOf, panned, spanOf, type TimeWindow, zoomed } from "../display/chart-window.ts";
import { dayAndTime, momentInWords } from "../display/durations.ts";
import { type Span, spans } from "../display/route.ts";
import type { UnitChoice } from "../display/units.ts";
import { language } from "../language/live-words.ts";
import { words } from "../language/words.ts";
import { theme } from "../settings/settings.ts";
import type { HistoryChart } from "./history-chart.ts";
import { type HistoryState, useHistory } from "./use-history.ts";

/** Flow against the demand, and both pressures, over a span that one chooses, drags and zooms. */
export function HistoryCard({ view, units }: { view: StationView; units: UnitChoice }) {
  const history = useHistory(view.id);
  const { window, data, state } = history;
  const host = useRef<HTMLDivElement>(null);
  const chart = useRef<HistoryChart | null>(null);
  // The chart calls back for as long as it lives; what it calls is the newest.
  const moveTo = useRef(history.moveTo);
  moveTo.current = history.moveTo;

  useEffect(() => {
    const element = host.current;
    if (!element || !data) return;
    let stopped = false;
    void import("./history-chart.ts").then(({ createHistoryChart }) => {
      if (stopped) return;
      chart.current ??= createHistoryChart(element, (moved) => moveTo.current(moved));
      chart.current.show({
        history: data.history,
        loaded: data.loaded,
        nowS: data.nowS,
        window,
        units,
        zone: timeZone.peek(),
        demand: view.estimate?.demand ?? null,
        stretches: stretches(data.spells),
        device: view.description.flowDevice ?? null,
      });
      element.dataset.span = spanOf(window) ?? "other";
    });
    return () => {
      stopped = true;
    };
  }, [data, units, theme.value, language.value]);

  useEffect(
    () => () => {
      chart.current?.destroy();
      chart.current = null;
    },
    [],
  );

  const move = (next: TimeWindow) => {
    chart.current?.move(next);
    history.moveTo(next);
  };
  const zone = timeZone.value;
  const moment = lengthOf(window) < 3 * 86_400 ? dayAndTime : momentInWords;
  const from = moment(window.from, nowS.peek(), zone);
  const to = moment(window.to, nowS.peek(), zone);
  return (
    <section class="card history" aria-labelledby="history-title">
      <div class="history-head">
        <h2 class="card-title" id="history-title">
          {words.chart.title} <span class="history-window">{words.chart.between(from, to)}</span>
        </h2>
        <Spans history={history} />
        <Moves window={window} onMove={move} onNow={() => history.follow(spanOf(window) ?? "1h")} />
      </div>
      <div
        ref={host}
        class={state === "failed" ? "chart chart-old" : "chart"}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys move the chart
        tabIndex={0}
        role="application"
        aria-label={words.chart.describe(from, to)}
      />
      <p class="card-small history-note" role="status">
        {state === "loading" && words.chart.loading}
        {state === "failed" && words.chart.failed}
        {state === "shown" && note(history)}
      </p>
    </section>
  );
}

function Spans({ history }: { history: HistoryState }) {
  const chosen = spanOf(history.window);
  return (
    <fieldset class="spans">
      <legend class="visually-hidden">{words.chart.span}</legend>
      {(Object.keys(spans) as Span[]).map((key) => (
        <button
          key={key}
          type="button"
          class="span-button"
          aria-pressed={chosen === key}
          onClick={() => history.follow(key)}
        >
          {words.chart.spans[key]}
        </button>
      ))}
    </fieldset>
  );
}

/** What dragging and pinching do, for gloves and keys. */
function Moves(props: {
  window: TimeWindow;
  onMove: (window: TimeWindow) => void;
  onNow: () => void;
}) {
  const { window, onMove } = props;
  const text = words.chart;
  const now = () => nowS.peek();
  return (
    <fieldset class="spans">
      <legend class="visually-hidden">{text.move}</legend>
      <MoveButton text={text.earlier} onClick={() => onMove(panned(window, -0.5, now()))} />
      <MoveButton text={text.later} onClick={() => onMove(panned(window, 0.5, now()))} />
      <MoveButton text={text.closer} onClick={() => onMove(zoomed(window, 0.5, 0.5, now()))} />
      <MoveButton text={text.wider} onClick={() => onMove(zoomed(window, 2, 0.5, now()))} />
      <MoveButton text={text.now} onClick={props.onNow} />
    </fieldset>
  );
}

function MoveButton({ text, onClick }: { text: string; onClick: () => void }) {
  return (
    <button type="button" class="span-button" onClick={onClick}>
      {text}
    </button>
  );
}

/** Gaps, and how long steps are drawn. */
function note({ data, window }: HistoryState): string {
  if (!data) return "";
  const empty = Object.values(data.history.series).every((series) => series.t.length === 0);
  if (empty) return words.chart.empty;
  const gaps = data.history.gaps.filter((gap) => gap.from < window.to && gap.to > window.from);
  const long = data.loaded.bucketS > 15;
  return [
    words.chart.gaps(gaps.length),
    long ? words.chart.highest : "",
    long ? words.chart.envelope : "",
    words.chart.needNote,
  ]
    .filter(Boolean)
    .join(" ");
}
