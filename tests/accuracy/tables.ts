import { flowBoundLpm } from "./cramer-rao.ts";
import { scenarios } from "./scenarios.ts";
import { merge, percentile, type Score, type Tally, tally } from "./score.ts";

function pool(scores: Score[], pick: (score: Score) => Tally): Tally {
  const out = tally();
  for (const score of scores) merge(out, pick(score));
  return out;
}

const rms = (t: Tally): number => (t.n === 0 ? Number.NaN : Math.sqrt(t.squares / t.n));
const mean = (t: Tally): number => (t.n === 0 ? Number.NaN : t.sum / t.n);
const percent = (x: number, digits = 1): string =>
  Number.isFinite(x) ? `${(100 * x).toFixed(digits)} %` : "–";
const fixed = (x: number | null, digits = 2): string =>
  x !== null && Number.isFinite(x) ? x.toFixed(digits) : "–";
const cover = (t: Tally): string => percent(t.widths === 0 ? Number.NaN : t.inside / t.widths);
/** Mean width over the ideal one, 3.92 times the rms error. */
const padding = (t: Tally): number => t.width / t.widths / (3.92 * rms(t));

function table(head: string[], rows: string[][]): string {
  const widths = head.map((h, k) => Math.max(h.length, ...rows.map((r) => (r[k] ?? "").length)));
  const line = (cells: string[]): string =>
    `| ${cells.map((c, k) => c.padEnd(widths[k] ?? 0)).join(" | ")} |`;
  return [
    line(head),
    `|${widths.map((w) => "-".repeat(w + 2)).join("|")}|`,
    ...rows.map(line),
  ].join("\n");
}

/** The measured figures beside the aims. */
export function printTables(scores: Score[], seeds: number, seconds: number): string {
  const breaking = new Set(scenarios.filter((s) => s.breaks).map((s) => s.name));
  const ordinary = scores.filter((s) => !breaking.has(s.scenario));
  const broken = scores.filter((s) => breaking.has(s.scenario));
  const out: string[] = [
    `Accuracy: ${new Set(scores.map((s) => s.scenario)).size} scenarios, ${seeds} seeds, ${scores.length} runs, ${scores
      .reduce((sum, s) => sum + s.hours, 0)
      .toFixed(0)} station-hours, ${seconds.toFixed(0)} s`,
    "",
    "Aims (ordinary stations)",
    aims(ordinary),
    "",
    "By scenario (coverage of the 95 % intervals; width over the ideal one)",
    byScenario(ordinary),
  ];
  if (broken.length > 0) {
    const most = Math.max(...broken.map(({ seed }) => seed));
    out.push(
      "",
      `Stations that break the estimator's assumptions (${most} seeds of each)`,
      byScenario(broken),
    );
  }
  out.push("", "By hand, the same five minutes of gas-on (rms error, L/min)", hand(scores));
  return `${out.join("\n")}\n`;
}

