import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { pathToFileURL } from "node:url";
import { build, type Plugin } from "esbuild";
import { stampOf } from "./bin/built.js";

/** The project's own packages are sources as well, and files find each other from where they were. */
function ownSources(root: string, dist: string, stamps: Map<string, string>): Plugin {
  return {
    name: "own-sources",
    setup(builder) {
      builder.onResolve({ filter: /^@leeward\/shared-core\// }, ({ path }) => ({
        path: join(root, path.slice("@leeward/".length)),
      }));
      builder.onLoad({ filter: /\.ts$/ }, ({ path }) => {
        const place = relative(dist, path);
        // Before it is read: what is written meanwhile has another stamp.
        stamps.set(place, stampOf(pathToFileURL(path)));
        const contents = readFileSync(path, "utf8").replaceAll(
          "import.meta.url",
          `new URL(${JSON.stringify(place)}, import.meta.url)`,
        );
        return { contents, loader: "ts" };
      });
    },
  };
}

/**
 * Builds the `leeward` program into `gateway/dist/`: the sources as JavaScript, a file for each command,
 * with the libraries left where they are. `bin/leeward.js` runs it while no source has changed since.
 *
 * @param root folder of the project
 * @returns how many sources it was made of
 */
export async function buildProgram(root: string): Promise<number> {
  const dist = join(root, "gateway/dist");
  const stamps = new Map<string, string>();
  rmSync(dist, { recursive: true, force: true });
  const { metafile } = await build({
    absWorkingDir: root,
    entryPoints: { main: join(root, "gateway/cli/main.ts") },
    outdir: dist,
    bundle: true,
    splitting: true,
    packages: "external",
    platform: "node",
    format: "esm",
    target: "node20",
    metafile: true,
    logLevel: "warning",
    plugins: [ownSources(root, dist, stamps)],
  });
  const unseen = Object.keys(metafile.inputs).length - stamps.size;
  if (unseen !== 0)
    throw new Error(`${unseen} sources are no TypeScript: their changes pass unseen`);
  mkdirSync(dist, { recursive: true });
  writeFileSync(join(dist, "inputs.json"), JSON.stringify(Object.fromEntries(stamps)));
  return stamps.size;
}
