/**
 * Builds the node's bundle `dist/leeward-node.lua`, that of its set-up, and for each chip its port file
 * and loader. The compiler writes a file even when it finds faults, so these decide; the file appears under its
 * name only when all went well.
 */
import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { parseConfigFileWithSystem, Transpiler } from "typescript-to-lua";

const here = dirname(fileURLToPath(import.meta.url));
const dist = join(here, "dist");

const pointsAt: ts.FormatDiagnosticsHost = {
  getCurrentDirectory: () => process.cwd(),
  getCanonicalFileName: (name) => name,
  getNewLine: () => "\n",
};

/** All projects are compiled in one process: a compiler that has just started takes most of its time to warm up. */
function compile(project: string): void {
  const parsed = parseConfigFileWithSystem(join(here, project));
  const program = ts.createProgram({
    rootNames: parsed.fileNames,
    options: parsed.options,
    configFileParsingDiagnostics: ts.getConfigFileParsingDiagnostics(parsed),
  });
  const before = ts.getPreEmitDiagnostics(program);
  const { diagnostics } = new Transpiler().emit({ program });
  const faults = ts.sortAndDeduplicateDiagnostics([...before, ...diagnostics]);
  if (faults.length > 0) console.error(ts.formatDiagnostics(faults, pointsAt).trimEnd());
  if (faults.some(({ category }) => category === ts.DiagnosticCategory.Error)) {
    console.error(`firmware: ${project} did not compile; nothing was built.`);
    process.exit(1);
  }
}

/** Takes indentation and empty lines away: the microcontroller reads them for nothing. */
function tighten(source: string): string {
  return source
    .split("\n")
    .map((line) => line.trim())
    .filter((line) => line !== "")
    .join("\n");
}

function publish(name: string): void {
  const raw = join(dist, `${name}.raw.lua`);
  const text = `${tighten(readFileSync(raw, "utf8"))}\n`;
  const finished = join(dist, `${name}.lua`);
  writeFileSync(`${finished}.new`, text);
  renameSync(`${finished}.new`, finished);
  rmSync(raw);
  console.log(`${name}.lua  ${text.length} bytes${strippedSize(finished)}`);
}

/** Size as byte code without debug information, where Debian's compiler is at hand. */
function strippedSize(file: string): string {
  const output = `${file}c`;
  const run = spawnSync("luac5.1", ["-s", "-o", output, file]);
  if (run.status !== 0) return "";
  const bytes = readFileSync(output).length;
  rmSync(output);
  return `, ${bytes} bytes as stripped 64-bit byte code`;
}

mkdirSync(dist, { recursive: true });
compile("tsconfig.json");
publish("leeward-node");
compile("tsconfig.set-up.json");
publish("leeward-set-up");
for (const chip of ["esp32", "esp8266"]) {
  compile(`tsconfig.${chip}.json`);
  publish(`port-${chip}`);
  const loader = readFileSync(join(here, "ports/loader.lua"), "utf8");
  writeFileSync(join(dist, `init-${chip}.lua`), `LEEWARD_PORT = "port-${chip}.lua"\n${loader}`);
}