function aims(scores: Score[]): string {
  const learnt = pool(scores, (s) => s.flowLearnt);
  const cylinder = pool(
    scores.filter((s) => s.scenario === "no-line-long"),
    (s) => s.flowCylinder,
  );
  const content = scores.map((s) => s.content99 ?? 1);
  // A gas tells its content by its pressure; liquid is a count, as good as its float until it is gone.
  const quarter = scores.flatMap((s) =>
    s.quarter99 === null || s.quarterBound99 !== null ? [] : [s.quarter99],
  );
  const counted = scores.filter((s) => s.quarter99 !== null && s.quarterBound99 !== null);
  const half = pool(scores, (s) => s.atHalf);
  const fourth = pool(scores, (s) => s.atQuarter);
  const last = pool(scores, (s) => s.lastMinutes);
  const withLine = scores.filter((s) => !s.scenario.startsWith("no-line"));
  const delays = withLine
    .filter((s) => s.scenario === "every-second")
    .flatMap((s) => s.gasOnDelays);
  const noLine = scores.filter((s) => s.scenario.startsWith("no-line"));
  const without = noLine.flatMap((s) => s.gasOnDelays);
  const overBound = noLine
    .filter((s) => s.scenario !== "no-line-short")
    .flatMap((s) => s.delayOverBound);
  const weeks = scores.reduce((sum, s) => sum + s.hours, 0) / 168;
  const reDials = scores.flatMap((s) => s.reDialS);
  const after = pool(scores, (s) => s.afterReDial);
  const leaks = scores.filter((s) => s.scenario === "leak");
  const sound = scores.filter((s) => s.scenario !== "leak");
  const flow = pool(scores, (s) => s.flowBand);
  const contents = pool(scores, (s) => s.contentBand);
  const minutes = pool(scores, (s) => s.minutesBand);
  const samples = scores.reduce((sum, s) => sum + s.samples, 0);
  const ms = scores.reduce((sum, s) => sum + s.engineMs, 0);
  // 50 L of argon at 150 bar: content per Pa at constant temperature; 0.03 bar, rows each 5 s.
  const perPa = 53.5 / 1e5;
  const bound = flowBoundLpm(300, 5, 3000, 70, perPa);
  const example = flowBoundLpm(300, 1, 2000, 75, perPa);
  const within = (values: (number | null)[], limit: number): string =>
    values.length === 0
      ? "–"
      : percent(values.filter((v) => v !== null && v <= limit).length / values.length, 0);
  return table(
    ["", "aim", "measured", "n"],
    [
      ["flow 10 s after gas-on, learnt: 1 sigma", "≤ 3 %", percent(rms(learnt)), String(learnt.n)],
      ["… bias", "≤ 2 %", percent(mean(learnt)), ""],
      [
        "flow from the cylinder alone, 5 min after gas-on",
        `≤ 1.3 × ${bound.toFixed(3)} L/min`,
        `${fixed(rms(cylinder), 3)} L/min (${fixed(rms(cylinder) / bound)} ×)`,
        String(cylinder.n),
      ],
      [
        "… the bound for 0.02 bar at 1 s, for comparison",
        "0.109 L/min",
        `${example.toFixed(3)} L/min`,
        "",
      ],
      [
        "content, 99th percentile of a run: worst run",
        "≤ 1.5 % of full",
        percent(Math.max(...content), 2),
        String(content.length),
      ],
      ["… share of runs within the aim", "", within(content, 0.015), ""],
      [
        "content below a quarter, gases: worst run",
        "≤ 1 % of full",
        percent(Math.max(...quarter), 2),
        String(quarter.length),
      ],
      ["… share of runs within the aim", "", within(quarter, 0.01), ""],
      [
        "content below a quarter, begun as liquid: worst run; share within the aim",
        "≤ 1 % of full",
        `${percent(Math.max(...counted.map((s) => s.quarter99!)), 2)}; ${within(
          counted.map((s) => s.quarter99),
          0.01,
        )}`,
        String(counted.length),
      ],
      [
        "… what a count leaves there that is wrong by its float alone",
        `${percent(Math.max(...counted.map((s) => s.quarterBound99!)), 2)}; ${within(
          counted.map((s) => s.quarterBound99),
          0.01,
        )}`,
        "",
        "",
      ],
      ["minutes at half", "≤ 5 %", percent(rms(half)), String(half.n)],
      ["minutes at a quarter", "≤ 7 %", percent(rms(fourth)), String(fourth.n)],
      ["minutes in the last twenty", "≤ 3 min", `${fixed(rms(last))} min`, String(last.n)],
      ["interval of flow holds the truth", "93–98 %", cover(flow), String(flow.widths)],
      ["… width over ideal", "≤ 1.5", fixed(padding(flow)), ""],
      ["interval of content holds the truth", "93–98 %", cover(contents), String(contents.widths)],
      ["… width over ideal", "≤ 1.5", fixed(padding(contents)), ""],
      ["interval of minutes holds the truth", "93–98 %", cover(minutes), String(minutes.widths)],
      ["… width over ideal", "≤ 1.5", fixed(padding(minutes)), ""],
      [
        "gas-on seen with line sensor, 95th percentile",
        "≤ 2 s (+ the line's own pace)",
        `${fixed(percentile(delays, 0.95), 1)} s`,
        String(delays.length),
      ],
      [
        "… missed spells",
        "",
        `${withLine.reduce((n, s) => n + s.gasOnMissed, 0)} of ${withLine.reduce((n, s) => n + s.gasOnSpells, 0)}`,
        "",
      ],
      [
        "gas-on seen without, over what the noise allows, median",
        "≤ 1.3 ×",
        `${fixed(percentile(overBound, 0.5))} × (${fixed(percentile(without, 0.5), 1)} s)`,
        String(without.length),
      ],
      [
        "… missed spells of two minutes and more",
        "",
        `${noLine.reduce((n, s) => n + s.gasOnMissed, 0)} of ${noLine.reduce((n, s) => n + s.gasOnSpells, 0)}`,
        "",
      ],
      ["… dated wrongly by (1 sigma)", "", `${fixed(rms(pool(noLine, (s) => s.dated)), 0)} s`, ""],
      [
        "false gas-on spells a week",
        "< 1",
        fixed(scores.reduce((n, s) => n + s.falseGasOn, 0) / weeks),
        `${weeks.toFixed(1)} weeks`,
      ],
      [
        "re-dial of 15 % noticed within 3 min of gas-on",
        "all",
        within(reDials, 180),
        String(reDials.length),
      ],
      [
        "… median",
        "",
        `${fixed(
          percentile(
            reDials.filter((x) => x !== null),
            0.5,
          ),
          0,
        )} s`,
        "",
      ],
      ["… new flow after 10 min: 1 sigma", "≤ 5 %", percent(rms(after)), String(after.n)],
      [
        "false re-dials a week",
        "",
        fixed(scores.reduce((n, s) => n + s.falseReDials, 0) / weeks),
        "",
      ],
      [
        "swaps seen",
        "all",
        `${scores.reduce((n, s) => n + s.swapsSeen, 0)} of ${scores.reduce((n, s) => n + s.swapsTrue, 0)}, false ${scores.reduce((n, s) => n + s.falseSwaps, 0)}`,
        "",
      ],
      [
        "leak of 0.1 L/min found in a night",
        "all",
        `${leaks.filter((s) => s.leakFound).length} of ${leaks.length}`,
        "",
      ],
      [
        "false leaks a month",
        "< 1",
        fixed((sound.filter((s) => s.leakFound).length / Math.max(weeks, 0.1)) * 4.3),
        "",
      ],
      ["cost", "≤ 50 µs a sample", `${fixed((1000 * ms) / samples, 1)} µs`, String(samples)],
      ["state", "≤ 4096 bytes", `${Math.max(...scores.map((s) => s.stateBytes))} bytes`, ""],
      ["… as the text of a store", "", `${Math.max(...scores.map((s) => s.stateText))} bytes`, ""],
    ],
  );
}

