import { mkdirSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { scenarios } from "./scenarios.ts";
import { type Line, simulate, startUnixS } from "./simulate.ts";

/** Draws truth against estimate with its band for six telling scenarios into docs/estimator/. */

interface Series {
  title: string;
  unit: string;
  truth: (line: Line) => number | null;
  value: (line: Line) => number | null;
  low: (line: Line) => number | null;
  high: (line: Line) => number | null;
}

const flow: Series = {
  title: "true flow",
  unit: "L/min",
  truth: ({ truth }) => (truth.gasOn && truth.valveOpen ? truth.flowLpm : null),
  value: ({ estimate }) => (estimate.mode === "flowing" ? estimate.flow.lpm : null),
  low: ({ estimate }) => (estimate.mode === "flowing" ? (estimate.flow.low ?? null) : null),
  high: ({ estimate }) => (estimate.mode === "flowing" ? (estimate.flow.high ?? null) : null),
};

const content: Series = {
  title: "content",
  unit: "L",
  truth: ({ truth }) => truth.contentLitres,
  value: ({ estimate }) => estimate.content.litres,
  low: ({ estimate }) => estimate.content.low ?? null,
  high: ({ estimate }) => estimate.content.high ?? null,
};

const leak: Series = {
  title: "leak",
  unit: "L/min",
  truth: ({ truth }) => truth.cylinderLeakLpm,
  value: ({ estimate }) => estimate.leak.litresPerMinute,
  low: ({ estimate }) => estimate.leak.low ?? null,
  high: ({ estimate }) => estimate.leak.high ?? null,
};

const wanted: [string, Series][] = [
  ["steady-gas-on", flow],
  ["no-line-long", flow],
  ["re-dial-up", flow],
  ["swap-untold", content],
  ["carbon-dioxide", content],
  ["leak", leak],
];

const WIDTH = 760;
const HEIGHT = 260;
const LEFT = 58;
const BOTTOM = 34;
const TOP = 30;

function draw(name: string, about: string, series: Series, lines: Line[]): string {
  const x = (line: Line): number => (line.estimate.t - startUnixS) / 3600;
  const values = lines.flatMap((line) =>
    [series.truth(line), series.value(line), series.high(line)].filter((v) => v !== null),
  );
  const sorted = [...values].sort((a, b) => a - b);
  const most = 1.08 * (sorted[Math.floor(0.995 * (sorted.length - 1))] ?? 1);
  const hours = Math.max(...lines.map(x));
  const px = (h: number): number => LEFT + ((WIDTH - LEFT - 12) * h) / hours;
  const py = (v: number): number =>
    HEIGHT - BOTTOM - ((HEIGHT - BOTTOM - TOP) * Math.min(Math.max(v, 0), most)) / most;
  const point = (line: Line, v: number): string => `${px(x(line)).toFixed(1)},${py(v).toFixed(1)}`;
  const runs = (pick: (line: Line) => number | null): Line[][] => {
    const out: Line[][] = [[]];
    for (const line of lines) {
      if (pick(line) === null) out.push([]);
      else out[out.length - 1]?.push(line);
    }
    return out.filter((run) => run.length > 1);
  };
  const path = (pick: (line: Line) => number | null): string =>
    runs(pick)
      .map((run) => `M${run.map((line) => point(line, pick(line) ?? 0)).join("L")}`)
      .join("");
  const band = runs((line) => (series.low(line) === null ? null : series.high(line)))
    .map((run) => {
      const up = run.map((line) => point(line, series.high(line) ?? 0));
      const down = [...run].reverse().map((line) => point(line, series.low(line) ?? 0));
      return `M${[...up, ...down].join("L")}Z`;
    })
    .join("");
  const ticks = [0, 0.25, 0.5, 0.75, 1].map((share) => {
    const v = share * most;
    return `<line x1="${LEFT}" x2="${WIDTH - 12}" y1="${py(v)}" y2="${py(v)}" stroke="#ddd"/><text x="${LEFT - 6}" y="${py(v) + 4}" text-anchor="end">${Number(v.toPrecision(3))}</text>`;
  });
  const marks = Array.from({ length: Math.floor(hours) + 1 }, (_, h) => h)
    .filter((h) => hours <= 8 || h % 2 === 0)
    .map((h) => `<text x="${px(h)}" y="${HEIGHT - 14}" text-anchor="middle">${h} h</text>`);
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="sans-serif" font-size="11" fill="#222">
<rect width="${WIDTH}" height="${HEIGHT}" fill="#fff"/>
<text x="${LEFT}" y="18" font-size="13">${name}: ${about}. ${series.title}, ${series.unit}</text>
${ticks.join("\n")}
${marks.join("\n")}
<path d="${band}" fill="#2b7bba" fill-opacity="0.25"/>
<path d="${path(series.truth)}" fill="none" stroke="#222" stroke-width="1.6"/>
<path d="${path(series.value)}" fill="none" stroke="#c4481c" stroke-width="1.1"/>
<text x="${WIDTH - 14}" y="18" text-anchor="end"><tspan fill="#222">truth</tspan>  <tspan fill="#c4481c">estimate</tspan>  <tspan fill="#2b7bba">95 % band</tspan></text>
</svg>
`;
}

const folder = fileURLToPath(new URL("../../docs/estimator/", import.meta.url));
mkdirSync(folder, { recursive: true });
for (const [name, series] of wanted) {
  const scenario = scenarios.find((s) => s.name === name);
  if (!scenario) throw new Error(`no scenario is called ${name}`);
  const run = simulate({ ...scenario, every: Math.max(scenario.every, 20) }, 3);
  writeFileSync(`${folder}${name}.svg`, draw(name, scenario.about, series, run.lines));
}
