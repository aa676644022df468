import { FIRST_DROP, RHO, setVariance } from "@leeward/shared-core/estimation/cylinder-filter.ts";
import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { planSupply } from "@leeward/shared-core/estimation/plan.ts";
import { createState } from "@leeward/shared-core/estimation/supply-state.ts";
import {
  judgeFill,
  newCylinder,
  tellFill,
  tellSetting,
  toldReach,
  toldWhy,
  weighTold,
} from "@leeward/shared-core/estimation/told-watch.ts";
import { describe, expect, it } from "vitest";
import { scenarios } from "../../accuracy/scenarios.ts";
import { type Line, simulate } from "../../accuracy/simulate.ts";
import { tigStation } from "../../accuracy/stations.ts";
import { allHours } from "../../hours.ts";

const run = (name: string, seed: number) => {
  const scenario = scenarios.find((one) => one.name === name);
  if (!scenario) throw new Error(name);
  return simulate({ ...scenario, hours: 5 }, seed);
};

const holds = (low: number | null | undefined, high: number | null | undefined, truth: number) =>
  low != null && high != null && low <= truth && truth <= high;

const steady = ({ estimate, truth }: Line) =>
  estimate.mode === "flowing" && truth.gasOn && truth.flowLpm > 0.5 && estimate.flow.lpm !== null;

const share = (lines: readonly Line[], test: (line: Line) => boolean) =>
  lines.filter(test).length / Math.max(lines.length, 1);

describe("a cylinder of another size than told", () => {
  for (const name of ["fitted-20", "fitted-50"]) {
    it(`${name}: is doubted, and the flow's interval holds the truth`, () => {
      const { lines, events } = run(name, 2);
      const fitted = events.find((event) => event.event === "swap")!.t;
      const after = lines.filter((line) => line.estimate.t > fitted + 3600 && steady(line));
      expect(after.length).toBeGreaterThan(50);
      expect(
        share(after, ({ estimate: { flow }, truth }) => holds(flow.low, flow.high, truth.flowLpm)),
      ).toBeGreaterThan(0.93);
      expect(
        share(after, ({ estimate: { content }, truth }) =>
          holds(content.low, content.high, truth.contentLitres),
        ),
      ).toBeGreaterThan(0.93);
      const why = (estimate: Estimate) => estimate.flow.why ?? "";
      expect(share(after, ({ estimate }) => /water volume/.test(why(estimate)))).toBe(1);
    });
  }

  it.runIf(allHours)(
    "is not doubted where a cylinder like the described one is fitted",
    { tags: ["hours"] },
    () => {
      const { lines } = run("swap", 2);
      expect(lines.filter(({ estimate }) => /water volume/.test(estimate.flow.why ?? ""))).toEqual(
        [],
      );
      expect(lines.filter(({ estimate }) => /told/.test(estimate.content.why ?? ""))).toEqual([]);
    },
  );
});

describe("a cylinder told as full that is not", () => {
  it("is said with what it reads, and the content follows the pressure", () => {
    const { lines, events } = run("told-full", 3);
    const fitted = events.find((event) => event.event === "swap")!.t;
    const after = lines.filter(
      ({ estimate }) => estimate.t > fitted + 900 && estimate.content.ageS === undefined,
    );
    expect(after.length).toBeGreaterThan(50);
    for (const { estimate, truth } of after) {
      expect(estimate.content.why).toMatch(/^told as full, but it was fitted at 4\d bar/);
      expect(Math.abs(estimate.content.litres! - truth.contentLitres)).toBeLessThan(200);
    }
  });

  const full: NonNullable<PersonEntry["swap"]> = {};
  const said = (swap: NonNullable<PersonEntry["swap"]>, bar: number) => {
    const plan = planSupply({ supply: null, stations: [tigStation()] });
    const state = createState(plan, 10);
    state.filter.started = true;
    state.filter.x[RHO] = plan.gas.densityAt(bar * 1e5, 288.15);
    state.cylinder.lastSwap = 1000;
    tellFill(plan, state, 1030, swap);
    judgeFill(state);
    return toldWhy(plan, state);
  };

  it("by pressure: 16 bar is no full cylinder of 200, 185 bar may be one", () => {
    expect(said(full, 16)).toMatch(/15 bar/);
    expect(said(full, 185)).toBeNull();
    expect(said({ filledBar: 150 }, 148)).toBeNull();
    expect(said({ filledBar: 150 }, 60)).toMatch(/more than it was fitted with/);
    expect(said({ litres: 1000 }, 20)).toBeNull();
    expect(said({ litres: 5000 }, 20)).toMatch(/more than it was fitted with/);
  });
});

describe("size against setting", () => {
  const learnt = (before: number, sigma: number, now: number) => {
    const plan = planSupply({ supply: null, stations: [tigStation()] });
    const state = createState(plan, 10);
    const { filter, told } = state;
    filter.x[FIRST_DROP] = before;
    setVariance(filter, FIRST_DROP, sigma ** 2);
    newCylinder(state, false);
    filter.x[FIRST_DROP] = now;
    setVariance(filter, FIRST_DROP, 0.01 ** 2);
    told.onS[0] = 600;
    weighTold(plan, state, 0);
    return { plan, state };
  };

  it("at a known conductance a flow two and a half times as large is another size", () => {
    const { plan, state } = learnt(-5, 0.01, -5 + Math.log(2.5));
    expect(state.told.doubt).toBe("water-volume");
    expect(Math.exp(state.told.volumeLog)).toBeCloseTo(0.4, 5);
    expect(toldWhy(plan, state)).toMatch(/about 20 L/);
  });

  it("at a conductance that is hardly known both are held", () => {
    const { state } = learnt(-5, 0.3, -5 + Math.log(2.5));
    const { low, high } = toldReach(state.told, 0.01);
    expect(state.told.doubt).not.toBeNull();
    // From the flow as told to the flow as the fall of the told volume says.
    expect(high - low).toBeGreaterThan(Math.log(2.5));
  });

  it("a difference within the errors says nothing", () => {
    const { state } = learnt(-5, 0.03, -4.95);
    expect(state.told.doubt).toBeNull();
    expect(toldReach(state.told, 0.02)).toEqual({ low: -1.96 * 0.02, high: 1.96 * 0.02 });
  });

  it("a reading that a person gives settles it", () => {
    const { plan, state } = learnt(-5, 0.02, -5 + Math.log(1.6));
    expect(state.told.doubt).not.toBeNull();
    tellSetting(state.told, 0, -5 + Math.log(1.6), 0.15);
    weighTold(plan, state, 0);
    expect(state.told.doubt).toBeNull();
  });
});
