import { describe, expect, it } from "vitest";
import type { StationEvent } from "../../../shared-core/estimation/estimate.ts";
import { scenarios } from "../../accuracy/scenarios.ts";
import { score } from "../../accuracy/score.ts";
import { simulate } from "../../accuracy/simulate.ts";
import { seeds } from "../../hours.ts";

const isFault = ({ event }: StationEvent): boolean => event === "sensor-fault";

describe("a workshop door that is opened in winter", () => {
  it("turns no float: air that changes is told from a flow that changes", {
    tags: ["hours"],
  }, () => {
    const door = scenarios.find(({ name }) => name === "door-open")!;
    for (const seed of seeds(1, 2)) {
      const run = simulate(door, seed);
      const { falseReDials, flowBand } = score(run);
      // A float was told as turned by half, and the interval held the truth in 60 to 80 %.
      expect(falseReDials).toBe(0);
      expect(flowBand.inside / flowBand.widths).toBeGreaterThan(0.9);
      // Nor has the probe come off, which shows the air like a door does.
      expect(run.lines.flatMap(({ estimate }) => estimate.events.filter(isFault))).toEqual([]);
    }
  });
});
