import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const folder = fileURLToPath(new URL("../../../gateway/virtual-shop/", import.meta.url));

function sources(path: string): string[] {
  return readdirSync(path, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory()
      ? sources(join(path, entry.name))
      : entry.name.endsWith(".ts")
        ? [join(path, entry.name)]
        : [],
  );
}

/** Import and re-export targets of a file, types included, dynamic ones too. */
function imports(file: string): string[] {
  const text = readFileSync(file, "utf8");
  return [...text.matchAll(/(?:from|import)\s*\(?\s*["']([^"']+)["']/g)].map((m) => m[1] as string);
}

/** The schemas, wire names and types that plant and estimator may share. */
const shared = [
  /^@leeward\/shared-core\/documents\//,
  /^@leeward\/shared-core\/messages\/wire-names\.ts$/,
  /^@leeward\/shared-core\/estimation\/engine\.ts$/,
];

describe("the simulated plant", () => {
  const files = sources(folder);

  it("has its sources where this test looks", () => {
    expect(files.length).toBeGreaterThan(15);
    expect(files.some((file) => file.endsWith("plant/plant.ts"))).toBe(true);
  });

  it("shares no physics with the estimator that it is to prove wrong", () => {
    for (const file of files) {
      for (const target of imports(file)) {
        if (!target.includes("shared-core")) continue;
        expect(
          shared.some((allowed) => allowed.test(target)),
          `${file} imports ${target}`,
        ).toBe(true);
        if (target.endsWith("engine.ts")) {
          // Types only: nothing of the estimator runs here.
          const line = readFileSync(file, "utf8")
            .split("\n")
            .find((one) => one.includes(target));
          expect(line).toMatch(/^import type/);
        }
      }
    }
  });
});
