import type { History } from "@leeward/shared-core/api/stations.ts";
import type { FlowDeviceDocument } from "@leeward/shared-core/documents/hardware.ts";
import type { DemandWindow } from "@leeward/shared-core/estimation/estimate.ts";
import { type Columns, columns, flowWhileOn, hasValue, niceTop } from "../display/chart-data.ts";
import type { Stretch } from "../display/chart-spells.ts";
import type { Loaded, TimeWindow } from "../display/chart-window.ts";
import { ringName } from "../display/device-words.ts";
import { flowInUnit, pressureInUnit, readingToLpm, type UnitChoice } from "../display/units.ts";
import { words } from "../language/words.ts";
import { tokenPx } from "../style/tokens.ts";

export interface ChartInput {
  history: History;
  /** What was fetched, and what of it is shown first. */
  loaded: Loaded;
  window: TimeWindow;
  nowS: number;
  units: UnitChoice;
  zone: string;
  demand: DemandWindow | null;
  stretches: readonly Stretch[];
  device: FlowDeviceDocument | null;
}

export type PanelName = "flow" | "cylinder" | "line";

export interface Panel {
  name: PanelName;
  title: string;
  unit: string;
  data: Columns;
  /** Name at the end of each line, its stroke token and dash. */
  lines: { name: string; token: "ink" | "ink-2" | "gas-line"; dash?: number[] }[];
  /** Of the plot alone, px. */
  height: number;
  /** Times stand under it. */
  times: boolean;
  decimals: number;
  /** Pairs of columns between which is filled: an interval, or lowest and highest of each step. */
  bands: { columns: [number, number]; token: "interval-tint" | "envelope-tint" }[];
  /** Upper end of the axis, so that it stands still while one pans. */
  top: number;
  /** Something stands on the scale: without, none is written. */
  scaled: boolean;
}

const most = (lines: readonly (readonly (number | null)[])[]): number => {
  let top = 0;
  for (const line of lines) {
    for (const value of line) if (value !== null && value > top) top = value;
  }
  return top;
};

/** Flow against its demand, and both pressures: what each panel draws. */
export function panelsOf(input: ChartInput): Panel[] {
  return [flowPanel(input), ...pressurePanels(input)];
}

function flowPanel({ history, loaded, units, device, demand }: ChartInput): Panel {
  const flow = (value: number) => flowInUnit(value, units);
  const indicated = (value: number) =>
    flow(readingToLpm(value, device?.readingUnit ?? "L/min", device?.scaleReference));
  const [t, mean = [], low = [], high = [], dial = [], dialLow = [], dialHigh = [], ...bounds] =
    columns(
      history,
      [
        { name: "flow", pick: "mean", convert: flow },
        { name: "flow", pick: "min", convert: flow },
        { name: "flow", pick: "max", convert: flow },
        { name: "indicated", pick: "mean", convert: indicated },
        { name: "indicated", pick: "min", convert: indicated },
        { name: "indicated", pick: "max", convert: indicated },
        { name: "flow-high", pick: "mean", convert: flow },
        { name: "flow-low", pick: "mean", convert: flow },
      ],
      loaded.bucketS,
    );
  const on = flowWhileOn(low, mean, high, loaded.bucketS);
  const shown = flowWhileOn(dialLow, dial, dialHigh, loaded.bucketS);
  // Bounds are means, and lowest is none where gas went off: only where gas was on all the time.
  const steady = (line: readonly (number | null)[]) =>
    line.map((value, index) => (on[index] === mean[index] ? value : null));
  const deviceName = device ? ringName(device) : words.chart.lineNames.indicated;
  const demandTop = demand?.maximumLpm ? flowInUnit(demand.maximumLpm, units) * 1.15 : 0;
  return {
    name: "flow",
    title: words.chart.flow,
    unit: units.flow,
    data: [t, on, shown, ...bounds.map(steady), steady(high), steady(low)],
    bands: [
      { columns: [5, 6], token: "envelope-tint" },
      { columns: [3, 4], token: "interval-tint" },
    ],
    lines: [
      { name: words.chart.lineNames.flow, token: "ink" },
      { name: deviceName, token: "ink-2", dash: [2, 5] },
    ],
    height: tokenPx("chart-flow-height"),
    times: true,
    decimals: 1,
    top: niceTop(Math.max(demandTop, most([on, shown, steady(high)]))),
    scaled: demandTop > 0 || hasValue(on) || hasValue(shown),
  };
}

function pressurePanels({ history, units, loaded }: ChartInput): Panel[] {
  const pressure = (value: number) => pressureInUnit(value, units);
  const of = (name: "cylinder" | "line", height: number, decimals: number): Panel => {
    const series = `${name}-pressure`;
    const data = columns(
      history,
      [
        { name: series, pick: "mean", convert: pressure },
        { name: series, pick: "max", convert: pressure },
        { name: series, pick: "min", convert: pressure },
      ],
      loaded.bucketS,
    );
    return {
      name,
      title: words.chart[name],
      unit: units.pressure,
      data,
      bands: [{ columns: [2, 3], token: "envelope-tint" }],
      lines: [{ name: words.chart.lineNames[name], token: "gas-line" }],
      height,
      times: name === "line",
      decimals,
      top: niceTop(most([data[2] ?? []])),
      scaled: hasValue(data[1]),
    };
  };
  const height = tokenPx("chart-pressure-height");
  return [of("cylinder", height, 0), of("line", height, units.pressure === "bar" ? 2 : 0)];
}
