import { stationSchema } from "@leeward/shared-core/documents/station.ts";
import { describe, expect, test } from "vitest";
import { metricUnits } from "../../../dashboard/display/units.ts";
import { checkForm } from "../../../dashboard/setup/checks.ts";
import { afterChange } from "../../../dashboard/setup/other-sensor.ts";
import { documentOf } from "../../../dashboard/setup/setup-document.ts";
import { formOf, type SetupForm } from "../../../dashboard/setup/setup-form.ts";
import { exampleStation } from "../../gateway/support.ts";

const scale = { lowReads: 1000, lowIsKg: 0, highReads: 200_000, highIsKg: 50 };
const base = stationSchema.parse({
  ...exampleStation(),
  cylinder: {
    ...{ gas: "C1-C", composition: { CO2: 1 }, waterVolumeL: 40, count: 1 },
    ...{ filledKg: 30, tareKg: 42.5 },
  },
  sensors: { ...exampleStation().sensors, scale: { ...scale, maker: "as stored" } },
});
const stored = formOf(base, metricUnits);
const scaleOf = (form: SetupForm) =>
  (documentOf(form, base, metricUnits).sensors as { scale?: object }).scale;
const changed = (change: Partial<SetupForm>, from = stored) =>
  afterChange(from, change, base, metricUnits);

describe("two points of the scale under a cylinder", () => {
  test("stand in the form, and what it does not ask stays", () => {
    expect(stored).toMatchObject({ weighLowReads: "1000", weighLowIs: "0", weighHighIs: "50" });
    expect(scaleOf(stored)).toEqual({ ...scale, maker: "as stored" });
    expect(scaleOf(changed({ weighHighIs: "49,5" }))).toMatchObject({ highIsKg: 49.5 });
  });

  test("go where all are emptied", () => {
    const none = { weighLowReads: "", weighLowIs: "", weighHighReads: "", weighHighIs: "" };
    expect(scaleOf(changed(none))).toBeUndefined();
  });

  test("go with their node, come back with it, and those of the new node are kept", () => {
    const other = changed({ node: "n-99" });
    expect(other).toMatchObject({ weighLowReads: "", weighHighIs: "" });
    expect(scaleOf(other)).toBeUndefined();
    expect(changed({ node: base.node ?? "" }, other)).toEqual(stored);
    const typed = { weighLowReads: "-20", weighLowIs: "0", weighHighReads: "9000" };
    expect(scaleOf(changed({ ...typed, weighHighIs: "20" }, other))).toMatchObject({
      ...{ lowReads: -20, highReads: 9000, highIsKg: 20 },
    });
  });

  // The limits are those of the node's own refusal, firmware/src/node-config.ts.
  test.each<[string, Partial<SetupForm>, string[]]>([
    ["half typed", { weighHighReads: "" }, ["weighHighReads needed"]],
    ["no number", { weighLowReads: "x" }, ["weighLowReads no-number"]],
    ["less than nothing on it", { weighLowIs: "-1" }, ["weighLowIs not-positive"]],
    ["4.9 kg apart", { weighHighIs: "4.9" }, ["weighHighIs loads-too-close"]],
    ["5 kg apart", { weighHighIs: "5" }, []],
    ["99 counts apart", { weighHighReads: "1099" }, ["weighHighIs loads-too-close"]],
    ["100 counts apart", { weighHighReads: "1100" }, []],
    ["counting down", { weighHighReads: "-200000" }, []],
  ])("%s is told at its field", (_name, change, faults) => {
    const form = changed(change);
    const checked = checkForm(form, base, metricUnits, new Set(), "2026-11-27");
    expect(checked.faults.map(({ field, fault }) => `${field} ${fault}`)).toEqual(faults);
    expect(checked.document === null).toBe(faults.length > 0);
  });
});
