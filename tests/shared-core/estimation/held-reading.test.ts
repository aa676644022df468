import { describe, expect, it } from "vitest";
import { Cycle } from "../../accuracy/cycle.ts";
import { once, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { liquidStation, tigStation } from "../../accuracy/stations.ts";
import { seeds } from "../../hours.ts";

const FROZEN_S = 4200;
const MOVES_S = 7200;

/** Welds of 40 s with pauses of 20 s; the cylinder's sensor stands still for 50 minutes. */
function frozen(seed: number, station = tigStation(), movesS = MOVES_S) {
  return simulate(
    {
      name: "held-reading",
      about: "",
      every: 1,
      hours: 2.75,
      station,
      variation: () => ({}),
      actors: (_plant, _reporter, log) => [
        new Cycle(log, seed, [30, 50], [15, 25]),
        once(startUnixS + FROZEN_S, (plant) => {
          plant.sensors.cylinder.fault = "stuck";
        }),
        once(startUnixS + movesS, (plant) => {
          plant.sensors.cylinder.fault = null;
        }),
      ],
    },
    seed,
  );
}

describe("a cylinder reading that stands still while gas flows", () => {
  it("changes neither the flow nor the fall of the content, before it is known as a fault and after", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(1, 2)) {
      const { lines } = frozen(seed);
      const flowing = (fromS: number, toS: number) =>
        lines.filter(
          ({ estimate: { t, mode, flow }, truth }) =>
            t >= startUnixS + fromS &&
            t < startUnixS + toS &&
            mode === "flowing" &&
            flow.lpm !== null &&
            truth.flowLpm > 7.5,
        );
      const mean = (some: typeof lines) =>
        some.reduce((sum, { estimate, truth }) => sum + estimate.flow.lpm! / truth.flowLpm, 0) /
        some.length;
      const before = mean(flowing(FROZEN_S - 600, FROZEN_S));
      for (const [from, to] of [
        [FROZEN_S + 120, FROZEN_S + 600],
        [FROZEN_S + 600, MOVES_S],
      ] as const) {
        const during = flowing(from, to);
        expect(during.length).toBeGreaterThan(200);
        expect(Math.abs(mean(during) / before - 1)).toBeLessThan(0.03);
      }
      const events = lines.flatMap(({ estimate }) => estimate.events);
      const fault = events.find(({ event }) => event === "sensor-fault");
      expect(fault?.fault).toBe("stuck");
      expect(events.filter(({ event }) => event === "re-dial" || event === "swap")).toEqual([]);
      // From when it moves again the flow is as it was.
      const after = flowing(MOVES_S + 300, MOVES_S + 2400);
      expect(after.length).toBeGreaterThan(500);
      expect(Math.abs(mean(after) / before - 1)).toBeLessThan(0.1);
      const held = after.filter(
        ({ estimate: { flow }, truth }) =>
          flow.low! <= truth.flowLpm && truth.flowLpm <= flow.high!,
      );
      expect(held.length / after.length).toBeGreaterThan(0.9);
    }
  });

  it("is a fault of a cylinder that holds liquid too", () => {
    const { lines } = frozen(1, liquidStation(15));
    const faults = lines.flatMap(({ estimate }) =>
      estimate.events.filter(({ event }) => event === "sensor-fault"),
    );
    expect(faults).toHaveLength(1);
  });
});
