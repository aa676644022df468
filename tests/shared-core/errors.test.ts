import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  PhysicsError,
  physicsErrorCodes,
  requireWithin,
  toResult,
} from "../../shared-core/errors.ts";

const page = readFileSync(new URL("../../docs/physics.md", import.meta.url), "utf8");

describe("errors of the physics", () => {
  test.each(physicsErrorCodes)("%s has its row in docs/physics.md", (code) => {
    expect(page).toMatch(new RegExp(`^\\| \`${code}\` +\\|`, "m"));
  });

  test("the page has no row for a code that is gone", () => {
    const rows = [...page.matchAll(/^\| `([A-Z_]+)` +\|/gm)].map((match) => match[1]);
    expect(rows.sort()).toEqual([...physicsErrorCodes].sort());
  });

  test("a message says what, how much and what to do", () => {
    const error = new PhysicsError("PHYSICS_RANGE", "boreM", 12, "it must lie between 0 and 1.");
    expect(error.message).toBe("PHYSICS_RANGE: boreM is 12; it must lie between 0 and 1.");
    expect(() => requireWithin("boreM", Number.NaN, 0, 1)).toThrow(/boreM is NaN; it must lie/);
    expect(requireWithin("boreM", 1, 0, 1)).toBe(1);
  });

  test("only physics errors become results; faults of the program pass through", () => {
    const failed = toResult(() => requireWithin("x", 2, 0, 1));
    expect(!failed.ok && failed.error.quantity).toBe("x");
    expect(toResult(() => 7)).toEqual({ ok: true, value: 7 });
    expect(() =>
      toResult(() => {
        throw new TypeError("a bug");
      }),
    ).toThrow(TypeError);
  });
});
