import { configSchema } from "@leeward/shared-core/messages/node-messages.ts";
import { expect, it } from "vitest";
import { nodeConfig } from "../../../gateway/run/node-configs.ts";
import { tubeStation } from "../../shared-core/bench/plant-bench.ts";

it("what was calibrated at the node goes with every revision of its settings", () => {
  const twoPoint = { lowReadsBar: 0.4, lowIsBar: 0, highReadsBar: 199, highIsBar: 200 };
  const scale = { lowReads: 12_000, lowIsKg: 0, highReads: 212_000, highIsKg: 50 };
  const station = tubeStation({
    sensors: {
      cylinder: { rangeBar: 250, accuracyPercentFs: 0.5, twoPoint },
      line: { rangeBar: 10, accuracyPercentFs: 0.5 },
      scale,
    },
  });
  const config = configSchema.parse(nodeConfig(station, 7));
  expect(config.revision).toBe(7);
  expect(config.calibration?.cylinder).toEqual({
    rangePa: 25_000_000,
    lowReadsPa: 40_000,
    lowIsPa: 0,
    highReadsPa: 19_900_000,
    highIsPa: 20_000_000,
  });
  expect(config.calibration?.line).toEqual({ fitted: true, rangePa: 1_000_000 });
  expect(config.calibration?.scale).toEqual(scale);
});

it("a calibration upside down is refused where it is written", () => {
  const twoPoint = { lowReadsBar: 100, lowIsBar: 100, highReadsBar: 50, highIsBar: 50 };
  expect(() =>
    tubeStation({ sensors: { cylinder: { rangeBar: 250, accuracyPercentFs: 0.5, twoPoint } } }),
  ).toThrow(/lowIsBar/);
});
