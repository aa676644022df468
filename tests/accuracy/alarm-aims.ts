import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import {
  creepIdleMin,
  heatedLineLeadMin,
  runOutAheadMin,
  sensorFaultS,
  stuckGasOnMin,
  underShieldingGasOnS,
} from "./alarm-runs.ts";
import { arcToLineS, type GasStop, gasStopToLineS } from "./arc-runs.ts";
import { falseRaises, shopLives } from "./shop-life.ts";
import { migStation, tigStation } from "./stations.ts";

/** The aims of the alarms, measured in simulation with plants that share no code with the estimator. */

/** What one run gives: its figure (null: the alarm never came) and more to print. */
export interface AlarmResult {
  aim: string;
  seed: number;
  figure: number | null;
  counts?: Record<string, number>;
  trueCounts?: Record<string, number>;
  weeks?: number;
  samples?: string[];
}

interface Aim {
  key: string;
  what: string;
  aim: string;
  unit: string;
  /** Runs for a wish of `seeds`. */
  runs(seeds: number): number;
  run(seed: number): number | null | Promise<number | null>;
  /** Whether a figure is within the aim. */
  ok(figure: number): boolean;
  /** Share of runs that has to be. */
  share: number;
}

const few = (seeds: number): number => Math.min(seeds, 8);
const most =
  (limit: number) =>
  (figure: number): boolean =>
    figure <= limit;

/** Arcs of different seeds strike at different moments of a second, s. */
const phaseOf = (seed: number): number => (seed * 0.35) % 1;

/** Too little flow, by whatever makes it so, told within so many seconds of gas-on. */
function short(key: string, withinS: number, how: string, run: Aim["run"]): Aim {
  return {
    key,
    what: `under-shielding ${how}`,
    aim: `<= ${withinS} s of gas-on`,
    unit: "s",
    runs: (seeds) => seeds,
    run,
    ok: most(withinS),
    share: 1,
  };
}

/** Gas that stops under a burning arc, from when it no longer leaves the torch to the line that says so. */
function stops(key: string, how: string, stop: GasStop): Aim {
  return {
    key,
    what: `arc-without-gas in mid-weld, gas gone to line, real firmware, ${how}`,
    aim: "<= 2 s",
    unit: "s",
    runs: few,
    run: async (seed) => (await gasStopToLineS(seed, phaseOf(seed), stop)).fromGoneS,
    ok: most(2),
    share: 1,
  };
}

const atHose = { lineTap: "hose" };

