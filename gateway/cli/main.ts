import { readFileSync, writeFileSync } from "node:fs";
import { StartError } from "../run/start-error.ts";
import { leewardVersion } from "../version.ts";
import { helpOf } from "./help.ts";
import { type CommandIo, processIo, UsageError } from "./io.ts";

type Command = (args: string[], io: CommandIo) => Promise<number>;

/** Input and output as the pure commands take them. */
function filesOf(io: CommandIo) {
  return {
    write: io.out,
    writeError: io.error,
    readFile: (path: string) => readFileSync(path, "utf8"),
    writeFile: (path: string, data: string | Uint8Array) => writeFileSync(path, data),
  };
}

/** Loaded when asked for: `leeward gas` need not open the store's driver. */
const commands: Readonly<Record<string, () => Promise<Command>>> = {
  run: async () => (await import("./run.ts")).runRun,
  replay: async () => (await import("./replay.ts")).runReplay,
  export: async () => (await import("./export.ts")).runExport,
  gas: async () => {
    const { runGas } = await import("./gas.ts");
    return async (args, io) => runGas(args, filesOf(io));
  },
  fit: async () => {
    const { runFit } = await import("./fit.ts");
    return (args, io) => runFit(args, filesOf(io));
  },
  node: async () => (await import("./node.ts")).runNode,
  owner: async () => (await import("./owner.ts")).runOwner,
  settings: async () => (await import("./settings.ts")).runSettings,
};

/** Runs one command line and returns its exit code: 0 done, 1 failed, 2 not understood. */
export async function main(args: readonly string[], io: CommandIo): Promise<number> {
  const [name, ...rest] = args;
  try {
    if (name === undefined || name === "--help" || name === "-h" || name === "help") {
      io.out(helpOf(rest[0] ?? null));
      return 0;
    }
    if (name === "--version" || name === "-V") {
      io.out(`leeward ${leewardVersion}\n`);
      return 0;
    }
    const load = commands[name];
    if (!load) {
      throw new UsageError(
        `There is no command "${name}". Commands: ${Object.keys(commands).join(", ")}.`,
      );
    }
    const ownHelp = name === "gas" || name === "fit";
    if (!ownHelp && (rest.includes("--help") || rest.includes("-h"))) {
      io.out(helpOf(name));
      return 0;
    }
    return await (await load())(rest, io);
  } catch (error) {
    if (error instanceof UsageError) {
      io.error(
        `leeward: ${error.message}\nSee: leeward ${name && name in commands ? `${name} ` : ""}--help\n`,
      );
      return 2;
    }
    if (error instanceof StartError) {
      io.error(`leeward: ${error.message}\n`);
      return 1;
    }
    throw error;
  }
}

/** Entry of the program. */
export async function runMain(): Promise<void> {
  // A reader that has seen enough (`leeward replay … | head`) is no failure.
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(0);
    throw error;
  });
  process.exitCode = await main(process.argv.slice(2), processIo);
}
