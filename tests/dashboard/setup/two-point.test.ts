import { type StationDocument, stationSchema } from "@leeward/shared-core/documents/station.ts";
import { describe, expect, test } from "vitest";
import { metricUnits, usUnits } from "../../../dashboard/display/units.ts";
import { checkForm } from "../../../dashboard/setup/checks.ts";
import { afterChange } from "../../../dashboard/setup/other-sensor.ts";
import { documentOf } from "../../../dashboard/setup/setup-document.ts";
import {
  type CalibrationForm,
  formOf,
  noCalibration,
  type SetupForm,
} from "../../../dashboard/setup/setup-form.ts";
import { exampleStations } from "../../../gateway/virtual-shop/example-stations.ts";

const twoPoint = { lowReadsBar: 0.4, lowIsBar: 0, highReadsBar: 199, highIsBar: 200 };

/** A station with a calibrated cylinder sensor of 250 bar and a line sensor of 10 bar. */
function calibrated(): StationDocument {
  return stationSchema.parse({
    ...exampleStations()[0],
    node: "n-07",
    sensors: {
      cylinder: { rangeBar: 250, accuracyPercentFs: 0.5, twoPoint, calibrated: "2026-03-01" },
      line: { rangeBar: 10, accuracyPercentFs: 0.5 },
      scale: { lowReads: 1000, lowIsKg: 0, highReads: 200_000, highIsKg: 50 },
    },
  });
}

const base = calibrated();
const stored = formOf(base, metricUnits);

const sensorsOf = (form: SetupForm, units = metricUnits) =>
  (documentOf(form, base, units) as unknown as StationDocument).sensors;

const typed = (kind: "cylinder" | "line", change: Partial<CalibrationForm>, from = stored) => ({
  ...from,
  [`${kind}Calibration`]: { ...noCalibration, ...change },
});

describe("a calibration in Setup", () => {
  test("stays where it is not touched, and ends where that is chosen", () => {
    expect(sensorsOf(stored)?.cylinder?.twoPoint).toEqual(twoPoint);
    expect(sensorsOf(typed("cylinder", { wish: "none" }))?.cylinder).not.toHaveProperty("twoPoint");
  });

  test("the zero of a sensor without one is taken as it is shown", () => {
    const sensor = sensorsOf(typed("line", { wish: "zero", zeroReads: "0,03" }))?.line;
    expect(sensor?.twoPoint).toEqual({
      lowReadsBar: 0.03,
      lowIsBar: 0,
      highReadsBar: 10.03,
      highIsBar: 10,
    });
  });

  test("what is shown with a calibration in force is stored as without it", () => {
    const form = typed("cylinder", {
      wish: "two",
      lowReads: "0",
      lowIs: "0",
      highReads: "200",
      highIs: "201",
    });
    expect(sensorsOf(form)?.cylinder?.twoPoint).toEqual({ ...twoPoint, highIsBar: 201 });
  });

  test("typed in psi it is stored in bar", () => {
    // 145.038 psi = 10 bar (NIST SP 811).
    const form = typed(
      "line",
      { wish: "two", lowReads: "0.2", lowIs: "0", highReads: "116", highIs: "116.03" },
      formOf(base, usUnits),
    );
    expect(sensorsOf(form, usUnits)?.line?.twoPoint?.highIsBar).toBeCloseTo(8, 3);
  });

  test.each<[string, "cylinder" | "line", Partial<CalibrationForm>, string[]]>([
    ["nothing typed yet", "line", { wish: "zero" }, ["zeroReads needed"]],
    ["words", "line", { wish: "zero", zeroReads: "nought" }, ["zeroReads no-number"]],
    [
      "a zero that is pressure",
      "line",
      { wish: "zero", zeroReads: "0.6" },
      ["zeroReads zero-too-far"],
    ],
    [
      "points too close",
      "line",
      { wish: "two", lowReads: "0", lowIs: "0", highReads: "1.5", highIs: "1.5" },
      ["highIs points-too-close"],
    ],
    [
      "a sensor that is off by a quarter",
      "line",
      { wish: "two", lowReads: "0", lowIs: "0", highReads: "6", highIs: "8" },
      ["highReads span-off"],
    ],
    [
      "a gauge above the range",
      "line",
      { wish: "two", lowReads: "0", lowIs: "0", highReads: "12", highIs: "12" },
      ["highIs gauge-above-range"],
    ],
    [
      "a gauge below the air",
      "line",
      { wish: "two", lowReads: "0", lowIs: "-1", highReads: "8", highIs: "8" },
      ["lowIs not-positive"],
    ],
    ["left alone", "line", { zeroReads: "nought" }, []],
  ])("%s is told at its field, and not saved", (_name, kind, change, faults) => {
    const checked = checkForm(typed(kind, change), base, metricUnits, new Set(), "2026-11-27");
    expect(checked.faults.map(({ text, fault }) => `${text} ${fault}`)).toEqual(faults);
    expect(checked.document === null).toBe(faults.length > 0);
  });
});

describe("a calibration is of one sensor at one node", () => {
  const changed = (...changes: Partial<SetupForm>[]) =>
    changes.reduce<SetupForm>((now, one) => afterChange(now, one, base, metricUnits), stored);

  test.each<[string, Partial<SetupForm>]>([
    ["another range", { cylinderRange: "400" }],
    ["another class", { cylinderAccuracy: "1" }],
    ["replaced by one of the same make", { cylinderReplaced: true }],
    ["another node", { node: "n-99" }],
    ["the node taken away", { node: "" }],
  ])("%s: neither its points nor its day are inherited", (_name, change) => {
    const form = changed(change);
    expect(form.cylinderCalibrated).toBe("");
    expect(sensorsOf(form)?.cylinder).not.toHaveProperty("twoPoint");
    expect(sensorsOf(form)?.cylinder).not.toHaveProperty("calibrated");
  });

  test("a scale's counts go with their node", () => {
    expect(sensorsOf(stored)?.scale).toBeDefined();
    expect(sensorsOf(changed({ node: "n-99" }))).not.toHaveProperty("scale");
  });

  test("what is taken back gives back what was", () => {
    expect(changed({ node: "n-99" }, { node: "n-07" })).toEqual(stored);
    expect(changed({ cylinderReplaced: true }, { cylinderReplaced: false })).toEqual(stored);
  });

  test("of a replaced sensor its own calibration counts from the next time that Setup is open", () => {
    // Until then the node may still show with the old one's points.
    const form = typed(
      "cylinder",
      { wish: "zero", zeroReads: "0.2" },
      changed({ cylinderReplaced: true }),
    );
    expect(sensorsOf(form)?.cylinder).not.toHaveProperty("twoPoint");
  });

  test("a node that brings its sensors along brings their calibration", () => {
    const sensors = { cylinder: { rangeBar: 300, accuracyPercentFs: 0.25, twoPoint } };
    const form = { ...changed({ node: "n-50" }), carried: { node: "n-50", sensors } };
    const moved = { ...form, cylinderRange: "300", cylinderAccuracy: "0.25", lineSensor: false };
    expect(sensorsOf(moved)?.cylinder?.twoPoint).toEqual(twoPoint);
    expect(sensorsOf({ ...moved, node: "n-51" })?.cylinder).not.toHaveProperty("twoPoint");
  });
});
