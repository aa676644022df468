import uPlot from "uplot";
import { flowInUnit } from "../display/units.ts";
import { chartFont, token } from "../style/tokens.ts";
import type { ChartInput, Panel } from "./chart-panels.ts";

const names = [
  "ink",
  "ink-2",
  "rule",
  "slot",
  "gas-line",
  "gas-text",
  "interval-tint",
  "envelope-tint",
  "now-tint",
  "soon-tint",
  "now",
  "soon",
  "chart-hatch",
  "chart-spell",
] as const;

/** Colours and sizes of the look in use; read once, since asking for one lays out the page. */
export type Colours = Readonly<Record<(typeof names)[number], string>>;

export function coloursNow(): Colours {
  return Object.fromEntries(names.map((name) => [name, token(name)])) as Colours;
}

/** A size in px, as the canvas counts it. */
const sizeOf = (px: string): number => Number.parseFloat(px) * uPlot.pxRatio;

/** Hatching of stretches without data, so that they are not taken for gas that is off. */
export function hatchOf(colours: Colours): CanvasPattern | null {
  const tile = document.createElement("canvas");
  tile.width = tile.height = sizeOf(colours["chart-hatch"]);
  const ctx = tile.getContext("2d");
  if (!ctx) return null;
  const size = tile.width;
  ctx.strokeStyle = colours.rule;
  ctx.lineWidth = uPlot.pxRatio;
  for (const at of [-size, 0, size]) {
    ctx.moveTo(at, size);
    ctx.lineTo(at + size, 0);
  }
  ctx.stroke();
  return ctx.createPattern(tile, "repeat");
}

/** Behind the lines: stretches without data hatched, the demand as a band, alarm spells tinted. */
export function drawGround(
  plot: uPlot,
  panel: Panel,
  input: ChartInput,
  colours: Colours,
  hatch: CanvasPattern | null,
): void {
  const { ctx } = plot;
  const { left, top, width, height } = plot.bbox;
  const right = left + width;
  const x = (t: number) => Math.min(right, Math.max(left, plot.valToPos(t, "x", true)));
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  if (hatch) {
    // Held to a moment, so that it stands still however often it is drawn.
    const size = sizeOf(colours["chart-hatch"]);
    hatch.setTransform(new DOMMatrix().translate(plot.valToPos(0, "x", true) % size, 0));
    ctx.fillStyle = hatch;
    for (const gap of input.history.gaps) {
      const from = x(gap.from);
      const to = x(gap.to);
      if (to > from) ctx.fillRect(from, top, to - from, height);
    }
  }
  drawDemand(plot, panel, input, colours);
  const bar = sizeOf(colours["chart-spell"]);
  for (const { from, to, urgency } of input.stretches) {
    const start = x(from);
    const end = Math.max(start + uPlot.pxRatio, x(to ?? input.nowS));
    if (start >= right || end <= left) continue;
    ctx.fillStyle = colours[`${urgency}-tint`];
    ctx.fillRect(start, top, end - start, height);
    // The bar on top tells the spell apart where colours cannot.
    if (panel.name !== "flow") continue;
    ctx.fillStyle = colours[urgency];
    ctx.fillRect(start, top, end - start, urgency === "now" ? bar : bar / 2);
  }
  ctx.restore();
}

function drawDemand(plot: uPlot, panel: Panel, input: ChartInput, colours: Colours): void {
  const { demand, units } = input;
  if (panel.name !== "flow" || demand?.minimumLpm == null || demand.maximumLpm === null) return;
  const upper = plot.valToPos(flowInUnit(demand.maximumLpm, units), "y", true);
  const lower = plot.valToPos(flowInUnit(demand.minimumLpm, units), "y", true);
  plot.ctx.fillStyle = colours.slot;
  plot.ctx.fillRect(plot.bbox.left, upper, plot.bbox.width, lower - upper);
}

/** Colour of the words beside a line. */
export function wordColour(line: Panel["lines"][number], colours: Colours): string {
  return line.token === "gas-line" ? colours["gas-text"] : colours[line.token];
}

/** Nothing is known of what was not fetched: there neither grid nor band is drawn. */
export function clearUnfetched(plot: uPlot, { loaded }: ChartInput): void {
  const { ctx } = plot;
  const { left, top, width, height } = plot.bbox;
  const from = Math.min(left + width, Math.max(left, plot.valToPos(loaded.from, "x", true)));
  ctx.clearRect(left, top - 1, from - left, height + 2);
}

let measure: CanvasRenderingContext2D | null = null;

/** The widest of some words in the chart's type, px. */
export function widestPx(texts: readonly string[], rem: number): number {
  measure ??= document.createElement("canvas").getContext("2d");
  if (!measure) return rem * 4;
  measure.font = chartFont();
  return Math.ceil(Math.max(0, ...texts.map((text) => measure?.measureText(text).width ?? 0)));
}
