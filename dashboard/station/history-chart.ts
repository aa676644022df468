import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { titlesAt } from "../display/chart-spells.ts";
import { lengthOf, type TimeWindow } from "../display/chart-window.ts";
import { clockTime, dayAndTime, momentInWords } from "../display/durations.ts";
import { fixed } from "../display/numbers.ts";
import { words } from "../language/words.ts";
import {
  type Colours,
  coloursNow,
  drawGround,
  drawNames,
  fontPx,
  hatchOf,
  remPx,
} from "./chart-drawing.ts";
import { addGestures } from "./chart-gestures.ts";
import { type ChartInput, type Panel, type PanelName, panelsOf } from "./chart-panels.ts";
import { zoneDate } from "./zone-date.ts";

export interface HistoryChart {
  show(input: ChartInput): void;
  move(window: TimeWindow): void;
  destroy(): void;
}

interface Drawn {
  plot: uPlot;
  panel: Panel;
}

/**
 * Three panels one above the other on the same time axis, with linked cursors, that can be dragged,
 * pinched and moved by keys. `moved` is told of every new window, once a frame.
 */
export function createHistoryChart(
  host: HTMLElement,
  moved: (window: TimeWindow) => void,
): HistoryChart {
  const sync = uPlot.sync("station-history");
  const drawn = new Map<PanelName, Drawn>();
  let input: ChartInput | null = null;
  let window: TimeWindow = { from: 0, to: 1 };
  let drawnWith = "";
  let colours = coloursNow();
  let hatch = hatchOf(colours);
  let frame = 0;

  const observer = new ResizeObserver(() => {
    for (const { plot } of drawn.values()) {
      plot.setSize({ width: host.clientWidth, height: plot.height });
    }
  });
  observer.observe(host);

  /** All panels at once, once a frame, however fast the finger goes. */
  function move(next: TimeWindow): void {
    window = next;
    frame ||= requestAnimationFrame(() => {
      frame = 0;
      for (const { plot } of drawn.values()) {
        plot.setScale("x", { min: window.from, max: window.to });
      }
      moved(window);
    });
  }

  const dropGestures = addGestures(host, {
    window: () => window,
    nowS: () => input?.nowS ?? window.to,
    move,
    box: () => drawn.get("flow")?.plot.over.getBoundingClientRect() ?? { left: 0, width: 1 },
  });

  function clear(): void {
    for (const { plot } of drawn.values()) {
      sync.unsub(plot);
      plot.destroy();
    }
    drawn.clear();
    host.replaceChildren();
    colours = coloursNow();
    hatch = hatchOf(colours);
  }

  return {
    move,
    show(next) {
      input = next;
      window = next.window;
      // New options (unit, look, size of type) need new plots; new data only needs new data.
      const options = [next.units, next.zone, next.device?.kind, coloursNow().ink, remPx()];
      if (JSON.stringify(options) !== drawnWith) clear();
      drawnWith = JSON.stringify(options);
      for (const panel of panelsOf(next)) {
        const there = drawn.get(panel.name);
        if (there) {
          there.panel = panel;
          there.plot.setData(panel.data as uPlot.AlignedData, false);
          there.plot.setScale("x", { min: window.from, max: window.to });
        } else {
          drawn.set(panel.name, makePlot(panel));
        }
      }
    },
    destroy() {
      cancelAnimationFrame(frame);
      dropGestures();
      observer.disconnect();
      clear();
    },
  };

  function makePlot(first: Panel): Drawn {
    const { holder, reading } = holderOf(host, first);
    const self: { panel: Panel } = { panel: first };
    const plot = new uPlot(
      {
        ...looks(
          first,
          host.clientWidth,
          colours,
          () => window,
          () => input,
        ),
        scales: {
          x: {
            time: true,
            range: (_plot, min, max) =>
              min === null || max === null ? [window.from, window.to] : [min, max],
          },
          y: { range: () => [0, self.panel.top] },
        },
        hooks: {
          drawClear: [(of) => input && drawGround(of, self.panel, input, colours, hatch)],
          draw: [(of) => input && drawNames(of, self.panel, input, colours)],
          setCursor: [(of) => readCursor(of, self.panel, reading, input)],
        },
      },
      first.data as uPlot.AlignedData,
      holder,
    );
    plot.setScale("x", { min: window.from, max: window.to });
    sync.sub(plot);
    return Object.assign(self, { plot });
  }
}

