import { describe, expect, it } from "vitest";
import { scenarios } from "../../accuracy/scenarios.ts";
import { score } from "../../accuracy/score.ts";
import { simulate } from "../../accuracy/simulate.ts";

function run(name: string, seed: number, hours: number) {
  const scenario = scenarios.find((one) => one.name === name)!;
  return simulate({ ...scenario, hours }, seed);
}

describe("gas-on that only the cylinder's pressure can show", () => {
  it("a fall that the filter's gate refuses is seen all the same, and is no turned float", () => {
    for (const [seed, hours] of [
      [2, 1.8],
      [10, 4],
    ] as const) {
      const scored = score(run("no-line-mig", seed, hours));
      expect(scored.gasOnSpells).toBeGreaterThan(8);
      expect(scored.gasOnMissed).toBe(0);
      expect(scored.falseGasOn).toBe(0);
      expect(scored.falseReDials).toBe(0);
    }
  });

  it("a gas-off that passed unseen at first is found: short welds do not merge into one small flow", () => {
    for (const seed of [6, 9]) {
      const { lines } = run("no-line-short", seed, 6);
      const told = lines.filter(({ estimate, truth }) => truth.gasOn && estimate.flow.lpm);
      expect(told.length).toBeGreaterThan(100);
      const ratios = told.map(({ estimate, truth }) => estimate.flow.lpm! / truth.flowLpm);
      const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
      expect(mean).toBeGreaterThan(0.85);
      expect(mean).toBeLessThan(1.15);
    }
  });

  it("behind a sensor of wide hysteresis spells are dated no shorter than they are: the flow reads right", () => {
    for (const seed of [4, 7]) {
      const { lines, plant } = run("no-line-long", seed, 4);
      expect(plant.config.sensors.cylinder.hysteresis).toBeGreaterThan(0.00035);
      const late = lines.slice(lines.length / 2).filter(({ estimate, truth }) => {
        return estimate.mode === "flowing" && estimate.flow.lpm !== null && truth.gasOn;
      });
      expect(late.length).toBeGreaterThan(300);
      const errors = late.map(({ estimate, truth }) => estimate.flow.lpm! / truth.flowLpm - 1);
      const bias = errors.reduce((sum, error) => sum + error, 0) / errors.length;
      expect(Math.abs(bias)).toBeLessThan(0.03);
      const held = late.filter(
        ({ estimate: { flow }, truth }) =>
          flow.low! <= truth.flowLpm && truth.flowLpm <= flow.high!,
      );
      expect(held.length / late.length).toBeGreaterThan(0.9);
    }
  });

  it("ordinary welds whose breaks pass unseen are read short by half of that at most", () => {
    const errors = [1, 5, 7].flatMap((seed) =>
      run("no-line-short", seed, 6).lines.flatMap(({ estimate: { mode, flow }, truth }) =>
        mode === "flowing" && flow.lpm !== null && truth.gasOn
          ? [flow.lpm! / truth.flowLpm - 1]
          : [],
      ),
    );
    expect(errors.length).toBeGreaterThan(800);
    const bias = errors.reduce((sum, error) => sum + error, 0) / errors.length;
    expect(Math.abs(bias)).toBeLessThan(0.06);
  });
});
