/**
 * Builds the `leeward` program into `dist/`: the sources as JavaScript, a file for each command, with
 * the libraries left where they are. `bin/leeward.js` runs it while no source has changed since.
 */
import { mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build, type Plugin } from "esbuild";
import { stampOf } from "./bin/built.js";

const here = dirname(fileURLToPath(import.meta.url));
const root = dirname(here);
const dist = join(here, "dist");

/** The project's own packages are sources as well, and files find each other from where they were. */
const ownSources: Plugin = {
  name: "own-sources",
  setup(builder) {
    builder.onResolve({ filter: /^@leeward\/shared-core\// }, ({ path }) => ({
      path: join(root, path.slice("@leeward/".length)),
    }));
    builder.onLoad({ filter: /\/gateway\/.*\.ts$/ }, ({ path }) => {
      const place = JSON.stringify(relative(dist, path));
      const contents = readFileSync(path, "utf8").replaceAll(
        "import.meta.url",
        `new URL(${place}, import.meta.url)`,
      );
      return { contents, loader: "ts" };
    });
  },
};

const beganMs = Date.now();
rmSync(dist, { recursive: true, force: true });
const { metafile } = await build({
  absWorkingDir: root,
  entryPoints: { main: join(here, "cli/main.ts") },
  outdir: dist,
  bundle: true,
  splitting: true,
  packages: "external",
  platform: "node",
  format: "esm",
  target: "node20",
  metafile: true,
  logLevel: "warning",
  plugins: [ownSources],
});
const inputs = Object.keys(metafile.inputs).map((path) => {
  const file = join(root, path);
  if (statSync(file).mtimeMs >= beganMs) throw new Error(`${path} was changed while it was built`);
  return [relative(dist, file), stampOf(pathToFileURL(file))];
});
mkdirSync(dist, { recursive: true });
writeFileSync(join(dist, "inputs.json"), JSON.stringify(Object.fromEntries(inputs)));
console.log(`gateway: ${inputs.length} sources in ${Date.now() - beganMs} ms`);
