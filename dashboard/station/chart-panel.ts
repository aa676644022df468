import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { lineEnd, spread } from "../display/chart-data.ts";
import { placeOf, STRIP } from "../display/chart-strip.ts";
import { tickLabel, valueTicks } from "../display/chart-ticks.ts";
import { lengthOf, type TimeWindow } from "../display/chart-window.ts";
import { fixed } from "../display/numbers.ts";
import { flowInUnit } from "../display/units.ts";
import { words } from "../language/words.ts";
import { tokenPx } from "../style/tokens.ts";
import { type Colours, clearUnfetched, drawGround, wordColour } from "./chart-drawing.ts";
import type { ChartInput, Panel } from "./chart-panels.ts";
import { cursorText } from "./cursor-text.ts";
import { zoneDate } from "./zone-date.ts";

/** What all panels draw with. */
export interface Means {
  input: ChartInput;
  colours: Colours;
  hatch: CanvasPattern | null;
  rem: number;
  /** Width of the plot, px. */
  widthPx: number;
}

/** Room over the highest line and under zero, so that neither is cut, px. */
const PAD_TOP = 4;
const PAD_FOOT = 2;
/** A plot narrower than this has its times closer together. */
const NARROW_PX = 400;
/** Names of lines stand this far apart, px at the usual size of type. */
const NAMES_APART = 18 / 16;

/**
 * One panel: a strip of uPlot behind a window, longer than it, which is shifted while the chart is
 * moved; beside it the scale and the names of the lines, which are words and not part of the picture.
 */
export class ChartPanel {
  /** What is drawn; where it stands in the window is told by `place`. */
  strip: TimeWindow;
  /** Newer data or colours wait to be drawn. */
  stale = false;
  panel: Panel;
  readonly #means: () => Means;
  readonly #plot: uPlot;
  readonly #parts: ReturnType<typeof partsOf>;
  readonly #names: { element: HTMLElement; line: number | null; y: number | null }[] = [];
  #times: { t: number; element: HTMLElement; shown: boolean }[] = [];
  #ticks: { t: number; text: string }[] = [];
  #stretch = 1;

  constructor(host: HTMLElement, first: Panel, strip: TimeWindow, means: () => Means) {
    this.panel = first;
    this.strip = strip;
    this.#means = means;
    this.#parts = partsOf(host, first);
    this.#plot = this.#makePlot();
    this.#nameLines();
  }

  /** Takes newer data, to be drawn when its turn comes. */
  take(panel: Panel): void {
    this.panel = panel;
    this.stale = true;
  }

  draw(strip: TimeWindow): void {
    const { widthPx } = this.#means();
    this.strip = strip;
    this.stale = false;
    const plot = this.#plot;
    if (plot.width !== widthPx * STRIP) {
      plot.setSize({ width: widthPx * STRIP, height: plot.height });
    }
    plot.batch(() => {
      plot.setData(this.panel.data as uPlot.AlignedData, false);
      plot.setScale("x", { min: strip.from, max: strip.to });
    });
    this.#writeScale();
    this.#writeTimes();
  }

  /** Shifts the strip to where its window is: no drawing, no layout. */
  place(window: TimeWindow): void {
    const { widthPx } = this.#means();
    const { leftPx, stretch } = placeOf(this.strip, window, widthPx);
    const ratio = devicePixelRatio || 1;
    const left = stretch === 1 ? Math.round(leftPx * ratio) / ratio : leftPx;
    this.#parts.strip.style.transform = `translateX(${left}px) scaleX(${stretch})`;
    this.#parts.times.style.transform = `translateX(${left}px)`;
    if (stretch !== this.#stretch) {
      this.#stretch = stretch;
      this.#spaceTimes();
    }
    for (const time of this.#times) {
      const shown = window.from <= time.t && time.t <= window.to;
      if (shown === time.shown) continue;
      time.shown = shown;
      time.element.style.visibility = shown ? "visible" : "hidden";
    }
    this.#placeNames(window);
  }

