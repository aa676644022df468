import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Plugin } from "vite";

/** Names of the files that each build put into `assets/`, the newest first. */
export type Builds = readonly (readonly string[])[];

/** So many builds before the newest stay: pages that are open still fetch parts of theirs. */
export const FORMER = 3;

const FOLDER = "assets";
const LIST = "builds.json";

/** The builds to keep once a new one is there; built anew without a change it is the same one. */
export function withBuild(builds: Builds, files: readonly string[]): Builds {
  const fresh = [...files].sort();
  const name = fresh.join();
  return [fresh, ...builds.filter((one) => [...one].sort().join() !== name)].slice(0, 1 + FORMER);
}

function readBuilds(path: string): Builds | null {
  try {
    const read: unknown = JSON.parse(readFileSync(path, "utf8"));
    return Array.isArray(read) ? (read as Builds) : null;
  } catch {
    return null;
  }
}

/**
 * Leaves the parts of the builds before beside those of the new one and deletes older ones, so that a
 * build under a running gateway takes nothing from the pages that are open. Wants `emptyOutDir: false`.
 *
 * @returns the plugin, and which files under `assets/` are the newest build's
 */
export function formerBuilds(): { plugin: Plugin; isNew: (name: string) => boolean } {
  let fresh = new Set<string>();
  const plugin: Plugin = {
    name: "former-builds",
    apply: "build",
    writeBundle({ dir = "" }, bundle) {
      const folder = join(dir, FOLDER);
      mkdirSync(folder, { recursive: true });
      const names = Object.keys(bundle).flatMap((path) =>
        path.startsWith(`${FOLDER}/`) ? [path.slice(FOLDER.length + 1)] : [],
      );
      fresh = new Set(names);
      const there = readdirSync(folder);
      // Where nothing was written down, what lies there is the build before.
      const before = readBuilds(join(dir, LIST)) ?? [there.filter((name) => !fresh.has(name))];
      const builds = withBuild(
        before.filter((one) => one.length > 0),
        names,
      );
      const kept = new Set(builds.flat());
      for (const name of there)
        if (!kept.has(name)) rmSync(join(folder, name), { recursive: true });
      writeFileSync(join(dir, LIST), `${JSON.stringify(builds)}\n`);
    },
  };
  return { plugin, isNew: (name) => fresh.has(name) };
}

/** Names of the newest build's files under `assets/` of a folder that was built into. */
export function newestAssets(dir: string): string[] {
  const there = existsSync(join(dir, FOLDER)) ? readdirSync(join(dir, FOLDER)) : [];
  const newest = readBuilds(join(dir, LIST))?.[0];
  return newest ? there.filter((name) => newest.includes(name)) : there;
}
