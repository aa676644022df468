import { describe, expect, it } from "vitest";
import { Cycle, reDial } from "../../accuracy/cycle.ts";
import { scenarios } from "../../accuracy/scenarios.ts";
import { type Scenario, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { seeds } from "../../hours.ts";

/** Events by seed of an argon cylinder of 50 L without a line sensor. */
function eventsOf(hours: number, seed: number, actors: NonNullable<Scenario["actors"]>) {
  const base = scenarios.find(({ name }) => name === "no-line-long")!;
  const { lines } = simulate({ ...base, hours, every: 10, actors }, seed);
  return lines.flatMap(({ estimate }) => estimate.events);
}

describe("re-dials that only the cylinder's pressure can show", () => {
  it("not turned: many short welds, whose times are known to half a minute, are none", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(1, 2, 3)) {
      const events = eventsOf(5, seed, (_p, _r, log) => [
        new Cycle(log, seed, [20, 120], [60, 200]),
      ]);
      expect(events.filter(({ event }) => event === "gas-on").length).toBeGreaterThan(30);
      expect(events.filter(({ event }) => event === "re-dial")).toEqual([]);
    }
  });

  it("turned down by a fifth between long welds: one, in the weld that follows", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(1, 2)) {
      const events = eventsOf(4, seed, (_p, _r, log) => [
        new Cycle(log, seed, [400, 900], [120, 300]),
        reDial(log, 2.5, 0.8),
      ]).filter(({ event }) => event === "re-dial");
      expect(events).toHaveLength(1);
      expect(Math.abs((events[0]!.ratio ?? 0) / 0.8 - 1)).toBeLessThan(0.05);
      expect(Math.abs(events[0]!.t - startUnixS - 2.5 * 3600)).toBeLessThan(900);
    }
  });

  it("turned up: told by as much as the flow that is shown goes up, however late it is seen", {
    tags: ["hours"],
  }, () => {
    const base = scenarios.find(({ name }) => name === "no-line-long")!;
    for (const seed of seeds(2, 3, 6)) {
      const { lines } = simulate(
        {
          ...base,
          hours: 3.2,
          every: 1,
          actors: (_p, _r, log) => [
            new Cycle(log, seed, [500, 900], [120, 300]),
            reDial(log, 1.8, 1.3),
          ],
        },
        seed,
      );
      const shown = lines.map(({ estimate: { flow, expected } }) => flow.lpm || expected?.lpm);
      const at = lines.findIndex(({ estimate }) =>
        estimate.events.some(({ event }) => event === "re-dial"),
      );
      const told = lines[at]!.estimate.events.find(({ event }) => event === "re-dial")!;
      const from = lines.findLastIndex(({ estimate }) => estimate.t <= told.t);
      const ratio = (shown[at] ?? 0) / (shown[from] ?? 0);
      expect(ratio).toBeGreaterThan(1.08);
      expect(Math.abs((told.ratio ?? 0) / ratio - 1)).toBeLessThan(0.004);
    }
  });
});
