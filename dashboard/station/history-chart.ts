import type { History } from "@leeward/shared-core/api/stations.ts";
import type { FlowDeviceDocument } from "@leeward/shared-core/documents/hardware.ts";
import type { ActiveAlarm, DemandWindow } from "@leeward/shared-core/estimation/estimate.ts";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import {
  type Columns,
  columns,
  flowWhileOn,
  lineEnd,
  niceTop,
  spread,
} from "../display/chart-data.ts";
import { clockTime, momentInWords } from "../display/durations.ts";
import { fixed } from "../display/numbers.ts";
import type { Span } from "../display/route.ts";
import { flowInUnit, pressureInUnit, readingToLpm, type UnitChoice } from "../display/units.ts";
import { mostUrgentFirst, urgencyOf } from "../display/urgency.ts";
import { words } from "../language/words.ts";

export interface ChartInput {
  history: History;
  /** Unix seconds. */
  from: number;
  to: number;
  span: Span;
  /** Buckets asked for. */
  points: number;
  units: UnitChoice;
  zone: string;
  demand: DemandWindow | null;
  alarms: readonly ActiveAlarm[];
  device: FlowDeviceDocument | null;
}

export interface HistoryChart {
  show(input: ChartInput): void;
  destroy(): void;
}

type PanelName = "flow" | "cylinder" | "line";

interface Panel {
  name: PanelName;
  title: string;
  unit: string;
  data: Columns;
  /** Name at the end of each line, its stroke token, dash and width. */
  lines: { name: string; token: string; dash?: number[]; width: number }[];
  height: number;
  decimals: number;
  /** Columns of the upper and lower bound of the first line. */
  interval?: [number, number];
}

/** Three panels one above the other on the same time axis, with linked cursors. */
export function createHistoryChart(host: HTMLElement): HistoryChart {
  const sync = uPlot.sync("station-history");
  const plots = new Map<PanelName, uPlot>();
  let input: ChartInput | null = null;
  let drawnWith = "";

  const observer = new ResizeObserver(() => {
    for (const plot of plots.values()) {
      plot.setSize({ width: host.clientWidth, height: plot.height });
    }
  });
  observer.observe(host);

  function clear(): void {
    for (const plot of plots.values()) {
      sync.unsub(plot);
      plot.destroy();
    }
    plots.clear();
    host.replaceChildren();
  }

  return {
    show(next) {
      input = next;
      const panels = panelsOf(next);
      // New options (unit, look, span, size of type) need new plots; new data only needs new data.
      const drawing = JSON.stringify([next.units, next.span, next.zone, next.demand, token("ink")]);
      if (drawing !== drawnWith) clear();
      drawnWith = drawing;
      for (const panel of panels) {
        const plot = plots.get(panel.name);
        if (plot) {
          plot.setData(panel.data as uPlot.AlignedData, true);
        } else {
          plots.set(
            panel.name,
            makePlot(host, panel, () => input, sync),
          );
        }
      }
    },
    destroy() {
      observer.disconnect();
      clear();
    },
  };
}

function token(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();
}

