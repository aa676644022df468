import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { expect, test } from "vitest";
import { trusted } from "../../../dashboard/look-back/trust.ts";
import { exampleStations } from "../../../gateway/virtual-shop/example-stations.ts";

const [example] = exampleStations();
if (!example) throw new Error("no example station");
const at = (day: string) => Date.parse(day) / 1000;
const withSensor = (change: Record<string, unknown>): StationDocument => ({
  ...example,
  sensors: {
    ...example.sensors,
    cylinder: { rangeBar: 250, accuracyPercentFs: 0.5, ...change },
  },
});
const cylinder = (change: Record<string, unknown>, day: string) =>
  trusted(withSensor(change), at(day)).find(({ part }) => part === "cylinder");

// A year where no other day is set: common practice, no source.
test.each([
  ["no calibration on record is not overdue, it is none", {}, "2026-11-01", null, false],
  ["within its year", { calibrated: "2026-01-10" }, "2026-11-01", "2026-01-10", false],
  ["a year and a day later", { calibrated: "2025-10-30" }, "2026-11-01", "2025-10-30", true],
  [
    "past the day that was set",
    { calibrated: "2026-01-10", calibrationDue: "2026-07-10" },
    "2026-11-01",
    "2026-01-10",
    true,
  ],
  ["judged at the record's end", { calibrated: "2025-10-30" }, "2026-10-01", "2025-10-30", false],
] as const)("%s", (_name, change, day, tested, overdue) => {
  expect(cylinder(change, day)).toEqual({
    part: "cylinder",
    percent: 0.5,
    testedS: tested === null ? null : at(tested),
    overdue,
  });
});

test("only what is described is listed", () => {
  const { sensors: _, flowDevice: __, ...bare } = example;
  expect(trusted(bare as StationDocument, at("2026-11-01"))).toEqual([]);
});
