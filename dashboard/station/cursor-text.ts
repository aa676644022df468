import type uPlot from "uplot";
import { titlesAt } from "../display/chart-spells.ts";
import { dayAndTime } from "../display/durations.ts";
import { fixed } from "../display/numbers.ts";
import { words } from "../language/words.ts";
import type { ChartInput, Panel } from "./chart-panels.ts";

/** The figures under the cursor, and what stood then, beside the panel's title. */
export function cursorText(plot: uPlot, panel: Panel, input: ChartInput): string {
  const index = plot.cursor.idx ?? null;
  const t = index === null ? undefined : plot.data[0][index];
  if (t === undefined || index === null) return "";
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
  return `${at}${known.join(", ") || nothing}${also}`;
}