function panelsOf(input: ChartInput): Panel[] {
  const { history, units, device } = input;
  const flow = (value: number) => flowInUnit(value, units);
  const pressure = (value: number) => pressureInUnit(value, units);
  const indicated = (value: number) =>
    flow(readingToLpm(value, device?.readingUnit ?? "L/min", device?.scaleReference));
  const [t, mean = [], low = [], high = [], dial = [], dialLow = [], dialHigh = [], ...bounds] =
    columns(history, [
      { name: "flow", pick: "mean", convert: flow },
      { name: "flow", pick: "min", convert: flow },
      { name: "flow", pick: "max", convert: flow },
      { name: "indicated", pick: "mean", convert: indicated },
      { name: "indicated", pick: "min", convert: indicated },
      { name: "indicated", pick: "max", convert: indicated },
      { name: "flow-high", pick: "mean", convert: flow },
      { name: "flow-low", pick: "mean", convert: flow },
    ]);
  const bucketS = (input.to - input.from) / input.points;
  const on = flowWhileOn(low, mean, high, bucketS);
  const shown = flowWhileOn(dialLow, dial, dialHigh, bucketS);
  // The bounds are means: only where gas was on all the time do they stand.
  const interval = bounds.map((line) =>
    line.map((value, index) => (on[index] === mean[index] ? value : null)),
  );
  const names = words.chart.lineNames;
  const deviceName = device ? words.device.ring[device.kind] : names.indicated;
  const cylinder = columns(history, [
    { name: "cylinder-pressure", pick: "mean", convert: pressure },
  ]);
  const line = columns(history, [{ name: "line-pressure", pick: "mean", convert: pressure }]);
  return [
    {
      name: "flow",
      title: words.chart.flow,
      unit: units.flow,
      data: [t, on, shown, ...interval],
      interval: [3, 4],
      lines: [
        { name: names.flow, token: "ink", width: 2 },
        { name: deviceName, token: "ink-2", dash: [2, 5], width: 2 },
      ],
      height: 230,
      decimals: 1,
    },
    {
      name: "cylinder",
      title: words.chart.cylinder,
      unit: units.pressure,
      data: cylinder,
      lines: [{ name: names.cylinder, token: "gas-line", width: 2 }],
      height: 110,
      decimals: 0,
    },
    {
      name: "line",
      title: words.chart.line,
      unit: units.pressure,
      data: line,
      lines: [{ name: names.line, token: "gas-line", width: 2 }],
      height: 140,
      decimals: units.pressure === "bar" ? 2 : 0,
    },
  ];
}

function makePlot(
  host: HTMLElement,
  panel: Panel,
  current: () => ChartInput | null,
  sync: uPlot.SyncPubSub,
): uPlot {
  const holder = document.createElement("div");
  holder.className = "chart-panel";
  const title = document.createElement("p");
  title.className = "chart-title";
  const strong = document.createElement("strong");
  strong.textContent = panel.title;
  const reading = document.createElement("span");
  title.append(strong, ` ${panel.unit} `, reading);
  holder.append(title);
  host.append(holder);

  const rootPx = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  const font = `${Math.round(rootPx * 0.875)}px Overpass, sans-serif`;
  const right = Math.round(rootPx * 5);
  const axis = { stroke: token("ink-2"), font, ticks: { show: false } };
  const plot = new uPlot(
    {
      width: host.clientWidth,
      height: panel.height,
      padding: [8, right, 0, 0],
      legend: { show: false },
      tzDate: (t) => uPlot.tzDate(new Date(t * 1000), current()?.zone ?? "UTC"),
      cursor: {
        sync: { key: sync.key, setSeries: false },
        points: { size: 8 },
        y: false,
        drag: { x: false, y: false },
      },
      scales: {
        x: { time: true, range: () => timeRange(current()) },
        y: { range: (_plot, _min, max) => [0, yTop(panel.name, max, current())] },
      },
      axes: [
        {
          ...axis,
          space: rootPx * 6,
          size: panel.name === "cylinder" ? 6 : rootPx * 2,
          grid: { show: false },
          values: (_plot, splits) =>
            splits.map((t) => (panel.name === "cylinder" ? "" : timeLabel(t, current()))),
        },
        {
          ...axis,
          size: rootPx * 3.2,
          space: rootPx * 2.4,
          grid: { stroke: token("rule"), width: 1 },
          values: (_plot, splits) => splits.map((value) => fixed(value, value % 1 === 0 ? 0 : 1)),
        },
      ],
      series: [
        {},
        ...panel.lines.map((line) => ({
          label: line.name,
          stroke: token(line.token),
          width: line.width,
          ...(line.dash ? { dash: line.dash } : {}),
          spanGaps: false,
          points: { show: false },
        })),
        ...(panel.interval ?? []).map(() => ({ width: 0, points: { show: false } })),
      ],
      bands: panel.interval ? [{ series: panel.interval, fill: token("interval-tint") }] : [],
      hooks: {
        drawClear: [(self) => drawGround(self, panel, current())],
        draw: [(self) => drawNames(self, panel, font)],
        setCursor: [(self) => readCursor(self, panel, reading, current())],
      },
    },
    panel.data as uPlot.AlignedData,
    holder,
  );
  sync.sub(plot);
  return plot;
}

