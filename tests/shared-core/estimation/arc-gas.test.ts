import type { SupplySetup } from "@leeward/shared-core/estimation/engine.ts";
import { describe, expect, it } from "vitest";
import { arcChange } from "../../../shared-core/estimation/arc-gas.ts";
import { planSupply } from "../../../shared-core/estimation/plan.ts";
import { createState } from "../../../shared-core/estimation/supply-state.ts";
import { Cycle } from "../../accuracy/cycle.ts";
import { type Scenario, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { tigStation } from "../../accuracy/stations.ts";
import { seeds } from "../../hours.ts";

/** A station without a line sensor, with an arc switch: spells of one to two minutes. */
function arcStation(hours: number, gas: boolean): Scenario {
  return {
    name: "arc-no-line",
    about: "no line sensor, an arc switch, short spells",
    hours,
    every: 5,
    station: tigStation({ sensors: { line: undefined, arc: true } }),
    variation: () => ({ presentBar: 150 }),
    node: { arc: true },
    alter: (config) => {
      config.sensors.arc = true;
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
            const drop = plant.inputs.drops[0]!;
            drop.arc = drop.torchOpen;
            if (!gas) drop.torchOpen = false;
          },
        },
      ];
    },
  };
}

describe("an arc where no line sensor tells when gas flows", () => {
  it("shows spells of one to two minutes within seconds, and the flow is learnt of them", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(1, 2)) {
      const { lines } = simulate(arcStation(1.5, true), seed);
      let missed = 0;
      let spells = 0;
      let seen = true;
      let onSince: number | null = null;
      for (const { estimate, truth } of lines) {
        if (truth.gasOn && onSince === null) {
          onSince = truth.t;
          seen = false;
          spells++;
        } else if (!truth.gasOn && onSince !== null) {
          onSince = null;
          if (!seen) missed++;
        }
        if (onSince !== null && estimate.mode === "flowing" && truth.t - onSince <= 10) seen = true;
      }
      expect(spells).toBeGreaterThan(12);
      expect(missed).toBe(0);
      const late = lines.filter(
        ({ estimate, truth }) =>
          truth.t > startUnixS + 2700 && truth.gasOn && estimate.flow.lpm && estimate.flow.low,
      );
      expect(late.length).toBeGreaterThan(100);
      const errors = late.map(({ estimate, truth }) => estimate.flow.lpm! / truth.flowLpm - 1);
      expect(Math.abs(errors.reduce((a, b) => a + b, 0) / errors.length)).toBeLessThan(0.08);
      for (const { estimate, truth } of late) {
        expect(estimate.flow.low!).toBeLessThan(truth.flowLpm);
        expect(estimate.flow.high!).toBeGreaterThan(truth.flowLpm);
      }
      // Until the cylinder has shown it, what gas-on rests on is said.
      const first = lines.find(({ estimate }) => estimate.mode === "flowing")!;
      expect(first.estimate.flow.why).toContain("rests on the arc");
    }
  });

  it("is not believed where the cylinder shows no fall: arcs without gas soon tell no gas-on", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(1, 2)) {
      const { lines } = simulate(arcStation(1.2, false), seed);
      const under = lines.filter(({ estimate }) => estimate.measured?.arc === true);
      expect(under.length).toBeGreaterThan(150);
      const late = lines.filter(({ truth }) => truth.t > startUnixS + 1800);
      expect(late.filter(({ estimate }) => estimate.mode === "flowing")).toEqual([]);
      // Early on it was believed: the test would not see a detector that never says anything.
      expect(lines.some(({ estimate }) => estimate.mode === "flowing")).toBe(true);
    }
  });

  const t = startUnixS;
  const arc = (on: boolean, procedure: object = {}) => {
    const base = tigStation({ sensors: { line: undefined, arc: true } });
    const station = { ...base, procedure: { ...base.procedure!, ...procedure } };
    const setup: SupplySetup = { supply: null, stations: [station] };
    const plan = planSupply(setup);
    const state = createState(plan, 10);
    const drop = state.drops[0]!;
    drop.on = !on;
    drop.onSince = on ? null : t - 60;
    drop.offSince = on ? t - 600 : null;
    drop.arc = on;
    drop.arcT = t;
    drop.arcSince = on ? t : null;
    drop.arcOffSince = on ? null : t;
    return { plan, state };
  };

  it("dates gas-on by the pre-flow and gas-off by the post-flow of the procedure", () => {
    const on = arc(true, { preflowS: 0.8, postflowS: 18 });
    expect(arcChange(on.plan, on.state, 0, t)).toEqual({ on: true, t: t - 0.8 });
    const off = arc(false, { preflowS: 0.8, postflowS: 18 });
    expect(arcChange(off.plan, off.state, 0, t + 17)).toBeNull();
    expect(arcChange(off.plan, off.state, 0, t + 20)).toEqual({ on: false, t: t + 18 });
  });

  it("says nothing of gas in a job that wants none, with a line that is read, or with none fitted", () => {
    const gasless = arc(true);
    gasless.state.jobs[0] = {
      t: t - 100,
      entry: { gasless: true },
      gasOnS: 0,
      gaslessUntil: t + 3600,
    };
    expect(arcChange(gasless.plan, gasless.state, 0, t)).toBeNull();
    const line = arc(true);
    line.state.drops[0]!.lineT = t;
    expect(arcChange(line.plan, line.state, 0, t)).toBeNull();
    const none = arc(true);
    none.state.drops[0]!.arc = null;
    none.state.drops[0]!.arcT = null;
    expect(arcChange(none.plan, none.state, 0, t)).toBeNull();
  });

  it("does not bring back gas that the cylinder has shown to be off while this arc burns", () => {
    const { plan, state } = arc(true);
    state.drops[0]!.offSince = t + 60;
    state.drops[0]!.arcT = t + 90;
    expect(arcChange(plan, state, 0, t + 90)).toBeNull();
  });
});
