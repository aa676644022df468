import { describe, expect, it } from "vitest";
import { procedureOf, triedFrom } from "../../../dashboard/bench/tried-procedure.ts";

describe("a procedure tried out over the station's own", () => {
  const own = {
    process: "GTAW",
    cup: 8,
    minimumLpm: 7,
    targetLpm: 10,
    maximumLpm: 14,
    material: "stainless",
  } as const;

  it("keeps the limits that were written for its process", () => {
    expect(procedureOf(triedFrom(own), own)).toMatchObject({
      process: "GTAW",
      cup: 8,
      minimumLpm: 7,
      targetLpm: 10,
      maximumLpm: 14,
    });
  });

  it("leaves out what belongs to another process, its limits too", () => {
    const tried = procedureOf({ ...triedFrom(own), process: "GMAW" }, own);
    expect(tried).toMatchObject({ process: "GMAW", material: "stainless" });
    for (const name of ["cup", "minimumLpm", "targetLpm", "maximumLpm"]) {
      expect(tried).not.toHaveProperty(name);
    }
  });
});
