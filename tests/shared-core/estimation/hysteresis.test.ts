import { describe, expect, it } from "vitest";
import { scenarios } from "../../accuracy/scenarios.ts";
import { score } from "../../accuracy/score.ts";
import { type Scenario, simulate } from "../../accuracy/simulate.ts";
import { cases, seeds } from "../../hours.ts";

describe("hysteresis of the cylinder's sensor", () => {
  // Half-widths, share of the range: orders of magnitude of common transducers, no source.
  it.each(cases(2, [0.0004, 0.00015, 0, 0.0007]))(
    "of %f hardly touches the flow of short welds",
    { tags: ["hours"] },
    (half) => {
      const short = scenarios.find(({ name }) => name === "short-welds")!;
      for (const seed of seeds(1, 3)) {
        const alter: Scenario["alter"] = (config) => {
          config.sensors.cylinder.hysteresis = half;
        };
        const { flowLearnt, flowBand } = score(simulate({ ...short, alter }, seed));
        expect(flowLearnt.n).toBeGreaterThan(50);
        // With one play of 0.04 %: -9 and -6 % at 0.00015, and the truth held in a tenth of the time.
        expect(Math.abs(flowLearnt.sum / flowLearnt.n)).toBeLessThan(0.02);
        expect(flowBand.inside / flowBand.widths).toBeGreaterThan(0.93);
      }
    },
  );
});
