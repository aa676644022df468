import { createDrop } from "@leeward/shared-core/estimation/drop-state.ts";
import { planSupply } from "@leeward/shared-core/estimation/plan.ts";
import {
  droopPaPerLpm,
  holdPressurePa,
  learnSeat,
} from "@leeward/shared-core/estimation/regulator-hold.ts";
import { describe, expect, it } from "vitest";
import { Cycle } from "../../accuracy/cycle.ts";
import { simulate } from "../../accuracy/simulate.ts";
import { tigStation } from "../../accuracy/stations.ts";

const planOf = (station = tigStation()) =>
  planSupply({ supply: null, stations: [station] }).drops[0]!;

describe("the reading to dial", () => {
  it("comes near what the plant's float shows at the target, from a flow that is too small", () => {
    for (const [seed, lockUpBar] of [
      [1, 0.25],
      [2, 0.4],
      [3, 0.6],
    ] as const) {
      const { lines, plant } = simulate(
        {
          name: "dial",
          about: "",
          every: 10,
          hours: 1.5,
          station: tigStation(),
          variation: () => ({ presentBar: 120, lockUpBar, supplyEffectBarPer100: -0.5 }),
          actors: (_plant, _reporter, log) => [new Cycle(log, seed, [60, 120], [30, 60], 60)],
          start: (one) => one.setTrueFlow(6),
        },
        seed,
      );
      const { dialTo } = lines.at(-1)!.estimate;
      plant.setTrueFlow(8);
      plant.inputs.drops[0]!.torchOpen = true;
      plant.step(20);
      const now = plant.truth().drops[0]!;
      const right = (now.indicated * 8) / now.deviceLpm;
      expect(Math.abs(dialTo.reading! / right - 1)).toBeLessThan(0.03);
    }
  });
});

describe("droop", () => {
  it("is the bench test's, else learnt from idle and flowing, else what is usual", () => {
    const plan = planOf();
    const state = createDrop(plan);
    expect(droopPaPerLpm(plan, state, 3.45e5, 8)).toBeCloseTo((0.03 * 3.45e5) / 8, 6);
    state.gapPa = 40_000;
    state.gaps = 5;
    expect(droopPaPerLpm(plan, state, 3.45e5, 8)).toBeCloseTo((0.6 * 40_000) / 8, 6);
    const fit = {
      parameters: [{ name: "droop", value: 0.02, sigma: 0.002, unit: "bar/(L/min)" }],
      covariance: [[4e-6]],
    };
    const station = tigStation();
    const tested = planOf({ ...station, flowDevice: { ...station.flowDevice!, fit } });
    expect(droopPaPerLpm(tested, state, 3.45e5, 8)).toBeCloseTo(2000, 6);
  });
});

describe("cylinder pressure that still holds 90 % of the target", () => {
  it("is the line pressure for 90 % and the seat's drop above it", () => {
    const plan = planOf();
    const state = createDrop(plan);
    state.refPa = 3.45e5;
    // Choked flow goes with the absolute pressure: 0.9 of 4.463 bar is 3.004 bar gauge.
    expect(holdPressurePa(plan, state, 8)).toBeCloseTo(3.004e5 + 0.4e5, -3);
  });

  it("is no higher where the line sags as the cylinder empties: the device can be opened", () => {
    const plan = planOf();
    const state = createDrop(plan);
    state.refPa = 3.45e5;
    // 3.6 bar at 100 bar, 8 mbar less for each bar of the cylinder, beyond doubt.
    state.level = Float64Array.of(3.6e5, 0.008, 1, 0, 0.0005 ** 2, 0);
    expect(holdPressurePa(plan, state, 8)).toBeCloseTo(3.004e5 + 0.4e5, -3);
  });

  it("learns the open seat where a nearly empty cylinder shows it", () => {
    const plan = planOf();
    const state = createDrop(plan);
    Object.assign(state, { refPa: 3.45e5, on: true, meanCount: 20 });
    learnSeat(plan, state, 9e5, 3.4e5);
    expect(state.seatPa).toBeNull();
    for (let k = 0; k < 50; k++) learnSeat(plan, state, 3.9e5, 3.0e5);
    expect(state.seatPa).toBeCloseTo(0.9e5, 0);
    expect(holdPressurePa(plan, state, 8)).toBeCloseTo(3.004e5 + 0.9e5, -3);
  });
});
