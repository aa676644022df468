import { describe, expect, test } from "vitest";
import { arcToLineS } from "../accuracy/arc-runs.ts";

// Plant, the real firmware in a Lua VM, the replay reader and the engine with a line a second, as in
// the gateway. Each seed starts its node's turns at another moment.
const phases = [0, 0.15, 0.3, 0.4, 0.55, 0.7, 0.85, 0.95];

describe("from an arc without gas to the line that says so", () => {
  // 2 s: the aim of this project.
  test.each(phases)("within 2 s, struck %d s after a whole second", async (phaseS) => {
    for (const seed of [1, 2, 3]) {
      const shut = await arcToLineS(seed, phaseS, null);
      expect(shut, `seed ${seed}`).not.toBeNull();
      expect(shut!, `seed ${seed}`).toBeLessThanOrEqual(2);
    }
  });

  test("within 2 s where the cylinder is closed and the line bled", async () => {
    const empty = await arcToLineS(2, 0.55, null, { valveOpen: false });
    expect(empty).not.toBeNull();
    expect(empty!).toBeLessThanOrEqual(2);
  });
});

describe("a weld with gas rings nothing", () => {
  // Pre-flow of half a second, gas with the arc, and gas late by less than a second: common practice, no source.
  test.each([
    ["pre-flow of 0.5 s", -0.5],
    ["gas with the arc", 0],
    ["gas 0.5 s after the arc", 0.5],
    ["gas 0.8 s after the arc", 0.8],
  ])("%s", async (_, opensS) => {
    for (const [k, phaseS] of phases.entries()) {
      const rang = await arcToLineS(k + 1, phaseS, { opensS, closesS: 12 });
      expect(rang, `phase ${phaseS}`).toBeNull();
    }
  });
});
