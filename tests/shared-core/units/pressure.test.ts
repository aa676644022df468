import { describe, expect, test } from "vitest";
import { parseAbsolutePa } from "../../../shared-core/units/pressure.ts";

/** 1 psi = 6894.757293 Pa (NIST SP 811); 101 325 Pa at sea level (ISO 2533). */
describe("gauge and absolute", () => {
  test.each([
    ["0 psig", "absolute", 0, 101_325],
    ["0 psi", "gauge", 0, 101_325],
    ["14.695949 psi", "absolute", 0, 101_325],
    ["14.695949 psia", "gauge", 0, 101_325],
    ["1 atm", "gauge", 0, 101_325],
    ["1 bara", "gauge", 0, 100_000],
    ["1 barg", "absolute", 0, 201_325],
    ["1 bar", "gauge", 1000, 189_875],
    ["-0.5 bar", "gauge", 0, 51_325],
  ] as [string, "gauge" | "absolute", number, number][])(
    "%s, unstated %s, %f m",
    (text, unstated, altitude, expected) => {
      const answer = parseAbsolutePa(text, unstated, altitude);
      expect(answer.ok && Math.abs(answer.value - expected)).toBeLessThan(25);
    },
  );

  test.each(["-2 bar", "-1 psia"])("%s lies below vacuum", (text) => {
    const answer = parseAbsolutePa(text, "gauge");
    expect(!answer.ok && answer.error.message).toMatch(/below vacuum/);
  });

  test("a text that is no pressure is refused", () => {
    expect(parseAbsolutePa("35 CFH", "gauge").ok).toBe(false);
  });
});
