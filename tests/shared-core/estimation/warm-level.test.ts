import { RHO } from "@leeward/shared-core/estimation/cylinder-filter.ts";
import { swapped } from "@leeward/shared-core/estimation/cylinder-watch.ts";
import { planSupply, type SupplyPlan } from "@leeward/shared-core/estimation/plan.ts";
import { learnCold } from "@leeward/shared-core/estimation/regulator-watch.ts";
import { reDialled } from "@leeward/shared-core/estimation/station-watch.ts";
import { createState, type EngineState } from "@leeward/shared-core/estimation/supply-state.ts";
import { describe, expect, it } from "vitest";
import { tigStation } from "../../accuracy/stations.ts";

describe("the level of a warm body, against which the cold is judged", () => {
  // A single-stage regulator behind a cylinder of 200 bar instead of 30 stands 0.6 bar lower
  // (supply-pressure effect 2 psi per 100 psi: common practice, no source).
  const coldBody = (change: (plan: SupplyPlan, state: EngineState) => void) => {
    const plan = planSupply({ supply: null, stations: [tigStation()] });
    const state = createState(plan, 10);
    state.filter.started = true;
    state.filter.x[RHO] = plan.gas.densityAt(200e5, 288.15);
    const { body } = state.watches[0]!;
    for (let k = 0; k < 200; k++) learnCold(body, 290, 3.5e5);
    change(plan, state);
    for (let k = 0; k < 20; k++) learnCold(body, 268, 2.9e5);
    return body;
  };

  it("does not outlive its cylinder, nor its setting: neither is what the cold did", () => {
    expect(coldBody((plan, state) => swapped(plan, state, 1000, 199e5, 3000)).fallenK).toBeNull();
    expect(coldBody((_, state) => reDialled(state, 0, { t: 1000, ratio: 1.3 })).fallenK).toBeNull();
  });

  it("stands while both stay as they are: then the cold did it", () => {
    expect(coldBody(() => undefined).fallenK).toBe(268);
  });
});