export const alarmAims: readonly Aim[] = [
  {
    key: "arc-idle",
    what: "arc-without-gas, arc to line, real firmware, torch valve shut at an open cylinder",
    aim: "<= 2 s",
    unit: "s",
    runs: few,
    run: (seed) => arcToLineS(seed, phaseOf(seed), null),
    ok: most(2),
    share: 1,
  },
  {
    key: "arc-closed",
    what: "arc-without-gas, arc to line, real firmware, cylinder closed and line bled",
    aim: "<= 2 s",
    unit: "s",
    runs: few,
    run: (seed) => arcToLineS(seed, phaseOf(seed), null, { valveOpen: false }),
    ok: most(2),
    share: 1,
  },
  stops("arc-cylinder", "cylinder closed", { by: "cylinder-valve" }),
  stops("arc-regulator", "regulator gives nothing more", { by: "regulator" }),
  stops("arc-regulator-mig", "the same at 14 L/min", { by: "regulator", station: migStation() }),
  stops("arc-valve-hose", "gas valve shut, tap on the hose", {
    by: "torch-valve",
    station: tigStation(atHose),
  }),
  stops("arc-hose-off", "hose off, tap on the hose", {
    by: "hose-off",
    station: tigStation(atHose),
  }),
  stops("arc-valve", "gas valve shut behind a hose that fills first, 8 L/min", {
    by: "torch-valve",
  }),
  stops("arc-valve-mig", "the same at 14 L/min", { by: "torch-valve", station: migStation() }),
  short("short-learnt", 20, "by line pressure, 20 % under the least, learnt for 1 h", (seed) =>
    underShieldingGasOnS(seed, 3600, "pressure"),
  ),
  short("short-told", 60, "by line pressure, learnt for 5 min, the float's reading told", (seed) =>
    underShieldingGasOnS(seed, 300, "pressure", { floatTold: true }),
  ),
  short("short-new", 60, "by line pressure, learnt for 5 min, nobody told anything", (seed) =>
    underShieldingGasOnS(seed, 300, "pressure"),
  ),
  short(
    "short-needle-tested",
    20,
    "by a turned needle behind a bench-tested regulator, learnt for 1 h",
    (seed) => underShieldingGasOnS(seed, 3600, "needle", { tested: true }),
  ),
  short(
    "short-needle",
    60,
    "by a turned needle (only droop and cylinder show it), learnt for 1 h",
    (seed) => underShieldingGasOnS(seed, 3600, "needle"),
  ),
  {
    key: "run-out-lead",
    what: "runs-out-soon ahead of the end (change-over 10 min)",
    aim: ">= 10 min in 99 %",
    unit: "gas-on min",
    runs: (seeds) => 5 * seeds,
    run: runOutAheadMin,
    ok: (figure) => figure >= 10,
    share: 0.99,
  },
  {
    key: "heated-closed",
    what: "line shut in behind a closed valve and heated by the sun, ahead of its limit",
    aim: ">= 10 min",
    unit: "min",
    runs: few,
    run: (seed) => heatedLineLeadMin(seed, true),
    ok: (figure) => figure >= 10,
    share: 1,
  },
  {
    key: "heated-open",
    what: "idle line with the valve open, heated by the sun, ahead of its limit",
    aim: ">= 10 min",
    unit: "min",
    runs: few,
    run: (seed) => heatedLineLeadMin(seed, false),
    ok: (figure) => figure >= 10,
    share: 1,
  },
  {
    key: "creep",
    what: "creep of about 0.05 bar/min",
    aim: "<= 5 min of idle",
    unit: "min",
    runs: few,
    run: (seed) => creepIdleMin(seed).minutes,
    ok: most(5),
    share: 1,
  },
  ...(["line", "cylinder"] as const).flatMap((channel) => [
    ...(["open", "short"] as const).map((fault) => ({
      key: `${channel}-${fault}`,
      what: `${channel} sensor ${fault}`,
      aim: "<= 5 s",
      unit: "s",
      runs: few,
      run: (seed: number) => sensorFaultS(seed, channel, fault),
      ok: most(5),
      share: 1,
    })),
    {
      key: `${channel}-stuck`,
      what: `${channel} sensor stuck`,
      aim: "<= 10 min of gas-on",
      unit: "gas-on min",
      runs: few,
      run: (seed: number) => stuckGasOnMin(seed, channel),
      ok: most(10),
      share: 1,
    },
  ]),
];

const lifeKey = "false-alarms";

/** Runs for a wish of `seeds` and of `weeks` at each of the four stations; the long ones first. */
export function alarmTasks(seeds: number, weeks: number): { aim: string; seed: number }[] {
  const tasks = weeks > 0 ? shopLives.map((_, k) => ({ aim: `${lifeKey} ${weeks}`, seed: k })) : [];
  for (const aim of alarmAims) {
    for (let seed = 1; seed <= aim.runs(seeds); seed++) tasks.push({ aim: aim.key, seed });
  }
  return tasks;
}

/** Rejects with an Error where no aim is called so */
export async function runAlarmTask(task: { aim: string; seed: number }): Promise<AlarmResult> {
  const { aim, seed } = task;
  if (aim.startsWith(lifeKey)) {
    const weeks = Number(aim.slice(lifeKey.length + 1));
    const life = shopLives[seed];
    if (!life) throw new Error(`no station ${seed}`);
    // Each station lives through its own part of the year: together they see all of it.
    const found = falseRaises(life, 100 + seed, seed * 13, weeks);
    const figure = Object.values(found.counts).reduce((sum, count) => sum + count, 0) / weeks;
    return { aim: lifeKey, seed, figure, ...found };
  }
  const known = alarmAims.find(({ key }) => key === aim);
  if (!known) throw new Error(`no alarm aim is called ${aim}`);
  return { aim, seed, figure: await known.run(seed) };
}

/**
 * From the pack that shows an alarm to the stream that browsers follow and to the outbox's first attempt: a real
 * gateway, broker and webhook receiver on loopback, as the test of it runs them.
 *
 * @returns its two rows, or what went wrong
 */