function holderOf(host: HTMLElement, panel: Panel) {
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
  return { holder, reading };
}

/** Axes, lines and bands of one panel. */
function looks(
  panel: Panel,
  width: number,
  colours: Colours,
  window: () => TimeWindow,
  input: () => ChartInput | null,
): uPlot.Options {
  const rem = remPx();
  const font = `${fontPx()}px Overpass, sans-serif`;
  const axis = { stroke: colours["ink-2"], font, ticks: { show: false } };
  return {
    width,
    height: panel.height,
    padding: [8, Math.round(rem * 4.5), 0, 0],
    legend: { show: false },
    tzDate: (t) => zoneDate(t, input()?.zone ?? "UTC"),
    cursor: {
      sync: { key: "station-history", setSeries: false },
      points: { size: 8 },
      y: false,
      drag: { x: false, y: false },
    },
    axes: [
      {
        ...axis,
        space: rem * 6,
        size: panel.name === "cylinder" ? 6 : rem * 2,
        grid: { show: false },
        values: (_plot, splits) =>
          splits.map((t) => (panel.name === "cylinder" ? "" : timeLabel(t, window(), input()))),
      },
      {
        ...axis,
        size: rem * 3.2,
        space: rem * 2.4,
        grid: { stroke: colours.rule, width: 1 },
        values: (_plot, splits) => splits.map((value) => fixed(value, value % 1 === 0 ? 0 : 1)),
      },
    ],
    series: [
      {},
      ...panel.lines.map((line) => ({
        label: line.name,
        stroke: colours[line.token],
        width: line.width,
        ...(line.dash ? { dash: line.dash } : {}),
        spanGaps: false,
        points: { show: false },
      })),
      ...panel.bands.flatMap(() => [
        { width: 0, points: { show: false } },
        { width: 0, points: { show: false } },
      ]),
    ],
    bands: panel.bands.map((band) => ({ series: band.columns, fill: colours[band.token] })),
  };
}

function timeLabel(t: number, window: TimeWindow, input: ChartInput | null): string {
  if (!input) return "";
  return lengthOf(window) > 2 * 86_400
    ? momentInWords(t, window.to, input.zone)
    : clockTime(t, input.zone);
}

/** The figures under the cursor, and what stood then, beside the panel's title. */
function readCursor(plot: uPlot, panel: Panel, into: HTMLElement, input: ChartInput | null): void {
  const index = plot.cursor.idx;
  const t = index === null || index === undefined ? undefined : plot.data[0][index];
  if (t === undefined || index === null || index === undefined || !input) {
    if (into.textContent !== "") into.textContent = "";
    return;
  }
  const values = panel.lines.map((line, k) => {
    const value = plot.data[k + 1]?.[index];
    return value === null || value === undefined
      ? null
      : `${panel.lines.length > 1 ? `${line.name} ` : ""}${fixed(value, panel.decimals)}`;
  });
  const known = values.filter((value) => value !== null);
  const silent = input.history.gaps.some((gap) => gap.from < t && t < gap.to);
  const nothing = panel.name === "flow" && !silent ? words.chart.off : words.chart.none;
  const titles = panel.name === "flow" ? titlesAt(input.stretches, t).join(" ") : "";
  const at =
    panel.name === "flow" ? `${words.chart.at(dayAndTime(t, input.nowS, input.zone))}: ` : "";
  const also = titles ? words.chart.also(titles) : "";
  into.textContent = `${at}${known.join(", ") || nothing}${also}`;
}
