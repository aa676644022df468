import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "vite";
import { afterAll, beforeAll, expect, test } from "vitest";
import { FORMER, formerBuilds, newestAssets, withBuild } from "../../dashboard/former-builds.ts";

let folder = "";
const dist = () => join(folder, "dist");

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "leeward-builds-"));
  writeFileSync(
    join(folder, "index.html"),
    '<div id="app"></div><script type="module" src="./main.js"></script>',
  );
  writeFileSync(join(folder, "main.js"), 'import("./page.js").then((page) => page.show());');
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A real build of a page that fetches a part of its own; the names of that build's files. */
async function built(says: string): Promise<string[]> {
  writeFileSync(join(folder, "page.js"), `export const show = () => console.log("${says}");`);
  const { plugin, isNew } = formerBuilds();
  await build({
    root: folder,
    configFile: false,
    logLevel: "silent",
    plugins: [plugin],
    build: { outDir: "dist", emptyOutDir: false },
  });
  return readdirSync(join(dist(), "assets")).filter(isNew).sort();
}

test("the parts of former builds stay for pages that are open, the oldest go, and the newest are told apart", async () => {
  const all: string[][] = [];
  for (let round = 0; round <= FORMER + 1; round++) all.push(await built(`round ${round}`));
  const parts = all.map((names) => names.filter((name) => name.startsWith("page-")));
  expect(new Set(parts.flat()).size).toBe(FORMER + 2);
  const there = readdirSync(join(dist(), "assets"));
  expect(there).not.toContain(parts[0]![0]);
  for (const [part] of parts.slice(1)) expect(there).toContain(part);
  expect(newestAssets(dist()).sort()).toEqual(all.at(-1));
  const html = readFileSync(join(dist(), "index.html"), "utf8");
  expect(all.at(-1)!.filter((name) => html.includes(name)).length).toBeGreaterThan(0);
  expect(all[1]!.filter((name) => html.includes(name))).toEqual([]);

  // Built again without a change nothing is pushed out.
  await built(`round ${FORMER + 1}`);
  expect(readdirSync(join(dist(), "assets")).sort()).toEqual(there.sort());

  // A folder of before such a list was kept: what lies there is the build before.
  rmSync(join(dist(), "builds.json"));
  await built("after all");
  expect(readdirSync(join(dist(), "assets"))).toEqual(expect.arrayContaining(there));
}, 60_000);

test("one and the same build is counted once, whatever the order of its files", () => {
  expect(withBuild([["b", "a"], ["c"]], ["a", "b"])).toEqual([["a", "b"], ["c"]]);
  expect(withBuild([], ["a"])).toEqual([["a"]]);
});
