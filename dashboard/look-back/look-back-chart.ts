import type { LookBack } from "@leeward/shared-core/api/look-back.ts";
import type { History } from "@leeward/shared-core/api/stations.ts";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { type Columns, columns, flowWhileOn, hasValue, niceTop } from "../display/chart-data.ts";
import { clockTime, momentInWords } from "../display/durations.ts";
import { fixed } from "../display/numbers.ts";
import {
  flowInUnit,
  pressureInUnit,
  temperatureInUnit,
  temperatureUnit,
  type UnitChoice,
} from "../display/units.ts";
import { urgencyOf } from "../display/urgency.ts";
import { lookBackWords as text } from "../language/look-back-words.ts";
import { onLookChange } from "../style/look-change.ts";
import { chartFont, remPx, token, tokenPx } from "../style/tokens.ts";

export interface LookBackChartInput {
  report: LookBack;
  history: History;
  units: UnitChoice;
  zone: string;
}

export interface LookBackChart {
  /** Draws anew for a width in px and a share of the usual height, with the colours that hold now. */
  fit(widthPx: number, share?: number): void;
  destroy(): void;
}

interface Panel {
  title: string;
  unit: string;
  data: Columns;
  height: number;
  stroke: string;
  range: (min: number | null, max: number | null) => [number, number];
  flow: boolean;
  /** Something stands on its scale: without, no scale is written. */
  scaled: boolean;
}

const DAY_S = 86_400;

/** Flow with its window and interval, cylinder pressure, regulator temperature; one time axis. */
export function createLookBackChart(host: HTMLElement, input: LookBackChartInput): LookBackChart {
  const sync = uPlot.sync("look-back");
  const plots = panelsOf(input).map((panel, index, all) => {
    const plot = makePlot(host, panel, input, { last: index === all.length - 1, sync });
    sync.sub(plot);
    return plot;
  });
  const heights = plots.map((plot) => plot.height);
  const fit = (width: number, share = 1) => {
    for (const [index, plot] of plots.entries()) {
      plot.setSize({ width, height: Math.round(heights[index]! * share) });
    }
  };
  const observer = new ResizeObserver(() => fit(host.clientWidth));
  observer.observe(host);
  const dropLook = onLookChange(() => {
    for (const plot of plots) plot.redraw();
  });
  return {
    fit,
    destroy() {
      observer.disconnect();
      dropLook();
      for (const plot of plots) {
        sync.unsub(plot);
        plot.destroy();
      }
      host.replaceChildren();
    },
  };
}

function panelsOf({ report, history, units }: LookBackChartInput): Panel[] {
  const flow = (value: number) => flowInUnit(value, units);
  const [t, mean = [], least = [], most = [], high = [], low = []] = columns(history, [
    { name: "flow", pick: "mean", convert: flow },
    { name: "flow", pick: "min", convert: flow },
    { name: "flow", pick: "max", convert: flow },
    { name: "flow-high", pick: "mean", convert: flow },
    { name: "flow-low", pick: "mean", convert: flow },
  ]);
  const bucketS = (report.to - report.from) / Math.max(1, t.length);
  const on = flowWhileOn(least, mean, most, bucketS);
  const within = (line: (number | null)[]) =>
    line.map((value, index) => (on[index] !== null && on[index] === mean[index] ? value : null));
  const top = Math.max(...report.windows.map((one) => flow(one.maximumLpm ?? 0)), 0);
  const cylinder = columns(history, [
    {
      name: "cylinder-pressure",
      pick: "mean",
      convert: (value) => pressureInUnit(value, units),
    },
  ]);
  const panels: Panel[] = [
    {
      title: text.chart.flow,
      unit: units.flow,
      data: [t, on, within(high), within(low)],
      height: tokenPx("chart-flow-height-look-back"),
      stroke: "ink",
      range: (_min, max) => [0, niceTop(Math.max(max ?? 0, top * 1.15))],
      flow: true,
      scaled: top > 0 || hasValue(on),
    },
    {
      title: text.chart.cylinder,
      unit: units.pressure,
      data: cylinder,
      height: tokenPx("chart-pressure-height"),
      stroke: "gas-line",
      range: (_min, max) => [0, niceTop(max ?? 0)],
      flow: false,
      scaled: hasValue(cylinder[1]),
    },
  ];
  const body = columns(history, [
    {
      name: "regulator-temperature",
      pick: "mean",
      convert: (value) => temperatureInUnit(value, units),
    },
  ]);
  if (body[0].length > 0) {
    panels.push({
      title: text.chart.regulator,
      unit: temperatureUnit(units),
      data: body,
      height: tokenPx("chart-pressure-height"),
      stroke: "gas-line",
      range: (min, max) => [Math.floor((min ?? 0) - 2), Math.ceil((max ?? 0) + 2)],
      flow: false,
      scaled: hasValue(body[1]),
    });
  }
  return panels;
}

