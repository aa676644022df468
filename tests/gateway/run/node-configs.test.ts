import { type StationDocument, supplySchema } from "@leeward/shared-core/documents/station.ts";
import { configSchema } from "@leeward/shared-core/messages/node-messages.ts";
import { expect, it } from "vitest";
import { nodeConfig, nodeDuties } from "../../../gateway/run/node-configs.ts";
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
  const config = configSchema.parse(nodeConfig({ station, supply: null }));
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

it("a node that moves gets a revision that it does not have yet, whatever the versions of the stations", () => {
  const at = (rangeBar: number) => {
    const sensors = { cylinder: { rangeBar, accuracyPercentFs: 0.5 } };
    return nodeConfig({ station: tubeStation({ sensors }), supply: null }).revision;
  };
  expect(at(250)).not.toBe(at(400));
  expect(at(250)).toBe(at(250));
  // The node takes 1 to 2147483000.
  for (const rangeBar of [200, 250, 300, 315, 400]) {
    expect(at(rangeBar)).toBeGreaterThanOrEqual(1);
    expect(at(rangeBar)).toBeLessThan(2_147_483_000);
  }
});

it("a node that nobody claims any more keeps no calibration and no limits", () => {
  expect(configSchema.parse(nodeConfig(null))).toMatchObject({ calibration: {}, limits: {} });
});

it("of a shared supply the node at the cylinder gets its sensor, the others their line only", () => {
  const line = { rangeBar: 10, accuracyPercentFs: 0.5 };
  const { cylinder, ...rest } = tubeStation({ sensors: { line } });
  const drop = (station: string, node: string | null) =>
    ({ ...rest, station, node, supply: "ring-1" }) as StationDocument;
  const twoPoint = { lowReadsBar: 0.4, lowIsBar: 0, highReadsBar: 199, highIsBar: 200 };
  const supply = supplySchema.parse({
    ...{ schema: 1, supply: "ring-1", site: rest.site, node: "n-50", kind: "cylinder", cylinder },
    sensors: { cylinder: { rangeBar: 250, accuracyPercentFs: 0.5, twoPoint } },
    drops: ["bay-3", "bay-4"],
  });
  const config = (stations: StationDocument[], node: string, of = supply) =>
    nodeConfig(nodeDuties(stations, [of]).get(node) ?? null).calibration;

  const own = [drop("bay-3", "n-07"), drop("bay-4", "n-08")];
  expect(config(own, "n-50")?.cylinder).toMatchObject({ rangePa: 25_000_000, lowReadsPa: 40_000 });
  expect(config(own, "n-50")?.line).toEqual({ fitted: false });
  for (const node of ["n-07", "n-08"]) {
    expect(config(own, node)?.cylinder).toEqual({ fitted: false });
    expect(config(own, node)?.line).toEqual({ fitted: true, rangePa: 1_000_000 });
  }
  // One node for the cylinder and for the station that has none of its own.
  const shared = [drop("bay-3", "n-07"), drop("bay-4", null)];
  expect(config(shared, "n-50")?.line).toMatchObject({ fitted: true });
  // A supply without a node is measured by its first station's.
  expect(config(own, "n-07", { ...supply, node: null })?.cylinder).toMatchObject({
    lowReadsPa: 40_000,
  });
});

it.each([
  ["too close together", { lowReadsBar: 0.1, lowIsBar: 0, highReadsBar: 30, highIsBar: 30 }],
  ["off by more than a fifth", { lowReadsBar: 0, lowIsBar: 0, highReadsBar: 150, highIsBar: 200 }],
])("points %s, which the node refuses, are refused where they are written", (_name, twoPoint) => {
  expect(() =>
    tubeStation({ sensors: { cylinder: { rangeBar: 250, accuracyPercentFs: 0.5, twoPoint } } }),
  ).toThrow(/twoPoint/);
});

it("a calibration upside down is refused where it is written", () => {
  const twoPoint = { lowReadsBar: 100, lowIsBar: 100, highReadsBar: 50, highIsBar: 50 };
  expect(() =>
    tubeStation({ sensors: { cylinder: { rangeBar: 250, accuracyPercentFs: 0.5, twoPoint } } }),
  ).toThrow(/lowIsBar/);
});
