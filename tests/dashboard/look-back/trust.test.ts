import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { describe, expect, test } from "vitest";
import { lookBack as english } from "../../../dashboard/language/english/look-back.ts";
import { lookBack as german } from "../../../dashboard/language/german/look-back.ts";
import { lookBack as spanish } from "../../../dashboard/language/spanish/look-back.ts";
import { trusted } from "../../../dashboard/look-back/trust.ts";
import { trustText } from "../../../dashboard/look-back/trust-text.ts";
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
  trusted(withSensor(change), at(day), "UTC").find(({ part }) => part === "cylinder");

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
    onlyAfter: false,
    ofSupply: false,
  });
});

describe("a calibration after the record says nothing of the record", () => {
  test.each([
    ["months after it", "2026-11-20", "2026-06-01T00:00:00Z", "UTC", true],
    ["a day that was never yet", "2099-01-01", "2026-06-01T00:00:00Z", "UTC", true],
    ["the day after", "2026-06-02", "2026-06-01T23:00:00Z", "UTC", true],
    ["the same day", "2026-06-01", "2026-06-01T10:00:00Z", "UTC", false],
    // By the shop's days, not by UTC's: 22:00 there, and 08:00 of the next day.
    [
      "the day after, in the west",
      "2026-06-02",
      "2026-06-02T05:00:00Z",
      "America/Los_Angeles",
      true,
    ],
    ["the same day, in the east", "2026-06-02", "2026-06-01T20:00:00Z", "Pacific/Auckland", false],
  ])("%s", (_name, calibrated, end, zone, onlyAfter) => {
    const rows = trusted(withSensor({ calibrated }), at(end), zone);
    expect(rows.find(({ part }) => part === "cylinder")?.onlyAfter).toBe(onlyAfter);
  });

  test("of the flow device's bench test too", () => {
    const { flowDevice } = example;
    const fit = { date: "2026-11-20" };
    const tested = { ...example, flowDevice: { ...flowDevice, fit } } as StationDocument;
    const device = (day: string) =>
      trusted(tested, at(day), "UTC").find(({ part }) => part === "device")?.onlyAfter;
    expect(device("2026-06-01")).toBe(true);
    expect(device("2026-11-21")).toBe(false);
  });

  test.each([
    ["English", english, "within 0.50 % of its range, calibrated only after this record, on DAY"],
    [
      "German",
      german,
      "auf 0.50 % seines Messbereichs genau, erst nach dieser Aufzeichnung kalibriert, am DAY",
    ],
    [
      "Spanish",
      spanish,
      "exacto al 0.50 % de su rango, calibrado solo después de este registro, el DAY",
    ],
  ])("in %s", (_name, text, said) => {
    const row = cylinder({ calibrated: "2026-11-20" }, "2026-06-01");
    expect(row && trustText(row, text.trust, () => "DAY")).toBe(said);
  });
});

test.each([
  ["English", english, "not known"],
  ["German", german, "nicht bekannt"],
  ["Spanish", spanish, "no se conoce"],
])("a shared supply's cylinder sensor is listed as unknown, in %s", (_name, text, unknown) => {
  const { cylinder: _, sensors, ...rest } = example;
  const atSupply = { ...rest, supply: "ring-1", sensors: { line: sensors?.line } };
  const rows = trusted(atSupply as StationDocument, at("2026-11-01"), "UTC");
  expect(rows[0]).toMatchObject({ part: "cylinder", testedS: null, ofSupply: true });
  expect(rows[0] && trustText(rows[0], text.trust, String)).toContain(unknown);
});

test("only what is described is listed", () => {
  const { sensors: _, flowDevice: __, ...bare } = example;
  expect(trusted(bare as StationDocument, at("2026-11-01"), "UTC")).toEqual([]);
});