  /** Stands the cursor at a moment, or takes it away, and says what was measured then. */
  point(t: number | null): void {
    const plot = this.#plot;
    const left = t === null ? -10 : plot.valToPos(t, "x");
    plot.setCursor({ left, top: left < 0 ? -10 : 1 }, false);
    const text = t === null ? "" : cursorText(plot, this.panel, this.#means().input);
    if (this.#parts.reading.textContent !== text) this.#parts.reading.textContent = text;
  }

  destroy(): void {
    this.#plot.destroy();
    this.#parts.holder.remove();
  }

  #makePlot(): uPlot {
    const { widthPx, rem } = this.#means();
    const { height, lines, bands } = this.panel;
    const colour = (token: keyof Colours) => () => this.#means().colours[token];
    return new uPlot(
      {
        width: widthPx * STRIP,
        height: height + PAD_TOP + PAD_FOOT,
        padding: [PAD_TOP, 0, PAD_FOOT, 0],
        legend: { show: false },
        tzDate: (t) => zoneDate(t, this.#means().input.zone),
        // Where the cursor stands is one moment for all panels; the chart tells it.
        cursor: {
          points: { size: tokenPx("chart-cursor") },
          y: false,
          // A click goes on to the chart: uPlot would keep what it takes for the end of a drag.
          drag: { x: false, y: false, click: () => undefined },
          bind: unbound,
        },
        scales: {
          x: {
            time: true,
            range: (_plot, min, max) =>
              min === null || max === null ? [this.strip.from, this.strip.to] : [min, max],
          },
          y: { range: () => [0, this.panel.top] },
        },
        axes: [
          {
            size: 0,
            space: () =>
              rem * (this.#means().widthPx < NARROW_PX && lengthOf(this.strip) > 1800 ? 3.6 : 5),
            grid: { show: false },
            ticks: { show: false },
            values: (_plot, splits, _axis, _space, step) => {
              const { zone } = this.#means().input;
              const length = lengthOf(this.strip) / STRIP;
              this.#ticks = splits.map((t) => ({ t, text: tickLabel(t, step, length, zone) }));
              return splits.map(() => "");
            },
          },
          {
            size: 0,
            ticks: { show: false },
            grid: { stroke: colour("rule"), width: tokenPx("chart-grid") },
            splits: () => this.#valueTicks(),
            values: (_plot, splits) => splits.map(() => ""),
          },
        ],
        series: [
          {},
          ...lines.map((line) => ({
            label: line.name,
            stroke: colour(line.token),
            width: tokenPx("chart-line"),
            ...(line.dash ? { dash: line.dash } : {}),
            spanGaps: false,
            points: { show: false },
          })),
          ...bands.flatMap(() => [
            { width: 0, points: { show: false } },
            { width: 0, points: { show: false } },
          ]),
        ],
        bands: bands.map((band) => ({ series: band.columns, fill: colour(band.token) })),
        hooks: {
          drawClear: [
            (plot) => {
              const { input, colours, hatch } = this.#means();
              drawGround(plot, this.panel, input, colours, hatch);
            },
          ],
          draw: [(plot) => clearUnfetched(plot, this.#means().input)],
        },
      },
      this.panel.data as uPlot.AlignedData,
      this.#parts.strip,
    );
  }

  #valueTicks(): number[] {
    if (!this.panel.scaled) return [];
    return valueTicks(this.panel.top, this.panel.height > 120 ? 4 : 2);
  }

  /** Y of a value within the plot's frame, px. */
  #y(value: number): number {
    return PAD_TOP + this.panel.height * (1 - value / this.panel.top);
  }

  #writeScale(): void {
    const { scale } = this.#parts;
    const ticks = this.#valueTicks();
    const key = ticks.join();
    if (scale.dataset.ticks === key) return;
    scale.dataset.ticks = key;
    scale.replaceChildren(
      ...ticks.map((value) => {
        const label = document.createElement("span");
        label.textContent = scaleText(value);
        label.style.top = `${this.#y(value)}px`;
        return label;
      }),
    );
  }

  #writeTimes(): void {
    if (!this.panel.times) return;
    const { times } = this.#parts;
    this.#times = this.#ticks.map(({ t, text }, index) => {
      const element = (times.children[index] ?? document.createElement("span")) as HTMLElement;
      if (!element.isConnected) times.append(element);
      if (element.textContent !== text) element.textContent = text;
      element.style.visibility = "hidden";
      return { t, element, shown: false };
    });
    while (times.children.length > this.#times.length) times.lastChild?.remove();
    this.#spaceTimes();
  }

