import { createDrop, type DropState } from "@leeward/shared-core/estimation/drop-state.ts";
import { planSupply } from "@leeward/shared-core/estimation/plan.ts";
import { stillFlows } from "@leeward/shared-core/estimation/still-flowing.ts";
import { describe, expect, it } from "vitest";
import { underShieldingGasOnS } from "../../accuracy/alarm-runs.ts";
import { Cycle } from "../../accuracy/cycle.ts";
import { simulate } from "../../accuracy/simulate.ts";
import { tigStation } from "../../accuracy/stations.ts";

const plan = planSupply({ supply: null, stations: [tigStation()] }).drops[0]!;

/** A line that has risen by 0.4 of its usual 0.4 bar and stands there for ten readings. */
function standing(changes: Partial<DropState> = {}): DropState {
  return {
    ...createDrop(plan),
    on: false,
    offSince: 1000,
    flowPa: 3.45e5,
    idlePa: 3.85e5,
    gapPa: 0.4e5,
    gaps: 8,
    noise: 300 ** 2,
    meanPa: 3.61e5,
    linePa: 3.61e5,
    meanCount: 10,
    lastSampleGap: 1,
    ...changes,
  };
}

describe("a gas-off that was none", () => {
  it("is a line that stands still half-way to its rest", () => {
    expect(stillFlows(plan, standing(), 1010)).toBe(true);
  });

  it.each<[string, Partial<DropState>, number]>([
    ["it rests near where it always rests", { meanPa: 3.8e5, linePa: 3.8e5 }, 1010],
    ["it is still on its way up", { linePa: 3.62e5 }, 1010],
    ["too few readings", { meanCount: 4 }, 1010],
    ["readings far apart", { lastSampleGap: 10 }, 1010],
    ["long after the gas went off", {}, 1100],
    ["how far it rises is hardly known", { gaps: 2 }, 1010],
    ["gas is on", { on: true, offSince: null }, 1010],
  ])("is not: %s", (_, changes, t) => {
    expect(stillFlows(plan, standing(changes), t)).toBe(false);
  });

  it("a needle turned in the midst of a weld is told within 60 s of gas-on", () => {
    expect(underShieldingGasOnS(1, 3600, "needle")).toBeLessThanOrEqual(60);
  });

  it("behind a long hose, which fills slowly, each gas-on and gas-off is told once", () => {
    for (const lockUpBar of [0.25, 0.6]) {
      const { lines } = simulate(
        {
          name: "long hose",
          about: "",
          hours: 0.7,
          every: 5,
          station: tigStation({ hose: { lengthM: 12, boreMm: 5 } }),
          variation: () => ({ lockUpBar }),
          actors: (_plant, _reporter, log) => [new Cycle(log, 3, [20, 60], [10, 60], 60)],
          start: (plant) => plant.setTrueFlow(8),
        },
        3,
      );
      const told = lines.flatMap(({ estimate }) => estimate.events);
      const welds = lines.filter(({ truth }, k) => truth.gasOn && !lines[k - 1]?.truth.gasOn);
      const ons = told.filter(({ event }) => event === "gas-on").length;
      expect(welds.length).toBeGreaterThan(20);
      expect(Math.abs(ons - welds.length)).toBeLessThanOrEqual(1);
    }
  });
});
