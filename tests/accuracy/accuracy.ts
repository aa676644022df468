import { fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import {
  type AlarmResult,
  alarmTasks,
  deliveryRows,
  printAlarmAims,
  runAlarmTask,
} from "./alarm-aims.ts";
import { fitCoverage, misses, printFitCoverage } from "./fit-coverage.ts";
import { tellProgress } from "./progress.ts";
import { scenarios } from "./scenarios.ts";
import { type Score, score } from "./score.ts";
import { simulate } from "./simulate.ts";
import { printTables } from "./tables.ts";

const { values } = parseArgs({
  options: {
    scenario: { type: "string", multiple: true },
    seeds: { type: "string", default: "20" },
    only: { type: "string" },
    weeks: { type: "string", default: "2" },
    short: { type: "boolean", default: false },
    workers: { type: "string", default: "2" },
    worker: { type: "boolean", default: false },
    help: { type: "boolean", default: false },
  },
});

/** Seeds of each station that breaks the estimator's assumptions, in a run of all scenarios. */
const BREAKING_SEEDS = 8;

interface Task {
  /** An alarm aim, or a scenario of the estimator. */
  aim?: string;
  scenario: string;
  seed: number;
}

function run(task: Task): Score {
  const scenario = scenarios.find((s) => s.name === task.scenario);
  if (!scenario) throw new Error(`no scenario is called ${task.scenario}`);
  return score(simulate(scenario, task.seed));
}

if (values.help) {
  process.stdout.write(`npm run accuracy -- [--only estimator|alarms|bench] [--scenario name]… [--seeds 20]
                    [--weeks 2] [--short] [--workers 2]

Runs simulated stations through the replay reader and the estimator and prints the measured
figures beside the aims; then the aims of the alarms, with --weeks of shop life at each of four
stations, each in its own season (13: together a year; 52: a year each), and the fits of
simulated bench tests. --short takes three seeds and one week. Scenarios:
${scenarios.map((s) => `  ${s.name.padEnd(18)} ${s.about}`).join("\n")}
`);
} else if (values.worker) {
  process.on("message", async (task: Task) => {
    try {
      if (task.aim === undefined) process.send?.({ score: run(task) });
      else process.send?.({ alarm: await runAlarmTask({ aim: task.aim, seed: task.seed }) });
    } catch (error) {
      process.send?.({
        failed: `${task.aim ?? task.scenario} seed ${task.seed}: ${String(error)}`,
      });
    }
  });
} else {
  const seeds = values.short ? 3 : Number(values.seeds);
  const { only } = values;
  const all = values.scenario === undefined;
  const withEstimator = only === undefined || only === "estimator";
  const wanted = withEstimator ? (values.scenario ?? scenarios.map((s) => s.name)) : [];
  const withAlarms = all && (only === undefined || only === "alarms");
  const withBench = all && (only === undefined || only === "bench");
  const weeks = values.short ? 1 : Number(values.weeks);
  const tasks: Task[] = withAlarms
    ? alarmTasks(seeds, weeks).map((task) => ({ ...task, scenario: "" }))
    : [];
  const breaking = new Set(scenarios.filter(({ breaks }) => breaks).map(({ name }) => name));
  for (let seed = 1; seed <= seeds; seed++) {
    for (const scenario of wanted) {
      if (all && breaking.has(scenario) && seed > BREAKING_SEEDS) continue;
      tasks.push({ scenario, seed });
    }
  }
  const started = performance.now();
  const scores: Score[] = [];
  const alarms: AlarmResult[] = [];
  const failures: string[] = [];
  const stopTelling = tellProgress(
    tasks.length,
    () => scores.length + alarms.length + failures.length,
  );
  await new Promise<void>((resolve) => {
    let next = 0;
    let running = 0;
    const give = (child: ReturnType<typeof fork>): void => {
      const task = tasks[next++];
      if (task) child.send(task);
      else {
        child.kill();
        running--;
        if (running === 0) resolve();
      }
    };
    for (let k = 0; k < Math.max(1, Number(values.workers)); k++) {
      const child = fork(fileURLToPath(import.meta.url), ["--worker"], {
        execArgv: process.execArgv,
      });
      running++;
      child.on("message", (answer: { score?: Score; alarm?: AlarmResult; failed?: string }) => {
        if (answer.score) scores.push(answer.score);
        if (answer.alarm) alarms.push(answer.alarm);
        if (answer.failed) failures.push(answer.failed);
        give(child);
      });
      give(child);
    }
  });
  stopTelling();
  const order = new Map(wanted.map((name, k) => [name, k]));
  scores.sort(
    (a, b) => (order.get(a.scenario) ?? 0) - (order.get(b.scenario) ?? 0) || a.seed - b.seed,
  );
  if (wanted.length > 0) {
    process.stdout.write(printTables(scores, seeds, (performance.now() - started) / 1000));
  }
  if (withBench) {
    const tests = values.short ? 40 : 200;
    const studies = [fitCoverage(tests, false), fitCoverage(tests, true)];
    process.stdout.write(printFitCoverage(studies));
    failures.push(...studies.flatMap(misses).map((miss) => `bench fits: ${miss}`));
  }
  if (alarms.length > 0) {
    const delivery = deliveryRows();
    if (delivery.failed !== null) failures.push(delivery.failed);
    process.stdout.write(printAlarmAims(alarms, delivery.rows));
  }
  for (const failure of failures) process.stdout.write(`failed: ${failure}\n`);
  if (failures.length > 0) process.exitCode = 1;
}
