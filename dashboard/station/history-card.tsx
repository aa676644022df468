import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { computed, type ReadonlySignal, useComputed, useSignal } from "@preact/signals";
import { useEffect, useLayoutEffect, useMemo, useRef } from "preact/hooks";
import { nowS, timeZone } from "../api/store.ts";
import { stretches } from "../display/chart-spells.ts";
import {
  lengthOf,
  panned,
  pointsFor,
  spanOf,
  type TimeWindow,
  zoomed,
} from "../display/chart-window.ts";
import { dayAndTime, momentInWords } from "../display/durations.ts";
import { type Span, spans } from "../display/route.ts";
import type { UnitChoice } from "../display/units.ts";
import { language } from "../language/live-words.ts";
import { words } from "../language/words.ts";
import { LoadAgain } from "../shell/load-again.tsx";
import type { HistoryChart } from "./history-chart.ts";
import { type HistoryState, useHistory } from "./use-history.ts";

/** About what stands beside the plot, px. */
const BESIDE_PX = 100;

/** Flow against the demand, and both pressures, over a span that one chooses, drags and zooms. */
export function HistoryCard({ view, units }: { view: StationView; units: UnitChoice }) {
  const host = useRef<HTMLDivElement>(null);
  const chart = useRef<HistoryChart | null>(null);
  const history = useHistory(view.id, (lengthS) =>
    pointsFor((host.current?.clientWidth ?? 1080) - BESIDE_PX, lengthS),
  );
  const { window, data, state } = history;
  const missing = useSignal(false);
  // The chart calls back for as long as it lives; what it calls is the newest.
  const moveTo = useRef(history.moveTo);
  moveTo.current = history.moveTo;

  // Before the next frame, not after it: the figures are there.
  useLayoutEffect(() => {
    const element = host.current;
    if (!element || !data) return;
    let stopped = false;
    const show = ({ createHistoryChart }: ChartModule) => {
      if (stopped) return;
      chart.current ??= createHistoryChart(element, (moved) => moveTo.current(moved));
      chart.current.show({
        history: data.history,
        loaded: data.loaded,
        nowS: data.nowS,
        window: window.peek(),
        units,
        zone: timeZone.peek(),
        demand: view.estimate?.demand ?? null,
        stretches: stretches(data.spells),
        device: view.description.flowDevice ?? null,
      });
      element.dataset.span = spanOf(window.peek()) ?? "other";
    };
    if (chartModule) show(chartModule);
    else fetchChart().then(show, () => undefined);
    return () => {
      stopped = true;
    };
  }, [data, units, language.value]);

  useEffect(() => {
    // While the figures are on their way.
    fetchChart().catch(() => {
      missing.value = true;
    });
    return () => {
      chart.current?.destroy();
      chart.current = null;
    };
  }, []);

  const move = (next: TimeWindow) => {
    chart.current?.move(next);
    history.moveTo(next);
  };
  const ends = useComputed(() => endsOf(window.value, timeZone.value));
  const described = useComputed(() => words.chart.describe(...ends.value));
  return (
    <section class="card history" aria-labelledby="history-title">
      <div class="history-head">
        <h2 class="card-title" id="history-title">
          {words.chart.title} <WindowText ends={ends} />
        </h2>
        <Spans history={history} />
        <Moves
          window={window}
          onMove={move}
          onNow={() => history.follow(spanOf(window.peek()) ?? "1h")}
        />
      </div>
      <div
        ref={host}
        class={state === "failed" ? "chart chart-old" : "chart"}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys move the chart
        tabIndex={0}
        role="application"
        aria-label={described}
      />
      {missing.value && <LoadAgain />}
      <p class="card-small history-note" role="status">
        {state === "loading" && words.chart.loading}
        {state === "failed" && words.chart.failed}
        {state === "shown" && <Note history={history} />}
      </p>
    </section>
  );
}

type ChartModule = typeof import("./history-chart.ts");
let chartModule: ChartModule | null = null;

async function fetchChart(): Promise<ChartModule> {
  chartModule ??= await import("./history-chart.ts");
  return chartModule;
}

/** From and to, as they are said. */
function endsOf(window: TimeWindow, zone: string): [string, string] {
  const moment = lengthOf(window) < 3 * 86_400 ? dayAndTime : momentInWords;
  const now = nowS.peek();
  return [moment(window.from, now, zone), moment(window.to, now, zone)];
}

/** Apart from the card, so that a frame of a drag draws nothing but this. */
function WindowText({ ends }: { ends: ReadonlySignal<[string, string]> }) {
  const text = useComputed(() => words.chart.between(...ends.value));
  return <span class="history-window">{text}</span>;
}

function Spans({ history }: { history: HistoryState }) {
  const chosen = useComputed(() => spanOf(history.window.value)).value;
  const pressed = history.span ?? chosen;
  return (
    <fieldset class="spans">
      <legend class="visually-hidden">{words.chart.span}</legend>
      {(Object.keys(spans) as Span[]).map((key) => (
        <button
          key={key}
          type="button"
          class="span-button"
          aria-pressed={pressed === key}
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
  window: ReadonlySignal<TimeWindow>;
  onMove: (window: TimeWindow) => void;
  onNow: () => void;
}) {
  const { window, onMove } = props;
  const text = words.chart;
  const go = (next: (window: TimeWindow, nowS: number) => TimeWindow) => () =>
    onMove(next(window.peek(), nowS.peek()));
  return (
    <fieldset class="spans">
      <legend class="visually-hidden">{text.move}</legend>
      <MoveButton text={text.earlier} onClick={go((at, now) => panned(at, -0.5, now))} />
      <MoveButton text={text.later} onClick={go((at, now) => panned(at, 0.5, now))} />
      <MoveButton text={text.closer} onClick={go((at, now) => zoomed(at, 0.5, 0.5, now))} />
      <MoveButton text={text.wider} onClick={go((at, now) => zoomed(at, 2, 0.5, now))} />
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
function Note({ history }: { history: HistoryState }) {
  const { data, window } = history;
  const inView = useMemo(
    () =>
      computed(() => {
        const { from, to } = window.value;
        return data?.history.gaps.filter((gap) => gap.from < to && gap.to > from).length ?? 0;
      }),
    [data],
  );
  const gaps = inView.value;
  if (!data) return null;
  const empty = Object.values(data.history.series).every((series) => series.t.length === 0);
  if (empty) return <>{words.chart.empty}</>;
  const long = data.loaded.bucketS > 15;
  const said = [
    words.chart.gaps(gaps),
    long ? words.chart.highest : "",
    long ? words.chart.envelope : "",
    words.chart.needNote,
  ];
  return <>{said.filter(Boolean).join(" ")}</>;
}
