import { type ChildProcess, spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { whenOver } from "../gateway/support.ts";

const program = fileURLToPath(new URL("../../gateway/bin/leeward.js", import.meta.url));

export interface Program {
  child: ChildProcess;
  /** What it has printed so far. */
  readonly out: string;
  readonly error: string;
  /** Resolves to its exit code, or the signal that ended it. */
  ended: Promise<number | string>;
}

/** Runs the `leeward` program as people do; killed after the test where it still runs. */
export function runProgram(
  args: readonly string[],
  options: { environment?: Record<string, string>; input?: string; cwd?: string } = {},
): Program {
  const child = spawn(process.execPath, [program, ...args], {
    env: { PATH: process.env.PATH ?? "", HOME: process.env.HOME ?? "", ...options.environment },
    stdio: ["pipe", "pipe", "pipe"],
    ...(options.cwd === undefined ? {} : { cwd: options.cwd }),
  });
  whenOver(() => {
    if (child.exitCode === null && child.signalCode === null) child.kill("SIGKILL");
  });
  let out = "";
  let error = "";
  child.stdout.on("data", (data: Buffer) => {
    out += data.toString();
  });
  child.stderr.on("data", (data: Buffer) => {
    error += data.toString();
  });
  child.stdin.end(options.input ?? "");
  const ended = new Promise<number | string>((resolve) => {
    child.once("close", (code, signal) => resolve(code ?? signal ?? "unknown"));
  });
  return {
    child,
    get out() {
      return out;
    },
    get error() {
      return error;
    },
    ended,
  };
}

/** Waits for a text in what the program prints. */
export async function printed(run: Program, pattern: RegExp, limitMs = 60_000): Promise<string[]> {
  const end = Date.now() + limitMs;
  for (;;) {
    const match = pattern.exec(run.out);
    if (match) return [...match];
    if (run.child.exitCode !== null || Date.now() > end) {
      throw new Error(
        `"${pattern.source}" was not printed:\n${run.out}\n${run.error.slice(-2000)}`,
      );
    }
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

/** Starts a gateway on free ports and waits until it answers. */
export async function runGateway(
  data: string,
  args: readonly string[] = ["--no-virtual"],
): Promise<Program & { api: string; broker: string }> {
  const run = runProgram([
    "run",
    "--data",
    data,
    "--port",
    "0",
    "--mqtt-port",
    "0",
    "--site",
    "north",
    "--log-level",
    "warn",
    ...args,
  ]);
  const [, api, broker] = await printed(run, /API on (http:\S+), broker on (\S+)/);
  return Object.assign(run, { api: `${api}/api/v1`, broker: broker! });
}

/** Ready: messages are taken. */
export function ready(run: Program): Promise<string[]> {
  return printed(run, /Ready\./);
}
