import { describe, expect, it } from "vitest";
import type { SensorFault } from "../../../gateway/virtual-shop/plant/sensors.ts";
import { Cycle } from "../../accuracy/cycle.ts";
import { once, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { tigStation } from "../../accuracy/stations.ts";
import { seeds } from "../../hours.ts";

const BREAK_S = startUnixS + 1500;

/** A welder in rhythm whose line sensor breaks in the middle of a spell. */
function broken(fault: SensorFault, seed: number, mendS = Number.POSITIVE_INFINITY) {
  return simulate(
    {
      name: "broken line",
      about: "",
      every: 1,
      hours: 0.7,
      station: tigStation(),
      variation: () => ({}),
      actors: (_plant, _reporter, log) => [
        new Cycle(log, seed, [60, 120], [30, 60], 60),
        ...[
          { t: BREAK_S, value: fault },
          { t: mendS, value: null },
        ].map(({ t, value }) =>
          once(t, (plant) => {
            const line = plant.sensors.lines[0];
            if (line) line.fault = value;
          }),
        ),
      ],
      start: (plant) => plant.setTrueFlow(8),
    },
    seed,
  ).lines;
}

describe("a line sensor that breaks", () => {
  it.each(["open", "short"] as const)(
    "%s: nothing rests on it from then on",
    { tags: ["hours"] },
    (fault) => {
      for (const seed of seeds(1, 2, 3)) {
        const lines = broken(fault, seed);
        const before = lines.filter(
          ({ estimate }) => estimate.t < BREAK_S && estimate.t > BREAK_S - 600,
        );
        expect(before.some(({ estimate }) => estimate.flow.basis === "line-pressure")).toBe(true);
        // A pack every two seconds carries the fault; a node in doubt waits two turns.
        const after = lines.filter(({ estimate }) => estimate.t > BREAK_S + 4);
        expect(after.length).toBeGreaterThan(600);
        for (const { estimate } of after) {
          expect(estimate.measured?.linePa).toBeNull();
          expect(estimate.flow.basis).not.toBe("line-pressure");
          expect(estimate.dialTo).toMatchObject({ reading: null });
          expect(estimate.dialTo.why).toContain("sensor is out");
        }
      }
    },
  );

  it("the cylinder goes on telling the flow", { tags: ["hours"] }, () => {
    let flowing = 0;
    let held = 0;
    const tried = seeds(1, 2, 3);
    for (const seed of tried) {
      for (const { estimate, truth } of broken("open", seed)) {
        if (estimate.t < BREAK_S + 5 || estimate.flow.basis !== "cylinder") continue;
        if (!truth.gasOn) continue;
        flowing++;
        if (estimate.flow.low! <= truth.flowLpm && truth.flowLpm <= estimate.flow.high!) held++;
      }
    }
    expect(flowing).toBeGreaterThan(200 * tried.length);
    expect(held / flowing).toBeGreaterThan(0.93);
  });

  it("is believed again when it is mended", () => {
    const lines = broken("open", 1, BREAK_S + 300);
    const later = lines.filter(({ estimate }) => estimate.t > BREAK_S + 400);
    expect(later.every(({ estimate }) => estimate.measured?.linePa !== null)).toBe(true);
    expect(later.some(({ estimate }) => estimate.flow.basis === "line-pressure")).toBe(true);
    const on = later.filter(({ truth }) => truth.gasOn);
    const right = on.filter(({ estimate }) => estimate.mode === "flowing").length;
    expect(right / on.length).toBeGreaterThan(0.95);
  });

  it("that repeats one reading is found out within three minutes of use", () => {
    const lines = broken("stuck", 2);
    const at = lines.find(({ estimate }) =>
      estimate.events.some(({ event, fault }) => event === "sensor-fault" && fault === "stuck"),
    )?.estimate.t;
    expect(at).toBeDefined();
    expect(at! - BREAK_S).toBeLessThan(180);
    const after = lines.filter(({ estimate }) => estimate.t > at!);
    expect(after.every(({ estimate }) => estimate.measured?.linePa === null)).toBe(true);
  });
});
