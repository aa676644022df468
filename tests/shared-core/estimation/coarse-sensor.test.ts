import { describe, expect, it } from "vitest";
import type { PlantConfig } from "../../../gateway/virtual-shop/plant/config.ts";
import { Cycle } from "../../accuracy/cycle.ts";
import { once, type Run, type Scenario, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { tigStation } from "../../accuracy/stations.ts";

/** A cylinder sensor that tells whole steps of 0.5 or 1 bar: a small ADC, or a gauge's digits. */
interface Coarse {
  stepBar: number;
  litres: number;
  line: boolean;
  hours?: number;
  /** The sensor gets stuck so long after the start, s. */
  stuckS?: number;
}

function coarse({ stepBar, litres, line, hours = 1.75, stuckS }: Coarse, seed: number): Run {
  const scenario: Scenario = {
    name: "coarse-sensor",
    about: "",
    hours,
    every: 5,
    station: tigStation({
      cylinder: { waterVolumeL: litres },
      ...(line ? {} : { sensors: { line: undefined } }),
    }),
    variation: () => ({ presentBar: 170 }),
    alter: (config: PlantConfig) => {
      config.sensors.cylinder.stepPa = stepBar * 1e5;
    },
    actors: (_plant, _reporter, log, n) => [
      new Cycle(log, n, [60, 240], [30, 120]),
      ...(stuckS === undefined
        ? []
        : [
            once(startUnixS + stuckS, (plant) => {
              plant.sensors.cylinder.fault = "stuck";
            }),
          ]),
    ],
  };
  return simulate(scenario, seed);
}

/** Everything that was told of sensors, valves, turned floats, and alarms. */
function told({ lines }: Run): string[] {
  return lines.flatMap(({ estimate }) => [
    ...estimate.events.map(({ event }) => event).filter((event) => !event.startsWith("gas-o")),
    ...estimate.alarms.map(({ condition }) => condition),
  ]);
}

describe("a cylinder sensor that tells whole bars or halves of them", () => {
  const sensors = [0.5, 1].flatMap((stepBar) =>
    [10, 20, 50].map((litres) => [stepBar, litres] as const),
  );

  it.each(sensors)(
    "with a line sensor, %s bar on %i L: the flow reads right and nothing is told that is not",
    (stepBar, litres) => {
      for (const seed of [1, 2]) {
        const run = coarse({ stepBar, litres, line: true }, seed);
        expect(told(run)).toEqual([]);
        const flowing = run.lines.filter(
          ({ estimate: { t, mode, flow }, truth }) =>
            t > startUnixS + 1500 && mode === "flowing" && flow.lpm !== null && truth.flowLpm > 5,
        );
        expect(flowing.length).toBeGreaterThan(400);
        const errors = flowing.map(({ estimate, truth }) => estimate.flow.lpm! / truth.flowLpm - 1);
        const bias = errors.reduce((sum, error) => sum + error, 0) / errors.length;
        expect(Math.abs(bias)).toBeLessThan(0.04);
        const held = flowing.filter(
          ({ estimate: { flow }, truth }) =>
            flow.low! <= truth.flowLpm && truth.flowLpm <= flow.high!,
        );
        expect(held.length / flowing.length).toBeGreaterThan(0.93);
      }
    },
  );

  it.each(sensors)(
    "without one, %s bar on %i L: when gas flows is unknown in working hours, with the reason, and no alarm rings",
    (stepBar, litres) => {
      const run = coarse({ stepBar, litres, line: false }, 2);
      // A small cylinder does empty.
      const alarms = told(run).filter((one) => !["cylinder-low", "runs-out-soon"].includes(one));
      expect(alarms).toEqual([]);
      // From 7:00 on, UTC.
      const late = run.lines.filter(({ estimate }) => estimate.t > startUnixS + 2100);
      expect(late.length).toBeGreaterThan(500);
      for (const { estimate, truth } of late) {
        expect(estimate.mode).toBe("unknown");
        expect(estimate.flow.lpm).toBeNull();
        expect(estimate.flow.why).toContain("coarse steps");
        const { low, high } = estimate.content;
        expect(low!).toBeLessThan(truth.contentLitres);
        expect(high!).toBeGreaterThan(truth.contentLitres);
      }
    },
  );

  it("that gets stuck is told within ten minutes of gas-on", () => {
    for (const stepBar of [0.5, 1]) {
      const stuckS = 4000;
      const run = coarse({ stepBar, litres: 50, line: true, hours: 1.75, stuckS }, 1);
      const at = run.lines.find(({ estimate }) =>
        estimate.events.some(({ event, fault }) => event === "sensor-fault" && fault === "stuck"),
      )?.estimate.t;
      expect(at).toBeGreaterThan(startUnixS + stuckS);
      const gasOnS = run.lines.filter(
        ({ truth }) => truth.gasOn && truth.t > startUnixS + stuckS && truth.t < at!,
      );
      expect((5 * gasOnS.length) / 60).toBeLessThan(10);
    }
  });
});
