import { demandSources } from "@leeward/shared-core/demand/sources.ts";
import { demandTables } from "@leeward/shared-core/demand/tables.ts";
import { describe, expect, it } from "vitest";

/** Paths of all numbers that do not stand in an object with a valid `source`. */
function unsourced(value: unknown, path: string, sourced: boolean): string[] {
  if (typeof value === "number") return sourced ? [] : [path];
  if (Array.isArray(value)) {
    return value.flatMap((item, index) => unsourced(item, `${path}[${index}]`, sourced));
  }
  if (typeof value === "object" && value !== null) {
    const source = "source" in value ? value.source : undefined;
    const here = typeof source === "string" ? source in demandSources : sourced;
    return Object.entries(value).flatMap(([key, item]) => unsourced(item, `${path}.${key}`, here));
  }
  return [];
}

describe("demand tables", () => {
  it("hold no number without a source", () => {
    expect(unsourced(demandTables, "tables", false)).toEqual([]);
  });

  it("the check itself finds a row without a source, and one with an unknown key", () => {
    expect(
      unsourced({ rows: [{ low: 1, source: "common-practice" }, { low: 2 }] }, "t", false),
    ).toEqual(["t.rows[1].low"]);
    expect(unsourced({ low: 1, source: "hearsay" }, "t", false)).toEqual(["t.low"]);
  });

  it("hold at least forty numbers, so that an empty list cannot pass", () => {
    expect(JSON.stringify(demandTables).match(/:-?\d/g)!.length).toBeGreaterThan(40);
  });

  it("every source says what it is; what has no publication says so", () => {
    for (const [key, { kind, text }] of Object.entries(demandSources)) {
      expect(text.length, key).toBeGreaterThan(10);
      if (kind === "common-practice") expect(text).toBe("common practice, no source");
      if (kind === "own-estimate") expect(text).toContain("no source");
      if (kind === "from-memory") expect(text).toMatch(/from memory|check the document/);
    }
  });
});
