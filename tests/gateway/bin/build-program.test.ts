import { spawnSync } from "node:child_process";
import { mkdirSync, utimesSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { isFresh } from "../../../gateway/bin/built.js";
import { buildProgram } from "../../../gateway/build-program.ts";
import { temporaryFolder } from "../support.ts";

/** A project of a command and a part of the core, each of which says where it stands. */
function smallProject(): { root: string; command: string; built: () => string; dist: URL } {
  const root = temporaryFolder();
  const write = (path: string, text: string) => {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), text);
    return join(root, path);
  };
  write("gateway/package.json", '{ "type": "module" }');
  write("shared-core/core.ts", 'export const core = new URL("./core.json", import.meta.url).href;');
  const command = write(
    "gateway/cli/main.ts",
    `import { core } from "@leeward/shared-core/core.ts";
console.log(new URL("./main.json", import.meta.url).href, core);`,
  );
  const dist = pathToFileURL(join(root, "gateway/dist/"));
  const built = () =>
    spawnSync(process.execPath, [join(root, "gateway/dist/main.js")], { encoding: "utf8" }).stdout;
  return { root, command, built, dist };
}

describe("a build of the program", () => {
  it("finds files from where its sources stand, whichever package they are of", async () => {
    const { root, built, dist } = smallProject();
    expect(await buildProgram(root)).toBe(2);
    const at = (path: string) => pathToFileURL(join(root, path)).href;
    expect(built()).toBe(`${at("gateway/cli/main.json")} ${at("shared-core/core.json")}\n`);
    expect(isFresh(dist)).toBe(true);
  });

  it("is made where the clock stands before the sources were written, as without a battery it does", async () => {
    const { root, command, dist } = smallProject();
    utimesSync(command, new Date(), new Date(Date.now() + 7_200_000));
    await buildProgram(root);
    expect(isFresh(dist)).toBe(true);
  });
});
