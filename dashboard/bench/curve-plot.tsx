import type { CurvePoint } from "@leeward/shared-core/bench/device-curve.ts";
import { BAR_PA } from "@leeward/shared-core/units/factors.ts";
import { useEffect, useRef } from "preact/hooks";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { fixed } from "../display/numbers.ts";
import { pressureInUnit } from "../display/units.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { units } from "../settings/settings.ts";
import { onLookChange } from "../style/look-change.ts";
import { chartFont, token, tokenPx } from "../style/tokens.ts";

/** Line patterns tell devices apart without colour. */
const dashes = [[], [10, 5], [2, 4], [14, 4, 2, 4]];

export interface CurveLine {
  name: string;
  curve: readonly CurvePoint[];
}

/** One error of several devices against cylinder pressure, from full on the left to empty. */
export function CurvePlot(props: {
  devices: readonly CurveLine[];
  figure: "error" | "leftAlone";
  title: string;
}) {
  const { devices, figure, title } = props;
  const host = useRef<HTMLDivElement>(null);
  const chosen = units.value;
  useEffect(() => {
    const element = host.current;
    if (!element) return;
    const pressures = [
      ...new Set(devices.flatMap(({ curve }) => curve.map((point) => point.cylinderBar))),
    ].sort((a, b) => a - b);
    if (pressures.length < 2) return;
    const lines = devices.map(({ curve }) =>
      pressures.map(
        (bar) => curve.find((point) => point.cylinderBar === bar)?.[figure]?.percent ?? null,
      ),
    );
    const axis = { stroke: () => token("ink-2"), font: chartFont() };
    const height = tokenPx("chart-curve-height");
    const highest = pressures.at(-1) ?? 1;
    const known = lines.flat().flatMap((value) => (value === null ? [] : [value]));
    const largest = Math.max(2, ...known.map(Math.abs)) * 1.15;
    const plot = new uPlot(
      {
        width: element.clientWidth,
        height,
        legend: { show: false },
        cursor: { show: false },
        scales: {
          // Full on the left: the way a cylinder goes.
          x: { time: false, dir: -1, range: () => [0, highest] },
          y: {
            range: () => [-largest, Math.max(2, Math.min(largest, Math.max(...known, 0) * 1.5))],
          },
        },
        axes: [
          {
            ...axis,
            grid: { show: false },
            values: (_p, splits) =>
              splits.map((bar) => fixed(pressureInUnit(bar * BAR_PA, chosen), 0)),
          },
          {
            ...axis,
            grid: { stroke: () => token("rule"), width: tokenPx("chart-grid") },
            size: tokenPx("chart-value-scale"),
            values: (_p, splits) => splits.map((value) => `${value} %`),
          },
        ],
        series: [
          {},
          ...devices.map((_device, k) => ({
            stroke: () => token("ink"),
            width: tokenPx("chart-line-strong"),
            dash: dashes[k % dashes.length] ?? [],
            spanGaps: true,
          })),
        ],
      },
      [pressures, ...lines] as uPlot.AlignedData,
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
  }, [devices, figure, chosen]);
  return (
    <figure class="bench-curve">
      <figcaption>
        {title} <small>{text.againstPressure(chosen.pressure)}</small>
      </figcaption>
      <div ref={host} class="bench-plot" role="img" aria-label={`${title}. ${text.curveAria}`} />
    </figure>
  );
}

/** Which line is which device. */
export function CurveKey({ names }: { names: readonly string[] }) {
  return (
    <ul class="bench-key">
      {names.map((name, k) => (
        <li key={name}>
          <svg class="bench-key-line" viewBox="0 0 56 12" aria-hidden="true">
            <line
              x1="0"
              y1="6"
              x2="56"
              y2="6"
              stroke-dasharray={(dashes[k % dashes.length] ?? []).join(" ")}
            />
          </svg>
          {name}
        </li>
      ))}
    </ul>
  );
}
