import { createReadStream, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { parseArgs } from "node:util";
import { describeFaults, parseDocument } from "@leeward/shared-core/documents/parse.ts";
import {
  type StationDocument,
  type SupplyDocument,
  stationSchema,
  supplySchema,
} from "@leeward/shared-core/documents/station.ts";
import { describeUnknownKeys, unknownKeys } from "@leeward/shared-core/documents/unknown-keys.ts";
import type { StationLine, SupplySetup } from "@leeward/shared-core/estimation/engine.ts";
import { createUndoableEngine } from "@leeward/shared-core/estimation/undoable-engine.ts";
import { ReplayReader } from "@leeward/shared-core/messages/replay-lines.ts";
import { stationSafety, supplySafety } from "@leeward/shared-core/safety/station-safety.ts";
import { StartError } from "../run/start-error.ts";
import { type CommandIo, UsageError } from "./io.ts";

/** Text gathered before it is written, characters. */
const writeAt = 65_536;

/** `leeward replay`: recorded messages in, estimates out. No clock, no network. */
export async function runReplay(args: string[], io: CommandIo): Promise<number> {
  const options = readOptions(args, io);
  const setup = options.setup;
  warnOfDangers(setup, io);
  const engine = createUndoableEngine(setup, { every: options.every });
  const reader = new ReplayReader(setup);
  const several = setup.supply !== null || setup.stations.length > 1;

  let pending = "";
  const write = (lines: readonly StationLine[]) => {
    for (const { station, estimate } of lines) {
      const line = several ? { station, ...estimate } : estimate;
      pending += `${JSON.stringify(line)}\n`;
    }
    if (pending.length < writeAt) return;
    io.out(pending);
    pending = "";
  };

  let badLines = 0;
  let lineNumber = 0;
  const name = options.samples === "-" ? "standard input" : options.samples;
  for await (const line of readLines(options.samples, io)) {
    lineNumber++;
    if (line.trim() === "") continue;
    const read = reader.read(line);
    if (read.ok) {
      for (const item of read.items) write(engine.receive(item));
    } else {
      badLines++;
      io.error(`${name}:${lineNumber}: ${read.fault.message}\n`);
    }
  }
  for (const item of reader.end()) write(engine.receive(item));
  io.out(pending);
  if (badLines > 0) {
    io.error(`leeward: ${badLines} of ${lineNumber} lines of ${name} were left out.\n`);
    return 1;
  }
  return 0;
}

/** Past data must stay readable, so that a dangerous description is a warning here and no refusal. */
function warnOfDangers(setup: SupplySetup, io: CommandIo): void {
  const { supply, stations } = setup;
  const dangers = [
    ...(supply ? supplySafety(supply).refusals.map((one) => ({ ...one, of: supply.supply })) : []),
    ...stations.flatMap((station) =>
      stationSafety(station, supply).refusals.map((one) => ({ ...one, of: station.station })),
    ),
  ];
  for (const { of, path, message } of dangers) {
    io.error(`leeward: warning: ${of}: ${path}: ${message}.\n`);
  }
}

interface ReplayOptions {
  setup: SupplySetup;
  samples: string;
  every: number;
}

/** `--every -5` is a value, though it looks like an option. */
function joinNegative(args: readonly string[]): string[] {
  const out: string[] = [];
  for (const arg of args) {
    if (/^-\d/.test(arg) && out.at(-1) === "--every") out[out.length - 1] = `--every=${arg}`;
    else out.push(arg);
  }
  return out;
}

function readOptions(args: string[], io: CommandIo): ReplayOptions {
  let values: Record<string, string | undefined>;
  try {
    const option = { type: "string" as const };
    ({ values } = parseArgs({
      args: joinNegative(args),
      strict: true,
      allowPositionals: false,
      options: {
        station: option,
        supply: option,
        stations: option,
        samples: option,
        every: option,
        "time-zone": option,
      },
    }));
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
  const { station, supply, stations, samples } = values;
  if (samples === undefined)
    throw new UsageError("--samples FILE is missing (- reads standard input).");
  const every = values.every === undefined ? 10 : Number(values.every);
  if (!(every > 0) || !Number.isFinite(every)) {
    throw new UsageError(`--every is "${values.every}"; it must be a number of seconds above 0.`);
  }
  if ((station === undefined) === (supply === undefined)) {
    throw new UsageError("give either --station FILE, or --supply FILE with --stations FOLDER.");
  }
  const setup =
    station === undefined ? readSupplySetup(supply!, stations, io) : readStationSetup(station, io);
  const timeZone = values["time-zone"] ?? setup.timeZone;
  return {
    samples,
    every,
    setup: timeZone === undefined ? setup : { ...setup, timeZone },
  };
}

function readStationSetup(file: string, io: CommandIo): SupplySetup {
  const station = readDocument(file, stationSchema, io);
  if (station.supply) {
    throw new StartError(
      `${file}: the gas comes from supply ${station.supply}. Use --supply with its description and --stations with the folder of its stations.`,
    );
  }
  return { supply: null, stations: [station], ...zoneOf(station) };
}

function readSupplySetup(file: string, folder: string | undefined, io: CommandIo): SupplySetup {
  if (folder === undefined) throw new UsageError("--supply needs --stations FOLDER.");
  const supply: SupplyDocument = readDocument(file, supplySchema, io);
  let names: string[];
  try {
    names = readdirSync(folder).filter((name) => name.endsWith(".json"));
  } catch (error) {
    throw new StartError(`${folder} cannot be read (${(error as Error).message}).`);
  }
  const found = new Map<string, StationDocument>();
  for (const name of names.sort()) {
    const json = readJson(join(folder, name));
    // The folder may hold the supply's own description too.
    if (typeof json !== "object" || json === null || "drops" in json) continue;
    const document = checkDocument(join(folder, name), stationSchema, json, io);
    found.set(document.station, document);
  }
  const stations = supply.drops.map((drop) => {
    const station = found.get(drop);
    if (!station) throw new StartError(`${folder} holds no description of station ${drop}.`);
    return station;
  });
  return { supply, stations, ...zoneOf(supply) };
}

/** An exported description carries its site's time zone along. */
function zoneOf(document: Record<string, unknown>): { timeZone?: string } {
  return typeof document.timeZone === "string" ? { timeZone: document.timeZone } : {};
}

type Schema<T> = Parameters<typeof parseDocument<T>>[0];

function readDocument<T>(file: string, schema: Schema<T>, io: CommandIo): T {
  return checkDocument(file, schema, readJson(file), io);
}

/** Exported descriptions carry their site's time zone along; it is read beside the schema. */
const alsoRead = ["timeZone"];

function checkDocument<T>(file: string, schema: Schema<T>, json: unknown, io: CommandIo): T {
  const parsed = parseDocument(schema, json);
  const unknown = unknownKeys(schema, json, alsoRead);
  if (!parsed.ok)
    throw new StartError(`${file}: ${describeFaults([...parsed.faults, ...unknown])}`);
  for (const key of unknown) {
    io.error(`leeward: warning: ${file}: ${describeUnknownKeys([key])}\n`);
  }
  return parsed.value;
}

function readJson(file: string): unknown {
  let text: string;
  try {
    text = readFileSync(file, "utf8");
  } catch (error) {
    throw new StartError(`${file} cannot be read (${(error as Error).message}).`);
  }
  try {
    return JSON.parse(text) as unknown;
  } catch (error) {
    throw new StartError(`${file} is not JSON (${(error as Error).message}).`);
  }
}

async function* readLines(file: string, io: CommandIo): AsyncGenerator<string> {
  const input = file === "-" ? io.stdin : createReadStream(file, "utf8");
  try {
    for await (const line of createInterface({ input, crlfDelay: Number.POSITIVE_INFINITY })) {
      yield line;
    }
  } catch (error) {
    if ((error as NodeJS.ErrnoException).syscall === undefined) throw error;
    throw new StartError(`${file} cannot be read (${(error as Error).message}).`);
  }
}
