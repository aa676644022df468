import { describe, expect, it } from "vitest";
import { Cycle } from "../../accuracy/cycle.ts";
import { scenarios } from "../../accuracy/scenarios.ts";
import { once, simulate, startUnixS } from "../../accuracy/simulate.ts";

const orifice = scenarios.find(({ name }) => name === "orifice-gauge")!;
const needle = scenarios.find(({ name }) => name === "tig-day")!;
const TURNED_H = 1.5;

describe("a regulator whose screw was turned down in the midst of a weld", () => {
  it("rests lower too: the next gas-off is one, before an orifice and before a needle", () => {
    for (const base of [orifice, needle]) {
      const { lines } = simulate(
        {
          ...base,
          hours: 3,
          every: 5,
          habits: undefined,
          variation: (seed) => ({ ...base.variation(seed), lockUpBar: 0.15 }),
          actors: (_plant, _reporter, log, seed) => [
            new Cycle(log, seed, [40, 90], [30, 120], 300, TURNED_H * 3600 - 300),
            once(startUnixS + TURNED_H * 3600, (plant) => {
              plant.inputs.drops[0]!.torchOpen = true;
            }),
            once(startUnixS + TURNED_H * 3600 + 60, (plant) => {
              plant.inputs.deliveryPa *= 0.75;
            }),
            once(startUnixS + TURNED_H * 3600 + 150, (plant) => {
              plant.inputs.drops[0]!.torchOpen = false;
            }),
            new Cycle(log, seed + 9, [40, 90], [30, 120], TURNED_H * 3600 + 450),
          ],
        },
        3,
      );
      const after = lines.filter(({ estimate }) => estimate.t > startUnixS + 3600 * TURNED_H + 200);
      const shut = after.filter(({ truth }) => truth.torchLpm < 0.01 && truth.flowLpm < 0.2);
      const phantom = shut.filter(({ estimate }) => estimate.mode === "flowing");
      expect(shut.length).toBeGreaterThan(100);
      expect(phantom.length / shut.length).toBeLessThan(0.05);
      const told = after.flatMap(({ estimate }) => estimate.events);
      expect(told.filter(({ event }) => event === "re-dial")).toEqual([]);
    }
  }, 90_000);
});