function makePlot(
  host: HTMLElement,
  panel: Panel,
  input: LookBackChartInput,
  place: { last: boolean; sync: uPlot.SyncPubSub },
): uPlot {
  const { report, zone } = input;
  const title = document.createElement("p");
  title.className = "chart-title";
  const name = document.createElement("strong");
  name.textContent = panel.title;
  const reading = document.createElement("span");
  title.append(name, ` ${panel.unit} `, reading);
  host.append(title);
  const rootPx = remPx();
  const axis = { stroke: () => token("ink-2"), font: chartFont(), ticks: { show: false } };
  const label = (t: number) =>
    report.to - report.from > 1.5 * DAY_S ? momentInWords(t, report.to, zone) : clockTime(t, zone);
  return new uPlot(
    {
      width: host.clientWidth,
      height: panel.height + (place.last ? rootPx * 2 : 0),
      padding: [12, 8, 0, 0],
      legend: { show: false },
      tzDate: (t) => uPlot.tzDate(new Date(t * 1000), zone),
      cursor: {
        sync: { key: place.sync.key, setSeries: false },
        y: false,
        drag: { x: false, y: false },
      },
      scales: {
        x: { time: true, range: () => [report.from, report.to] },
        y: { range: (_plot, min, max) => panel.range(min, max) },
      },
      axes: [
        {
          ...axis,
          space: rootPx * 6,
          size: place.last ? rootPx * 2 : 4,
          grid: { show: false },
          values: (_plot, splits) => splits.map((t) => (place.last ? label(t) : "")),
        },
        {
          ...axis,
          size: rootPx * 3.4,
          space: rootPx * 2,
          grid: { show: panel.scaled, stroke: () => token("rule"), width: tokenPx("chart-grid") },
          values: (_plot, splits) =>
            splits.map((value) => (panel.scaled ? fixed(value, value % 1 === 0 ? 0 : 1) : "")),
        },
      ],
      series: [
        {},
        {
          stroke: () => token(panel.stroke),
          width: tokenPx("chart-line"),
          spanGaps: false,
          points: { show: false },
        },
        ...panel.data.slice(2).map(() => ({ width: 0, points: { show: false } })),
      ],
      bands: panel.flow ? [{ series: [2, 3], fill: () => token("interval-tint") }] : [],
      hooks: {
        drawClear: [(plot) => drawGround(plot, panel, input)],
        draw: [(plot) => panel.flow && drawMarks(plot, input)],
        setCursor: [
          (plot) => {
            const index = plot.cursor.idx;
            const t = index == null ? undefined : plot.data[0][index];
            const value = index == null ? null : plot.data[1]?.[index];
            reading.textContent =
              t === undefined
                ? ""
                : `${clockTime(t, zone)}: ${value == null ? "–" : fixed(value, 1)}`;
          },
        ],
      },
    },
    panel.data as uPlot.AlignedData,
    host,
  );
}

/** The window as a band, lacks tinted, gaps hatched. */
function drawGround(plot: uPlot, panel: Panel, { report, units }: LookBackChartInput): void {
  const { ctx } = plot;
  const { left, top, width, height } = plot.bbox;
  const x = (t: number) => plot.valToPos(Math.min(Math.max(t, report.from), report.to), "x", true);
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  if (panel.flow) {
    ctx.fillStyle = token("slot");
    for (const [index, one] of report.windows.entries()) {
      if (one.minimumLpm === null) continue;
      const ends = report.windows[index + 1]?.t ?? report.to;
      const upper =
        one.maximumLpm === null ? top : plot.valToPos(flowInUnit(one.maximumLpm, units), "y", true);
      const lower = plot.valToPos(flowInUnit(one.minimumLpm, units), "y", true);
      ctx.fillRect(x(one.t), upper, x(ends) - x(one.t), lower - upper);
    }
  }
  for (const { kind, from, to } of report.record.stretches) {
    const wide = Math.max(uPlot.pxRatio, x(to) - x(from));
    if (kind === "short" || kind === "arc-without-gas") {
      ctx.fillStyle = token("now-tint");
      ctx.fillRect(x(from), top, wide, height);
    } else if (kind === "no-data") {
      hatch(ctx, x(from), top, wide, height);
    }
  }
  ctx.restore();
}

function hatch(
  ctx: CanvasRenderingContext2D,
  left: number,
  top: number,
  width: number,
  height: number,
): void {
  const step = tokenPx("chart-hatch") * uPlot.pxRatio;
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  ctx.strokeStyle = token("ink-3");
  ctx.lineWidth = uPlot.pxRatio;
  ctx.beginPath();
  for (let at = left - height; at < left + width; at += step) {
    ctx.moveTo(at, top + height);
    ctx.lineTo(at + height, top);
  }
  ctx.stroke();
  ctx.restore();
}

/** Alarm spells as bars on top, cylinder changes and turned devices as triangles below them. */
function drawMarks(plot: uPlot, { report }: LookBackChartInput): void {
  const { ctx } = plot;
  const { left, top, width } = plot.bbox;
  const ratio = uPlot.pxRatio;
  const x = (t: number) => plot.valToPos(Math.min(Math.max(t, report.from), report.to), "x", true);
  const bar = tokenPx("chart-spell") * ratio;
  ctx.save();
  for (const alarm of report.alarms) {
    const urgency = urgencyOf(alarm);
    if (urgency === "today") continue;
    ctx.fillStyle = token(`${urgency}-fill`);
    const from = Math.max(left, x(alarm.since));
    const to = Math.min(left + width, x(alarm.cleared ?? report.to));
    ctx.fillRect(from, top - (urgency === "now" ? 10 : 5) * ratio, to - from, bar);
  }
  for (const { t, kind } of report.events) {
    if (kind !== "swap" && kind !== "re-dial") continue;
    const size = (tokenPx("chart-mark") / 2) * ratio;
    ctx.beginPath();
    ctx.moveTo(x(t) - size, top + 2 * ratio);
    ctx.lineTo(x(t) + size, top + 2 * ratio);
    ctx.lineTo(x(t), top + 2 * ratio + 1.6 * size);
    ctx.closePath();
    ctx.lineWidth = tokenPx("chart-line") * ratio;
    ctx.strokeStyle = token("ink");
    ctx.fillStyle = token(kind === "swap" ? "ink" : "card");
    ctx.fill();
    ctx.stroke();
  }
  ctx.restore();
}