function byScenario(scores: Score[]): string {
  const names = [...new Set(scores.map((s) => s.scenario))];
  return table(
    [
      "scenario",
      "flow 1σ",
      "bias",
      "flow band",
      "×",
      "content p99",
      "band",
      "×",
      "minutes band",
      "×",
      "missed",
      "false",
      "re-dial",
    ],
    names.map((name) => {
      const own = scores.filter((s) => s.scenario === name);
      const flow = pool(own, (s) => s.flowBand);
      const learnt = pool(own, (s) => s.flowLearnt);
      const content = pool(own, (s) => s.contentBand);
      const minutes = pool(own, (s) => s.minutesBand);
      return [
        name,
        percent(rms(learnt)),
        percent(mean(learnt)),
        cover(flow),
        fixed(padding(flow)),
        percent(Math.max(...own.map((s) => s.content99 ?? 1)), 2),
        cover(content),
        fixed(padding(content)),
        cover(minutes),
        fixed(padding(minutes)),
        `${own.reduce((n, s) => n + s.gasOnMissed, 0)}/${own.reduce((n, s) => n + s.gasOnSpells, 0)}`,
        String(own.reduce((n, s) => n + s.falseGasOn, 0)),
        String(own.reduce((n, s) => n + s.falseReDials, 0)),
      ];
    }),
  );
}

function hand(scores: Score[]): string {
  const stopwatch = pool(scores, (s) => s.stopwatch);
  const slope = pool(scores, (s) => s.slope);
  const ours = pool(scores, (s) => s.ours);
  return table(
    ["method", "rms", "bias", "n"],
    (
      [
        ["two gauge readings and a stopwatch, ideal gas", stopwatch],
        ["plain slope of all readings, ideal gas", slope],
        ["estimator", ours],
      ] as [string, Tally][]
    ).map(([name, t]) => [name, fixed(rms(t), 3), fixed(mean(t), 3), String(t.n)]),
  );
}
