import { describe, expect, it } from "vitest";
import { Cycle } from "../../accuracy/cycle.ts";
import { scenarios } from "../../accuracy/scenarios.ts";
import { once, simulate, startUnixS } from "../../accuracy/simulate.ts";

const { habits: _welder, ...base } = scenarios.find(({ name }) => name === "tig-half")!;
const bar = 1e5;

/** After an hour and a half another cylinder, less full than the one before; nobody tells. */
function fitted(seed: number, from: number, to: number, effectBarPer100: number, nodeOff: boolean) {
  const at = (hours: number) => startUnixS + hours * 3600;
  const { lines } = simulate(
    {
      ...base,
      hours: 2.8,
      every: 10,
      variation: () => ({ presentBar: from, supplyEffectBarPer100: effectBarPer100 }),
      actors: (_plant, reporter, log) => [
        new Cycle(log, seed, [60, 240], [30, 120], 300, 4800),
        once(at(1.5), (plant) => {
          plant.inputs.cylinderValveOpen = false;
        }),
        once(at(1.5) + 5, (plant) => {
          plant.inputs.drops[0]!.torchOpen = true;
        }),
        once(at(1.53), (plant) => {
          plant.inputs.drops[0]!.torchOpen = false;
        }),
        ...(nodeOff ? [once(at(1.55), () => reporter.powerOff())] : []),
        once(at(1.6), (plant) => {
          plant.swap({ gaugePa: to * bar, temperatureK: 288 });
          plant.inputs.cylinderValveOpen = true;
        }),
        ...(nodeOff ? [once(at(1.8), () => reporter.powerOn(at(1.8)))] : []),
        new Cycle(log, seed + 3, [60, 240], [30, 120], 7000),
      ],
    },
    seed,
  );
  return lines.filter(({ estimate }) => estimate.t > at(1.6));
}

describe("an untold swap to a less full cylinder", () => {
  it.each([
    [1, 130, 60, -0.5, false],
    [2, 130, 60, -0.5, false],
    [3, 190, 40, -0.3, false],
    [1, 100, 50, -0.2, true],
  ] as const)(
    "seed %i, %i to %i bar: no float was turned, and the flow holds",
    (seed, from, to, effect, nodeOff) => {
      const lines = fitted(seed, from, to, effect, nodeOff);
      const events = lines.flatMap(({ estimate }) => estimate.events.map(({ event }) => event));
      expect(events).toContain("swap");
      expect(events).not.toContain("re-dial");
      const flowing = lines.filter(
        ({ estimate, truth }) =>
          estimate.mode === "flowing" && truth.gasOn && estimate.t - estimate.gasSince! >= 10,
      );
      const held = flowing.filter(
        ({ estimate: { flow }, truth }) =>
          flow.low! <= truth.flowLpm && truth.flowLpm <= flow.high!,
      );
      expect(held.length / flowing.length).toBeGreaterThan(0.93);
      for (const { estimate, truth } of flowing) {
        expect(Math.abs(estimate.flow.lpm! / truth.flowLpm - 1)).toBeLessThan(0.07);
      }
    },
  );
});
