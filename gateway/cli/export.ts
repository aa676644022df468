import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { momentQuerySchema } from "@leeward/shared-core/api/operations.ts";
import { exportStation } from "../live/export.ts";
import { StartError } from "../run/start-error.ts";
import { openSqliteStoreToRead } from "../store/open-sqlite.ts";
import { type CommandIo, UsageError } from "./io.ts";

/** `leeward export`: what a station's engine received, in the form that `replay` reads. */
export async function runExport(args: string[], io: CommandIo): Promise<number> {
  let values: Record<string, string | undefined>;
  try {
    const option = { type: "string" as const };
    ({ values } = parseArgs({
      args,
      strict: true,
      allowPositionals: false,
      options: { station: option, from: option, to: option, out: option, data: option },
    }));
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
  const { station } = values;
  if (station === undefined) throw new UsageError("--station <site>.<station> is missing.");
  const from = readMoment("--from", values.from);
  const to = readMoment("--to", values.to);
  const data = resolve(values.data ?? io.environment.LEEWARD_DATA ?? "./data");
  const file = join(data, "leeward.sqlite");
  if (!existsSync(file)) {
    throw new StartError(`There is no store at ${file}. Name the gateway's folder with --data.`);
  }
  const store = openSqliteStoreToRead(file);
  try {
    const out = resolve(values.out ?? ".");
    mkdirSync(out, { recursive: true });
    const exported = await exportStation(store, station, {
      ...(from === undefined ? {} : { from }),
      ...(to === undefined ? {} : { to }),
    });
    if (exported === null) {
      throw new StartError(`The store knows no station ${station}; an id is <site>.<station>.`);
    }
    const files: string[] = [];
    for (const { name, json } of exported.documents) {
      const path = join(out, name);
      mkdirSync(resolve(path, ".."), { recursive: true });
      writeFileSync(path, `${JSON.stringify(json, null, 2)}\n`);
      files.push(path);
    }
    const samples = join(out, "samples.ndjson");
    writeFileSync(samples, exported.lines.map((line) => `${JSON.stringify(line)}\n`).join(""));
    files.push(samples);
    io.out(`${files.join("\n")}\n`);
    return 0;
  } finally {
    await store.close();
  }
}

function readMoment(flag: string, text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const parsed = momentQuerySchema.safeParse(text);
  if (!parsed.success) {
    throw new UsageError(
      `${flag} is "${text}"; it must be a time such as 2026-03-02T08:00:00Z, or Unix seconds.`,
    );
  }
  return parsed.data;
}