  #spaceTimes(): void {
    const width = this.#means().widthPx * STRIP * this.#stretch;
    for (const { t, element } of this.#times) {
      const x = ((t - this.strip.from) / lengthOf(this.strip)) * width;
      element.style.transform = `translateX(${x.toFixed(1)}px) translateX(-50%)`;
    }
  }

  #nameLines(): void {
    const { input } = this.#means();
    const of = (text: string, line: number | null) => {
      const element = document.createElement("span");
      element.textContent = text;
      element.style.visibility = "hidden";
      this.#parts.names.append(element);
      this.#names.push({ element, line, y: null });
    };
    for (const [index, line] of this.panel.lines.entries()) of(line.name, index);
    if (this.panel.name === "flow" && input.demand) of(words.chart.needed, null);
  }

  /** Each name beside the last of its line that is in the window, kept apart from the others. */
  #placeNames(window: TimeWindow): void {
    const { input, colours, rem } = this.#means();
    const [times, ...columns] = this.panel.data;
    const last = lastAtOrBefore(times, window.to);
    const demand = input.demand;
    const at = this.#names.map(({ line }) => {
      if (line === null) {
        if (demand?.minimumLpm == null || demand.maximumLpm === null) return null;
        return this.#y(flowInUnit((demand.minimumLpm + demand.maximumLpm) / 2, input.units));
      }
      const end = lineEnd(columns[line] ?? [], last);
      return end && (times[end.index] ?? 0) >= window.from ? this.#y(end.value) : null;
    });
    const there = at.filter((y) => y !== null);
    const apart = spread(there, NAMES_APART * rem);
    let next = 0;
    for (const [index, name] of this.#names.entries()) {
      const y = at[index] === null ? null : (apart[next++] ?? 0);
      const line = name.line === null ? null : this.panel.lines[name.line];
      const colour = line ? wordColour(line, colours) : colours["ink-2"];
      if (name.element.style.color !== colour) name.element.style.color = colour;
      if (y === name.y || (y !== null && name.y !== null && Math.abs(y - name.y) < 0.5)) continue;
      name.y = y;
      name.element.style.visibility = y === null ? "hidden" : "visible";
      if (y !== null)
        name.element.style.transform = `translateY(${y.toFixed(1)}px) translateY(-50%)`;
    }
  }
}

const nothing = () => null;
const unbound = {
  mousedown: nothing,
  mouseup: nothing,
  click: nothing,
  dblclick: nothing,
  mousemove: nothing,
  mouseleave: nothing,
  mouseenter: nothing,
};

export const scaleText = (value: number): string =>
  fixed(value, [0, 1, 2].find((decimals) => Number(value.toFixed(decimals)) === value) ?? 2);

function lastAtOrBefore(times: readonly number[], t: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? 0) <= t) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

function partsOf(host: HTMLElement, panel: Panel) {
  const make = (kind: string, name: string, into: HTMLElement) => {
    const element = document.createElement(kind);
    element.className = name;
    into.append(element);
    return element;
  };
  const holder = make("div", "chart-panel", host);
  const title = make("p", "chart-title", holder);
  const strong = document.createElement("strong");
  strong.textContent = panel.title;
  title.append(strong, ` ${panel.unit} `);
  const reading = make("span", "chart-reading", title);
  const body = make("div", "chart-body", holder);
  body.style.height = `${panel.height + PAD_TOP + PAD_FOOT}px`;
  const scale = make("div", "chart-scale", body);
  const strip = make("div", "chart-strip", make("div", "chart-plot", body));
  const names = make("div", "chart-names", body);
  const times = make("div", "chart-strip", make("div", "chart-times", holder));
  if (!panel.times) times.parentElement?.remove();
  return { holder, reading, scale, strip, names, times };
}
