import uPlot from "uplot";
import { lineEnd, spread } from "../display/chart-data.ts";
import { flowInUnit } from "../display/units.ts";
import { words } from "../language/words.ts";
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
] as const;

/** Colours of the look in use; read once, since asking for one lays out the page. */
export type Colours = Readonly<Record<(typeof names)[number], string>>;

export function coloursNow(): Colours {
  const style = getComputedStyle(document.documentElement);
  return Object.fromEntries(
    names.map((name) => [name, style.getPropertyValue(`--${name}`).trim()]),
  ) as Colours;
}

/** Hatching of stretches without data, so that they are not taken for gas that is off. */
export function hatchOf(colours: Colours): CanvasPattern | null {
  const tile = document.createElement("canvas");
  tile.width = tile.height = 8 * uPlot.pxRatio;
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
    ctx.fillStyle = hatch;
    for (const gap of input.history.gaps) {
      const from = x(gap.from);
      const to = x(gap.to);
      if (to > from) ctx.fillRect(from, top, to - from, height);
    }
  }
  drawDemand(plot, panel, input, colours);
  const bar = 4 * uPlot.pxRatio;
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

/** The name of each line at its end, and of the band, kept apart. */
export function drawNames(plot: uPlot, panel: Panel, input: ChartInput, colours: Colours): void {
  const { ctx } = plot;
  const ratio = uPlot.pxRatio;
  const last = (plot.series[0]?.idxs?.[1] ?? -1) + 1;
  const labels = panel.lines.flatMap((line, index) => {
    const values = ((plot.data[index + 1] ?? []) as (number | null)[]).slice(0, last || undefined);
    const end = lineEnd(values);
    const colour = line.token === "gas-line" ? colours["gas-text"] : colours[line.token];
    return end ? [{ text: line.name, at: plot.valToPos(end.value, "y", true), colour }] : [];
  });
  const demand = input.demand;
  if (panel.name === "flow" && demand?.minimumLpm != null && demand.maximumLpm !== null) {
    const middle = flowInUnit((demand.minimumLpm + demand.maximumLpm) / 2, input.units);
    labels.push({
      text: words.chart.needed,
      at: plot.valToPos(middle, "y", true),
      colour: colours["ink-2"],
    });
  }
  const apart = spread(
    labels.map(({ at }) => at),
    18 * ratio,
  );
  ctx.save();
  ctx.textAlign = "left";
  ctx.textBaseline = "middle";
  ctx.font = `${fontPx() * ratio}px Overpass, sans-serif`;
  labels.forEach(({ text, colour }, index) => {
    ctx.fillStyle = colour;
    ctx.fillText(text, plot.bbox.left + plot.bbox.width + 8 * ratio, apart[index] ?? 0);
  });
  ctx.restore();
}

let rootPx = 0;

/** Size of type on the chart, px; follows the reader's own size as of when the chart was made. */
export function fontPx(): number {
  rootPx ||= Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  return Math.round(rootPx * 0.875);
}

export function remPx(): number {
  rootPx = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  return rootPx;
}
