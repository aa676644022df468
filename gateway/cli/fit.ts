import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { type BenchResult, fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import { describeFaults, parseDocument } from "@leeward/shared-core/documents/parse.ts";
import { type StationDocument, stationSchema } from "@leeward/shared-core/documents/station.ts";
import type { Composition } from "@leeward/shared-core/gases/composition.ts";
import { stationSafety } from "@leeward/shared-core/safety/station-safety.ts";
import {
  dateOption,
  type FitArguments,
  fitHelp,
  gasOption,
  readFitArguments,
  targetLpm,
  UsageError,
} from "./fit-options.ts";
import { fitTables } from "./fit-tables.ts";

/** Where the command reads and writes; the shell passes files and streams. */
export interface FitIo {
  write(text: string): void;
  writeError(text: string): void;
  readFile(path: string): string;
  writeFile?(path: string, data: string | Uint8Array): void;
}

/**
 * The command `leeward fit`: fits a station's regulator and flow device to a bench test.
 *
 * @param args what follows `fit` on the command line
 * @returns the exit code: 0, 1 (nothing could be fitted) or 2 (wrong usage or documents)
 */
export async function runFit(args: string[], io: FitIo): Promise<number> {
  try {
    const given = readFitArguments(args);
    if (given.help || args.length === 0) {
      io.write(fitHelp);
      return given.help ? 0 : 2;
    }
    return await fit(given, io);
  } catch (error) {
    if (error instanceof UsageError) {
      io.writeError(`leeward fit: ${error.message}\nTry: leeward fit --help\n`);
      return 2;
    }
    throw error;
  }
}

async function fit({ values, json }: FitArguments, io: FitIo): Promise<number> {
  const station = readStation(required(values, "station"), io);
  const gas: Composition | null = values.has("gas")
    ? gasOption(required(values, "gas"))
    : (station.cylinder?.composition ?? null);
  const readings = required(values, "readings");
  const rows = parseBenchCsv(readText(readings, io), gas);
  if (!rows.ok) throw new UsageError(`${readings}: ${rows.faults.join("; ")}`);
  const date = values.has("date") ? dateOption(required(values, "date")) : undefined;
  const meter = values.get("meter");
  const answer = fitDevice(station, rows.value, {
    ...(gas === null ? {} : { composition: gas }),
    ...(values.has("target") ? { targetLpm: targetLpm(required(values, "target")) } : {}),
    ...(date === undefined ? {} : { date }),
    ...(meter === undefined ? {} : { meter }),
  });
  if (!answer.ok) {
    io.writeError(`leeward fit: ${answer.why}\n`);
    return 1;
  }
  io.write(json ? `${JSON.stringify(answer.value)}\n` : fitTables(answer.value));
  await writeCard(answer.value, { station, values, date, meter }, io);
  saveStation(answer.value, station, values.get("save"), io);
  return 0;
}

async function writeCard(
  result: BenchResult,
  context: {
    station: StationDocument;
    values: FitArguments["values"];
    date: string | undefined;
    meter: string | undefined;
  },
  io: FitIo,
): Promise<void> {
  const path = context.values.get("card");
  if (path === undefined) return;
  const serial = context.values.get("serial");
  const stationUrl = context.values.get("station-url");
  // Fonts and all: only whoever prints waits for them.
  const { dialCardPdf } = await import("../card/dial-card-pdf.ts");
  const pdf = await dialCardPdf({
    station: context.station,
    result,
    ...(serial === undefined ? {} : { serial }),
    ...(stationUrl === undefined ? {} : { stationUrl }),
    ...(context.date === undefined ? {} : { date: context.date }),
    ...(context.meter === undefined ? {} : { meter: context.meter }),
  });
  writeFile(path, pdf, io);
  io.writeError(`The card is in ${path}.\n`);
}

function saveStation(
  result: BenchResult,
  station: StationDocument,
  path: string | undefined,
  io: FitIo,
): void {
  if (path === undefined) return;
  if (result.fit === null) {
    io.writeError("leeward fit: nothing was saved, since the rows contradict each other.\n");
    return;
  }
  const fitted = { ...station, flowDevice: { ...station.flowDevice, fit: result.fit } };
  writeFile(path, `${JSON.stringify(fitted, null, 2)}\n`, io);
  io.writeError(`The station with this fit is in ${path}.\n`);
}

function writeFile(path: string, data: string | Uint8Array, io: FitIo): void {
  if (!io.writeFile) throw new UsageError(`cannot write ${path} here.`);
  try {
    io.writeFile(path, data);
  } catch (error) {
    throw new UsageError(`cannot write ${path} (${reason(error)}).`);
  }
}

function readStation(path: string, io: FitIo): StationDocument {
  const text = readText(path, io);
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch (error) {
    throw new UsageError(`${path} is not JSON (${reason(error)}).`);
  }
  const parsed = parseDocument(stationSchema, document);
  if (!parsed.ok) throw new UsageError(`${path}: ${describeFaults(parsed.faults)}`);
  const dangers = stationSafety(parsed.value).refusals;
  if (dangers.length > 0) {
    throw new UsageError(`${path} would be dangerous: ${describeFaults(dangers)}.`);
  }
  return parsed.value;
}

function readText(path: string, io: FitIo): string {
  try {
    return io.readFile(path);
  } catch (error) {
    throw new UsageError(`cannot read ${path} (${reason(error)}). Check the path.`);
  }
}

function required(
  values: FitArguments["values"],
  option: "readings" | "station" | "gas" | "target" | "date",
): string {
  const value = values.get(option);
  if (value === undefined) throw new UsageError(`--${option} is missing.`);
  return value;
}

function reason(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
