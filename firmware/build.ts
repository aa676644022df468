/**
 * Builds the node's bundle `dist/leeward-node.lua`, that of its set-up, and for each chip its port file
 * and loader. The compiler writes a file even when it has errors, so its exit code decides; the file appears under its name only when all went well.
 */
import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const dist = join(here, "dist");

function compile(project: string): void {
  const compiler = createRequire(import.meta.url).resolve("typescript-to-lua/dist/tstl.js");
  const run = spawnSync(process.execPath, [compiler, "-p", join(here, project)], {
    stdio: "inherit",
  });
  if (run.status !== 0) {
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
