import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { expect, it } from "vitest";
import { emptySheet, readSheet, sheetCsv, withRow } from "../../../dashboard/bench/sheet.ts";
import { metricUnits, usUnits } from "../../../dashboard/display/units.ts";

it("heads the columns in the user's units, the reading in the device's", () => {
  expect(emptySheet(usUnits, "L/min").head).toEqual([
    "cylinder_psi",
    "line_psi",
    "indicated",
    "true_cfh",
    "true_u_percent",
    "action",
  ]);
});

it("reads CSV as it stands and writes the same, without comment lines", () => {
  const text = "cylinder_bar,indicated,true_lpm,action\n# a note\n150,8,7.6,set\n100,8,,left\n";
  const sheet = readSheet(text);
  expect(sheet && sheetCsv(sheet)).toBe(text.replace("# a note\n", ""));
  expect(readSheet("# nothing\n")).toBeNull();
});

it("adds a taken row in place of an empty one, and columns that were missing", () => {
  const sheet = withRow(emptySheet(metricUnits, "L/min"), {
    cylinder_psi: "2000",
    indicated: "8",
    true_lpm: "7.6",
    action: "set",
  });
  expect(sheet.rows).toEqual([["", "", "8", "7.6", "", "set", "2000"]]);
  // Two columns for one pressure are refused in words, not mixed up.
  const read = parseBenchCsv(sheetCsv(sheet), { Ar: 1 });
  expect(read.ok ? "" : read.faults.join()).toContain("say the same thing");
});

it("leaves out rows in which nothing was written", () => {
  expect(sheetCsv(emptySheet(metricUnits, "CFH")).trim().split("\n")).toHaveLength(1);
});
