import type { RowVerdict } from "@leeward/shared-core/bench/row-verdicts.ts";
import { useEffect, useRef } from "preact/hooks";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { benchWords as text } from "../language/bench-words.ts";
import { onLookChange } from "../style/look-change.ts";
import { chartFont, token, tokenPx } from "../style/tokens.ts";

/** Residual of every row; rows that disagree are drawn apart in shape and colour. */
export function ResidualPlot({ rows }: { rows: readonly RowVerdict[] }) {
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = host.current;
    if (!element) return;
    const shown = rows.filter((row) => row.residual !== null);
    const numbers = rows.map((row) => row.row);
    const pick = (fits: boolean) =>
      rows.map((row) => ((row.status === "fits") === fits ? row.residual : null));
    const largest = Math.max(2, ...shown.map((row) => Math.abs(row.residual ?? 0))) * 1.2;
    const axis = { stroke: () => token("ink-2"), font: chartFont() };
    const height = tokenPx("chart-residual-height");
    const plot = new uPlot(
      {
        width: element.clientWidth,
        height,
        legend: { show: false },
        cursor: { show: false },
        scales: {
          x: { time: false, range: () => [0.5, Math.max(...numbers, 1) + 0.5] },
          y: { range: () => [-largest, largest] },
        },
        axes: [
          {
            ...axis,
            grid: { show: false },
            splits: () => numbers,
            values: (_p, s) => s.map(String),
          },
          {
            ...axis,
            grid: { stroke: () => token("rule"), width: tokenPx("chart-grid") },
            size: tokenPx("chart-value-scale"),
            values: (_p, s) => s.map((v) => `${v} %`),
          },
        ],
        series: [
          {},
          {
            width: 0,
            stroke: () => token("ink"),
            points: { show: true, size: tokenPx("chart-mark"), fill: () => token("ink") },
          },
          {
            width: 0,
            stroke: () => token("now"),
            points: {
              show: true,
              size: tokenPx("chart-mark-odd"),
              width: tokenPx("chart-line-strong"),
              fill: () => token("card"),
            },
          },
        ],
      },
      [numbers, pick(true), pick(false)] as uPlot.AlignedData,
      element,
    );
    const observer = new ResizeObserver(() => plot.setSize({ width: element.clientWidth, height }));
    observer.observe(element);
    const dropLook = onLookChange(() => plot.redraw());
    return () => {
      observer.disconnect();
      dropLook();
      plot.destroy();
    };
  }, [rows]);
  return <div ref={host} class="bench-plot" role="img" aria-label={text.residualsAria} />;
}