export function deliveryRows(): { rows: string[]; failed: string | null } {
  const test = "tests/gateway/alarms/latency.test.ts";
  const root = fileURLToPath(new URL("../..", import.meta.url));
  const { stdout, stderr } = spawnSync(
    process.execPath,
    ["node_modules/vitest/vitest.mjs", "run", test],
    { cwd: root, encoding: "utf8", timeout: 120_000 },
  );
  const [, told, attempt] = /event stream (\d+) ms, first attempt (\d+) ms/.exec(stdout) ?? [];
  if (told === undefined || attempt === undefined) {
    const why = `${stdout}${stderr}`.trim().split("\n").at(-1) ?? "";
    return { rows: [], failed: `${test} measured nothing: ${why}` };
  }
  const one = (what: string, ms: string, limitMs: number): string =>
    `${what} | aim < ${limitMs / 1000} s | ${ms} ms | ${verdict(Number(ms) < limitMs)}`;
  return {
    rows: [
      one("from the pack to the stream that browsers follow", told, 1000),
      one("from the pack to the outbox's first attempt", attempt, 2000),
    ],
    failed: null,
  };
}

/** The table of aims as text. @param delivered rows of what the gateway adds */
export function printAlarmAims(
  results: readonly AlarmResult[],
  delivered: readonly string[],
): string {
  const rows = alarmAims.flatMap((aim) => {
    const own = results.filter((result) => result.aim === aim.key);
    return own.length === 0 ? [] : [row(aim, own)];
  });
  const needless = results.filter(({ aim, figure }) => aim === "run-out-lead" && figure !== null);
  if (needless.length > 0) {
    const late = needless.filter(({ figure }) => (figure as number) > 40).length;
    rows.push(
      `runs-out-soon needless (more than 40 gas-on min left) | aim <= 1 in 20 | ${late} of ${needless.length} | ${verdict(late <= needless.length / 20)}`,
    );
  }
  return `\nAlarms\n${[...rows, ...delivered, ...lifeRows(results)].join("\n")}\n`;
}

const verdict = (ok: boolean): string => (ok ? "met" : "MISSED");

function row(aim: Aim, own: readonly AlarmResult[]): string {
  const known = own
    .map(({ figure }) => figure)
    .filter((figure) => figure !== null)
    .sort((a, b) => a - b);
  const met = known.filter((figure) => aim.ok(figure)).length;
  const figure = (share: number): string =>
    known.length === 0
      ? "-"
      : known[Math.min(known.length - 1, Math.floor(share * known.length))]!.toFixed(1);
  const never = own.length - known.length;
  return `${aim.what} | aim ${aim.aim} | least ${figure(0)}, median ${figure(0.5)}, most ${figure(1)} ${aim.unit}${never > 0 ? `, never in ${never}` : ""} | ${met} of ${own.length} ${verdict(met >= aim.share * own.length)}`;
}

function lifeRows(results: readonly AlarmResult[]): string[] {
  const lives = results.filter(({ aim }) => aim === lifeKey);
  if (lives.length === 0) return [];
  const weeks = lives.reduce((sum, life) => sum + (life.weeks ?? 0), 0);
  const total = lives.reduce((sum, life) => sum + (life.figure ?? 0) * (life.weeks ?? 0), 0);
  const listed = (of: "counts" | "trueCounts"): string => {
    const kinds = new Map<string, number>();
    for (const life of lives) {
      for (const [condition, count] of Object.entries(life[of] ?? {})) {
        kinds.set(condition, (kinds.get(condition) ?? 0) + count);
      }
    }
    return [...kinds].map(([condition, count]) => `${condition} ${count}`).join(", ") || "none";
  };
  return [
    `false alarms over ${weeks} station-weeks of normal shop life with seasons | aim < 1 a station-week | ${(total / weeks).toFixed(2)} a station-week | ${verdict(total < weeks)}`,
    `  by condition: ${listed("counts")}; true alarms meanwhile: ${listed("trueCounts")}`,
    ...lives.map(
      (life) =>
        `  ${shopLives[life.seed]?.name}, from week ${life.seed * 13 + 1}: ${((life.figure ?? 0) * (life.weeks ?? 0)).toFixed(0)} in ${life.weeks} weeks`,
    ),
    ...lives.flatMap((life) => (life.samples ?? []).slice(0, 3).map((text) => `    ${text}`)),
  ];
}
