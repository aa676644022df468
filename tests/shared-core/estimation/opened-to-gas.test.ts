import { describe, expect, it } from "vitest";
import type { Actor } from "../../../gateway/virtual-shop/plant/welder.ts";
import { Cycle } from "../../accuracy/cycle.ts";
import { scenarios } from "../../accuracy/scenarios.ts";
import { once, simulate, startUnixS } from "../../accuracy/simulate.ts";

const { habits: _welder, ...base } = scenarios.find(({ name }) => name === "tig-half")!;

/** A purge hose without a valve of its own: from an hour on the cylinder's valve starts and stops the gas. */
function purgedByValve(): Actor {
  let next = startUnixS + 4000;
  let open = true;
  return {
    get nextS() {
      return next;
    },
    act(plant) {
      open = !open;
      plant.inputs.drops[0]!.torchOpen = true;
      plant.inputs.cylinderValveOpen = open;
      next += open ? 600 : 200;
    },
  };
}

describe("a cylinder valve opened while the torch is open", () => {
  it.each([1, 2])("seed %i: gas that flows is never told as none", (seed) => {
    const { lines } = simulate(
      {
        ...base,
        hours: 2,
        every: 5,
        actors: (_plant, _reporter, log) => [
          new Cycle(log, seed, [120, 300], [60, 200], 300, 3300),
          purgedByValve(),
        ],
      },
      seed,
    );
    const flows = lines.filter(
      ({ estimate, truth }) => estimate.t > startUnixS + 4100 && truth.flowLpm > 5,
    );
    expect(flows.length).toBeGreaterThan(200);
    const idle = flows.filter(({ estimate }) => estimate.mode === "idle");
    expect(idle.map(({ estimate }) => estimate.t - startUnixS)).toEqual([]);
    const told = flows.filter(({ estimate }) => estimate.mode === "flowing");
    expect(told.length / flows.length).toBeGreaterThan(0.95);
    const held = told.filter(
      ({ estimate: { flow }, truth }) => flow.low! <= truth.flowLpm && truth.flowLpm <= flow.high!,
    );
    expect(held.length / told.length).toBeGreaterThan(0.93);
  });

  it("with the torch shut the line that fills is no gas-on", () => {
    const { lines } = simulate(
      {
        ...base,
        hours: 1.6,
        every: 5,
        actors: (_plant, _reporter, log) => [
          new Cycle(log, 3, [120, 300], [60, 200], 300, 3300),
          once(startUnixS + 3600, (plant) => {
            plant.inputs.cylinderValveOpen = false;
            plant.inputs.drops[0]!.torchOpen = true;
          }),
          once(startUnixS + 3700, (plant) => {
            plant.inputs.drops[0]!.torchOpen = false;
          }),
          once(startUnixS + 4000, (plant) => {
            plant.inputs.cylinderValveOpen = true;
          }),
        ],
      },
      3,
    );
    const after = lines.filter(({ estimate }) => estimate.t >= startUnixS + 4000);
    expect(after.filter(({ estimate }) => estimate.mode === "flowing").length).toBe(0);
    expect(after.at(-1)!.estimate.mode).toBe("idle");
    const events = after.flatMap(({ estimate }) => estimate.events.map(({ event }) => event));
    expect(events).toContain("valve-opened");
    expect(events).not.toContain("gas-on");
  });
});
