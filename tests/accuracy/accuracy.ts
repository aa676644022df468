import { fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { scenarios } from "./scenarios.ts";
import { type Score, score } from "./score.ts";
import { simulate } from "./simulate.ts";
import { printTables } from "./tables.ts";

const { values } = parseArgs({
  options: {
    scenario: { type: "string", multiple: true },
    seeds: { type: "string", default: "20" },
    short: { type: "boolean", default: false },
    workers: { type: "string", default: "2" },
    worker: { type: "boolean", default: false },
    help: { type: "boolean", default: false },
  },
});

interface Task {
  scenario: string;
  seed: number;
}

function run(task: Task): Score {
  const scenario = scenarios.find((s) => s.name === task.scenario);
  if (!scenario) throw new Error(`no scenario is called ${task.scenario}`);
  return score(simulate(scenario, task.seed));
}

if (values.help) {
  process.stdout.write(`npm run accuracy -- [--scenario name]… [--seeds 20] [--short] [--workers 2]

Runs simulated stations through the replay reader and the estimator and prints the measured
figures beside the aims. --short takes three seeds. Scenarios:
${scenarios.map((s) => `  ${s.name.padEnd(18)} ${s.about}`).join("\n")}
`);
} else if (values.worker) {
  process.on("message", (task: Task) => {
    try {
      process.send?.({ score: run(task) });
    } catch (error) {
      process.send?.({ failed: `${task.scenario} seed ${task.seed}: ${String(error)}` });
    }
  });
} else {
  const seeds = values.short ? 3 : Number(values.seeds);
  const wanted = values.scenario ?? scenarios.map((s) => s.name);
  const tasks: Task[] = [];
  for (let seed = 1; seed <= seeds; seed++) {
    for (const scenario of wanted) tasks.push({ scenario, seed });
  }
  const started = performance.now();
  const scores: Score[] = [];
  const failures: string[] = [];
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
      child.on("message", (answer: { score?: Score; failed?: string }) => {
        if (answer.score) scores.push(answer.score);
        if (answer.failed) failures.push(answer.failed);
        give(child);
      });
      give(child);
    }
  });
  const order = new Map(wanted.map((name, k) => [name, k]));
  scores.sort(
    (a, b) => (order.get(a.scenario) ?? 0) - (order.get(b.scenario) ?? 0) || a.seed - b.seed,
  );
  process.stdout.write(printTables(scores, seeds, (performance.now() - started) / 1000));
  for (const failure of failures) process.stdout.write(`failed: ${failure}\n`);
  if (failures.length > 0) process.exitCode = 1;
}
