import { spawnSync } from "node:child_process";
import { copyFileSync, mkdirSync, rmSync, symlinkSync, utimesSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { beforeEach, describe, expect, it } from "vitest";
import { isFresh, stampOf } from "../../../gateway/bin/built.js";
import { temporaryFolder } from "../support.ts";

const root = fileURLToPath(new URL("../../..", import.meta.url));

describe("the built program", () => {
  let folder: string;
  let dist: URL;
  let source: string;

  beforeEach(() => {
    folder = temporaryFolder();
    mkdirSync(join(folder, "dist"));
    dist = pathToFileURL(`${join(folder, "dist")}/`);
    source = join(folder, "source.ts");
    writeFileSync(source, "export const one = 1;\n");
    const inputs = { "../source.ts": stampOf(pathToFileURL(source)) };
    writeFileSync(join(folder, "dist/inputs.json"), JSON.stringify(inputs));
  });

  it("stands for its sources while they are as they were", () => {
    expect(isFresh(dist)).toBe(true);
  });

  it("does not where a source was written since, even to the same length", () => {
    writeFileSync(source, "export const one = 2;\n");
    utimesSync(source, new Date(), new Date(Date.now() + 1000));
    expect(isFresh(dist)).toBe(false);
  });

  it("does not where an older source was put back", () => {
    utimesSync(source, new Date(), new Date("2026-01-01"));
    expect(isFresh(dist)).toBe(false);
  });

  it("does not where a source is gone, or nothing was built", () => {
    rmSync(source);
    expect(isFresh(dist)).toBe(false);
    rmSync(join(folder, "dist"), { recursive: true });
    expect(isFresh(dist)).toBe(false);
  });
});

describe("leeward without a build", () => {
  it("runs its sources as they are", () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, "gateway/bin"), { recursive: true });
    for (const name of ["leeward.js", "built.js", "../package.json"]) {
      copyFileSync(join(root, "gateway/bin", name), join(folder, "gateway/bin", name));
    }
    symlinkSync(join(root, "gateway/cli"), join(folder, "gateway/cli"));
    symlinkSync(join(root, "node_modules"), join(folder, "node_modules"));
    const run = spawnSync(process.execPath, ["gateway/bin/leeward.js", "--version"], {
      cwd: folder,
      encoding: "utf8",
    });
    expect(run.stderr).toBe("");
    expect(run.stdout).toMatch(/^leeward \d+\.\d+\.\d+\n$/);
  });
});
