import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("..", import.meta.url));
const parts = ["shared-core", "firmware", "gateway", "dashboard"] as const;
type Part = (typeof parts)[number];

/** What a part may import of ours, beside itself. */
const mayImport: Record<Part, readonly Part[]> = {
  "shared-core": [],
  firmware: ["shared-core"],
  gateway: ["shared-core"],
  dashboard: ["shared-core"],
};

function sourceFiles(folder: string): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) {
      return ["node_modules", "dist"].includes(entry.name) ? [] : sourceFiles(path);
    }
    return /\.tsx?$/.test(entry.name) ? [path] : [];
  });
}

interface Import {
  file: string;
  target: string;
}

/** Static and dynamic imports and re-exports, types included. */
function importsOf(file: string): Import[] {
  const text = withoutComments(readFileSync(join(root, file), "utf8"));
  const pattern = /\b(?:from|import)\s*\(?\s*"([@a-z.][^"\n]*)"/g;
  return [...text.matchAll(pattern)].map((match) => ({ file, target: match[1]! }));
}

function withoutComments(text: string): string {
  return text.replaceAll(/\/\*[\s\S]*?\*\//g, "").replaceAll(/(^|[^:"'`\\])\/\/.*$/gm, "$1");
}

/** Part that an import leads to; null for libraries. */
function partOf({ file, target }: Import): Part | null {
  const named = /^@leeward\/([^/]+)/.exec(target);
  if (named) return named[1] as Part;
  if (!target.startsWith(".")) return null;
  const path = relative(root, resolve(root, dirname(file), target));
  return parts.find((part) => path.startsWith(`${part}/`)) ?? null;
}

describe.each(parts)("%s", (part) => {
  const files = sourceFiles(part);

  it("has sources", () => {
    expect(files.length).toBeGreaterThan(5);
  });

  it("imports only what it may", () => {
    const wrong = files
      .flatMap(importsOf)
      .filter((one) => {
        const target = partOf(one);
        return target !== null && target !== part && !mayImport[part].includes(target);
      })
      .map((one) => `${one.file} imports ${one.target}`);
    expect(wrong).toEqual([]);
  });
});

describe("shared-core", () => {
  const files = sourceFiles("shared-core");

  it("reads no clock, no chance, no disk, no network, and prints nothing", () => {
    const impure =
      /\bDate\.now\b|\bnew Date\(\)|\bperformance\.now\b|\bMath\.random\b|\bconsole\.|\bprocess\.(?:env|argv|exit|std|hrtime|nextTick|cwd|on)\b|\bsetTimeout\b|\bsetInterval\b|\bfetch\(|\bcrypto\.|\bglobalThis\b|\brequire\(/;
    const wrong = files.filter((file) =>
      impure.test(withoutComments(readFileSync(join(root, file), "utf8"))),
    );
    expect(wrong).toEqual([]);
  });

  it("uses only libraries that it names, none of them Node's", () => {
    const manifest = JSON.parse(readFileSync(join(root, "shared-core/package.json"), "utf8")) as {
      dependencies: Record<string, string>;
    };
    const libraries = new Set(
      files
        .flatMap(importsOf)
        .filter((one) => !one.target.startsWith("."))
        .map((one) => one.target),
    );
    const named = Object.keys(manifest.dependencies);
    expect([...libraries].filter((name) => !named.includes(name))).toEqual([]);
  });
});

describe("firmware", () => {
  it("takes only constants from shared-core: files that import nothing", () => {
    const shared = sourceFiles("firmware/src")
      .flatMap(importsOf)
      .filter((one) => partOf(one) === "shared-core")
      .map((one) =>
        one.target.startsWith("@leeward/shared-core/")
          ? one.target.replace("@leeward/", "")
          : relative(root, resolve(root, dirname(one.file), one.target)),
      );
    expect(shared.length).toBeGreaterThan(0);
    for (const file of new Set(shared)) expect(importsOf(file)).toEqual([]);
  });
});

describe("the virtual shop's plant", () => {
  it("shares neither models nor gas equation with the estimator it must be able to prove wrong", () => {
    const wrong = sourceFiles("gateway/virtual-shop/plant")
      .flatMap(importsOf)
      .filter(({ target }) =>
        /shared-core\/(?!documents\/|messages\/|estimation\/engine\.ts$)/.test(target),
      )
      .map((one) => `${one.file} imports ${one.target}`);
    expect(wrong).toEqual([]);
  });
});

describe("nothing else", () => {
  it("escapes the rules: no any, no silenced compiler, no skipped test, no note to self", () => {
    const inCode = /\bas any\b|: any\b|<any>|\b(?:it|test|describe)\.(?:skip|only|todo)\b/;
    const anywhere = /@ts-ignore|@ts-nocheck|@ts-expect-error|\bTO-?DO\b|\bFIX-?ME\b/;
    const own = "tests/architecture.test.ts";
    const wrong = [...parts, "tests"]
      .flatMap(sourceFiles)
      .filter((file) => file !== own)
      .filter((file) => {
        const text = readFileSync(join(root, file), "utf8");
        return inCode.test(withoutComments(text)) || anywhere.test(text);
      });
    expect(wrong).toEqual([]);
  });
});
