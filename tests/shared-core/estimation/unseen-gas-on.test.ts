import { describe, expect, it } from "vitest";
import { Cycle } from "../../accuracy/cycle.ts";
import { scenarios } from "../../accuracy/scenarios.ts";
import { score } from "../../accuracy/score.ts";
import { type Scenario, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { tigStation } from "../../accuracy/stations.ts";
import { seeds } from "../../hours.ts";

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

  it("a gas-off that passed unseen at first is found: short welds do not merge into one small flow", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(6, 9)) {
      const { lines } = run("no-line-short", seed, 6);
      const told = lines.filter(({ estimate, truth }) => truth.gasOn && estimate.flow.lpm);
      expect(told.length).toBeGreaterThan(100);
      const ratios = told.map(({ estimate, truth }) => estimate.flow.lpm! / truth.flowLpm);
      const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
      expect(mean).toBeGreaterThan(0.85);
      expect(mean).toBeLessThan(1.15);
    }
  });

  it("behind a sensor of wide hysteresis spells are dated no shorter than they are: the flow reads right", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(4, 7)) {
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

describe("readings each second at times, each five seconds at others, and no line sensor", () => {
  it("gas that flowed unseen does not make the slow error so large that later spells are never seen", {
    tags: ["hours"],
  }, () => {
    const pace: Scenario = {
      name: "two-paces",
      about: "no line sensor, an arc switch that sets the pace and is not told",
      hours: 3,
      every: 5,
      station: tigStation({ sensors: { line: undefined } }),
      variation: () => ({ presentBar: 150 }),
      node: { arc: true },
      alter: (config) => {
        config.sensors.arc = true;
        config.sensors.cylinder.hysteresis = 0.0004;
      },
      actors: (_plant, _reporter, log, seed) => {
        const cycle = new Cycle(log, seed, [60, 120], [150, 300]);
        return [
          {
            get nextS() {
              return cycle.nextS;
            },
            act(plant) {
              cycle.act(plant);
              plant.inputs.drops[0]!.arc = plant.inputs.drops[0]!.torchOpen;
            },
          },
        ];
      },
    };
    for (const seed of seeds(3, 4)) {
      const { lines } = simulate(pace, seed, undefined, (channel) => channel !== "arc");
      let seen = 0;
      let spells = 0;
      let shown: boolean | null = null;
      for (const { estimate, truth } of lines) {
        if (truth.t < startUnixS + 5400) continue;
        if (truth.gasOn) shown = (shown ?? false) || estimate.mode === "flowing";
        else if (shown !== null) {
          spells++;
          if (shown) seen++;
          shown = null;
        }
      }
      expect(spells).toBeGreaterThan(12);
      expect(seen / spells).toBeGreaterThan(0.8);
    }
  });
});
