import { readFileSync } from "node:fs";
import { deadLetterReasons } from "@leeward/shared-core/messages/dead-letter-reasons.ts";
import { describe, expect, it } from "vitest";
import { problemKinds } from "../../gateway/http/problems.ts";

const page = readFileSync(new URL("../../docs/errors.md", import.meta.url), "utf8");
const [, deadLetters = "", problems = ""] = page.split(/^## /m);

function firstCells(text: string): string[] {
  return [...text.matchAll(/^\| `([a-z-]+)` \|/gm)].map((match) => match[1]!);
}

describe("docs/errors.md", () => {
  it("lists every dead-letter reason with its remedy, and no other", () => {
    expect(firstCells(deadLetters)).toEqual(Object.keys(deadLetterReasons));
    for (const [reason, remedy] of Object.entries(deadLetterReasons)) {
      const row = deadLetters.split("\n").find((line) => line.startsWith(`| \`${reason}\` |`));
      expect(row).toContain(remedy);
    }
  });

  it("lists every problem of the API with its status, and no other", () => {
    expect(firstCells(problems)).toEqual(Object.keys(problemKinds));
    for (const [kind, { status, title }] of Object.entries(problemKinds)) {
      expect(problems).toContain(`| \`${kind}\` | ${status} | ${title}. |`);
    }
  });

  it("leaves no row without a remedy", () => {
    expect(page).not.toContain("| ? |");
    expect(page).not.toContain("undefined");
  });
});