function timeRange(input: ChartInput | null): [number, number] {
  return input ? [input.from, input.to] : [0, 1];
}

function yTop(name: PanelName, max: number | null, input: ChartInput | null): number {
  const demandTop =
    name === "flow" && input?.demand?.maximumLpm
      ? flowInUnit(input.demand.maximumLpm, input.units) * 1.15
      : 0;
  return niceTop(Math.max(max ?? 0, demandTop));
}

function timeLabel(t: number, input: ChartInput | null): string {
  if (!input) return "";
  const long = input.span === "1w" || input.span === "1y";
  return long ? momentInWords(t, input.to, input.zone) : clockTime(t, input.zone);
}

/** The demand as a band and standing alarms as tinted stretches, behind the lines. */
function drawGround(plot: uPlot, panel: Panel, input: ChartInput | null): void {
  if (!input) return;
  const { ctx } = plot;
  const { left, top, width, height } = plot.bbox;
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  const demand = input.demand;
  if (panel.name === "flow" && demand?.minimumLpm != null && demand.maximumLpm != null) {
    const upper = plot.valToPos(flowInUnit(demand.maximumLpm, input.units), "y", true);
    const lower = plot.valToPos(flowInUnit(demand.minimumLpm, input.units), "y", true);
    ctx.fillStyle = token("slot");
    ctx.fillRect(left, upper, width, lower - upper);
  }
  const urgent = mostUrgentFirst(input.alarms)[0];
  // What can wait until the end of the day does not tint the picture.
  if (urgent && urgencyOf(urgent) !== "today") {
    const x = Math.max(left, plot.valToPos(urgent.since, "x", true));
    ctx.fillStyle = token(`${urgencyOf(urgent)}-tint`);
    ctx.fillRect(x, top, left + width - x, height);
  }
  ctx.restore();
}

/** The name of each line at its end, kept apart. */
function drawNames(plot: uPlot, panel: Panel, font: string): void {
  const { ctx } = plot;
  const ratio = uPlot.pxRatio;
  const ends = panel.lines.map((_, index) => lineEnd(panelValues(plot, index + 1)));
  const heights = ends.map((end) => (end ? plot.valToPos(end.value, "y", true) : 0));
  const apart = spread(heights, 18 * ratio);
  ctx.save();
  ctx.font = font.replace(/^(\d+)px/, (_all, px: string) => `${Number(px) * ratio}px`);
  ctx.textAlign = "left";
  ctx.textBaseline = "middle";
  panel.lines.forEach((line, index) => {
    if (!ends[index]) return;
    ctx.fillStyle = token(line.token === "gas-line" ? "gas-text" : line.token);
    ctx.fillText(line.name, plot.bbox.left + plot.bbox.width + 8 * ratio, apart[index] ?? 0);
  });
  ctx.restore();
}

function panelValues(plot: uPlot, index: number): (number | null)[] {
  return (plot.data[index] ?? []) as (number | null)[];
}

/** The figures under the cursor, beside the panel's title. */
function readCursor(plot: uPlot, panel: Panel, into: HTMLElement, input: ChartInput | null): void {
  const index = plot.cursor.idx;
  const t = index === null || index === undefined ? undefined : plot.data[0][index];
  if (t === undefined || index === null || index === undefined || !input) {
    into.textContent = "";
    return;
  }
  const values = panel.lines.map((line, k) => {
    const value = panelValues(plot, k + 1)[index];
    return value === null || value === undefined
      ? null
      : `${panel.lines.length > 1 ? `${line.name} ` : ""}${fixed(value, panel.decimals)}`;
  });
  const known = values.filter((value) => value !== null);
  const nothing = panel.name === "flow" ? words.chart.off : words.chart.none;
  into.textContent = `${words.chart.at(momentInWords(t, input.to, input.zone))}: ${known.join(", ") || nothing}`;
}
