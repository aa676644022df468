import { parseDocument } from "@leeward/shared-core/documents/parse.ts";
import { type StationDocument, stationSchema } from "@leeward/shared-core/documents/station.ts";
import { describe, expect, test } from "vitest";
import { metricUnits, usUnits } from "../../../dashboard/display/units.ts";
import { setup as english } from "../../../dashboard/language/english/setup.ts";
import { setup as german } from "../../../dashboard/language/german/setup.ts";
import { setup as spanish } from "../../../dashboard/language/spanish/setup.ts";
import { checkForm, gapsOf } from "../../../dashboard/setup/checks.ts";
import { commonGases } from "../../../dashboard/setup/gas-list.ts";
import { readNodeCode } from "../../../dashboard/setup/node-code.ts";
import { afterChange } from "../../../dashboard/setup/other-sensor.ts";
import { documentOf, gasOf } from "../../../dashboard/setup/setup-document.ts";
import { formOf, newForm, type SetupForm, unstamped } from "../../../dashboard/setup/setup-form.ts";
import { stationName } from "../../../dashboard/setup/station-name.ts";
import {
  pressureShown,
  temperatureShown,
  typedBar,
  typedCelsius,
} from "../../../dashboard/setup/typed.ts";
import { exampleStations } from "../../../gateway/virtual-shop/example-stations.ts";

const nobody = new Set<string>();
const today = "2026-11-27";

/** A form filled in as a careful person would, with changes. */
function filled(change: Partial<SetupForm> = {}): SetupForm {
  return {
    ...newForm("north", "n-19", metricUnits),
    name: "Bay 9",
    gas: "I1-Ar",
    delivery: "3.5",
    relief: "12",
    device: "variable-area",
    scalePressure: "3.5",
    scaleMax: "16",
    cylinderRange: "250",
    cylinderProof: "500",
    lineRange: "10",
    lineProof: "30",
    process: "GTAW",
    material: "stainless",
    cup: "7",
    ...change,
  };
}

test("a tick at the stamped volume that is taken back leaves what was held before", () => {
  const station = exampleStations("north").find(({ cylinder }) => cylinder);
  if (!station?.cylinder) throw new Error("no example has a cylinder of its own");
  // 1 % is neither stamped (0.5) nor of a catalogue (2): the document's convention, no published source.
  const withUPercent = (waterVolumeUPercent: number | undefined) =>
    ({ ...station, cylinder: { ...station.cylinder, waterVolumeUPercent } }) as StationDocument;
  const takenBack = (base: StationDocument) => {
    const form = { ...formOf(base, metricUnits), volumeFrom: "stamped" as const };
    const volumeFrom = unstamped(form, base, metricUnits);
    return (documentOf({ ...form, volumeFrom }, base, metricUnits) as unknown as StationDocument)
      .cylinder?.waterVolumeUPercent;
  };
  expect(takenBack(withUPercent(1))).toBe(1);
  expect(takenBack(withUPercent(undefined))).toBe(undefined);
  expect(takenBack(withUPercent(2))).toBe(2);
  // What was stored as stamped and is so no longer was read off no cylinder.
  expect(takenBack(withUPercent(0.5))).toBe(2);
  expect(unstamped({ volumeFrom: "" }, null, metricUnits)).toBe("");
  expect(unstamped({ volumeFrom: "stamped" }, null, metricUnits)).toBe("catalogue");
});

test("a water volume that nobody has read counts as a catalogue's, 2 %", () => {
  const uPercent = (change: Partial<SetupForm>) =>
    checkForm(filled(change), null, metricUnits, nobody, today).document?.cylinder
      ?.waterVolumeUPercent;
  // A scale under liquid CO2 weighs the cylinder too: its tare is typed, and left out where there is none.
  const liquid = (change: Partial<SetupForm>) =>
    checkForm(filled({ gas: "C1-C", filledKg: "30", ...change }), null, metricUnits, nobody, today)
      .document?.cylinder;
  expect(liquid({ tareKg: "42.5" })).toMatchObject({ filledKg: 30, tareKg: 42.5 });
  expect(liquid({})).not.toHaveProperty("tareKg");
  // 0.5 and 2 %: the station document's own convention, no published source.
  expect(uPercent({})).toBe(2);
  expect(uPercent({ volumeFrom: "stamped" })).toBe(0.5);
});

test("a cylinder sensor below the filling is a fault of its own field, whatever is missing elsewhere", () => {
  const faults = (change: Partial<SetupForm>) =>
    checkForm(filled(change), null, metricUnits, nobody, today).faults;
  expect(faults({ cylinderRange: "160" })).toEqual([
    { field: "cylinderRange", step: "sensors", fault: "cylinder-range-below-filling" },
  ]);
  expect(faults({ cylinderRange: "250" })).toEqual([]);
  // Liquid CO2 is told by its mass: its pressure is judged at 55 °C.
  expect(faults({ cylinderRange: "160", gas: "C1-C", filledKg: "37.5" })).toEqual([]);
});

describe("the day of a sensor's calibration", () => {
  const sensorOf = (base: StationDocument, day: string) => {
    const form = { ...formOf(base, metricUnits), cylinderCalibrated: day };
    return checkForm(form, base, metricUnits, nobody, today).document?.sensors?.cylinder;
  };
  const made = checkForm(
    filled({ cylinderCalibrated: "2026-03-01" }),
    null,
    metricUnits,
    nobody,
    today,
  ).document;
  if (!made?.sensors?.cylinder) throw new Error("the form makes no station");
  const base: StationDocument = {
    ...made,
    sensors: {
      ...made.sensors,
      cylinder: { ...made.sensors.cylinder, calibrationDue: "2026-09-01" },
    },
  };

  test("is kept as it is typed, and as it stands where it is not touched", () => {
    expect(made.sensors?.cylinder?.calibrated).toBe("2026-03-01");
    expect(made.sensors?.line?.calibrated).toBeUndefined();
    expect(formOf(base, metricUnits).cylinderCalibrated).toBe("2026-03-01");
    expect(sensorOf(base, "2026-03-01")).toMatchObject({ calibrationDue: "2026-09-01" });
  });

  test("a new one ends the day on which the one before was due", () => {
    const renewed = sensorOf(base, "2026-08-20");
    expect(renewed?.calibrated).toBe("2026-08-20");
    expect(renewed?.calibrationDue).toBeUndefined();
    expect(sensorOf(base, "")?.calibrated).toBeUndefined();
  });

  test.each([
    ["today is the last that can be", { cylinderCalibrated: "2026-11-27" }, []],
    ["a day to come is refused", { cylinderCalibrated: "2026-11-28" }, ["cylinderCalibrated"]],
    ["of the line sensor too", { lineCalibrated: "2099-01-01" }, ["lineCalibrated"]],
    ["but not where none is fitted", { lineCalibrated: "2099-01-01", lineSensor: false }, []],
  ])("%s", (_name, change, fields) => {
    const checked = checkForm(filled(change), null, metricUnits, nobody, today);
    expect(checked.faults).toEqual(
      fields.map((field) => ({ field, step: "sensors", fault: "calibrated-in-future" })),
    );
    expect(checked.document === null).toBe(fields.length > 0);
  });

  describe("with another range or class it is another sensor", () => {
    const form = formOf(base, metricUnits);
    const changed = (...changes: Partial<SetupForm>[]) =>
      changes.reduce<SetupForm>((now, one) => afterChange(now, one, base, metricUnits), form);
    test.each([
      ["range", { cylinderRange: "400" }],
      ["class", { cylinderAccuracy: "1" }],
    ])("%s: the old one's day and due day are not inherited", (_name, change) => {
      const other = changed(change);
      expect(other.cylinderCalibrated).toBe("");
      const { document } = checkForm(other, base, metricUnits, nobody, today);
      expect(document?.sensors?.cylinder).not.toHaveProperty("calibrated");
      expect(document?.sensors?.cylinder).not.toHaveProperty("calibrationDue");
    });
    test("its own day, typed after that, stays, the same day too, without the old one's due day", () => {
      const other = changed({ cylinderRange: "400" }, { cylinderCalibrated: "2026-03-01" });
      const sensor = checkForm(other, base, metricUnits, nobody, today).document?.sensors?.cylinder;
      expect(sensor).toMatchObject({ rangeBar: 400, calibrated: "2026-03-01" });
      expect(sensor).not.toHaveProperty("calibrationDue");
    });
    test("a slip that is typed back is the sensor that was", () => {
      expect(changed({ cylinderRange: "25" }, { cylinderRange: "250" })).toEqual(form);
      expect(changed({ cylinderProof: "600" }).cylinderCalibrated).toBe("2026-03-01");
    });
  });

  test.each([
    ["English", english, /still to come/],
    ["German", german, /liegt noch vor uns/],
    ["Spanish", spanish, /aún no ha llegado/],
  ])("why a day to come is refused, in %s", (_name, text, why) => {
    expect(text.faults["calibrated-in-future"]).toMatch(why);
  });
});

describe("a station's name", () => {
  test.each([
    ["Slipway 3", "slipway-3"],
    ["  Bay  (north) ", "bay-north"],
    ["Größe", "grosse"],
    ["!!!", null],
    ["x".repeat(50), "x".repeat(32)],
  ])("%s is %s", (name, station) => {
    expect(stationName(name)).toBe(station);
  });
});

describe("codes on nodes", () => {
  test.each([
    ["n-07", { site: "north", node: "n-07" }],
    [" N-07 ", { site: "north", node: "n-07" }],
    ["south/n-07", { site: "south", node: "n-07" }],
    ["south.n-07", { site: "south", node: "n-07" }],
    ["south/n-07/K7QF-9M2X-0000-1111-2222-3333", { site: "south", node: "n-07" }],
    ["https://gas.example/#/setup/node/south.n-07", { site: "south", node: "n-07" }],
    ["", null],
    ["a/b/c/d", null],
    ["https://example.org/", null],
    ["bay 3", null],
  ])("%j", (code, found) => {
    expect(readNodeCode(code, "north")).toEqual(found);
  });
});

describe("a new station", () => {
  test("nothing is claimed to be known: the gas is asked for, and nothing can be saved before", () => {
    const checked = checkForm(
      newForm("north", "n-19", metricUnits),
      null,
      metricUnits,
      nobody,
      today,
    );
    expect(checked.document).toBeNull();
    expect(checked.faults.map((one) => one.field)).toEqual(["name", "gas"]);
  });

  const cases = commonGases.flatMap((gas) =>
    (["variable-area", "orifice-gauge", "metered"] as const).flatMap((device) =>
      (["GTAW", "GMAW", "FCAW-G"] as const).map((process) => ({ gas, device, process })),
    ),
  );
  test.each(cases)("is a valid description with $gas, $device, $process", (choice) => {
    const form = filled({
      ...choice,
      filledKg: choice.gas === "C1-C" ? "37.5" : "",
      dialPressure: "3.5",
      dialReading: "15",
      cup: choice.process === "GTAW" ? "7" : "",
      nozzleBore: choice.process === "GTAW" ? "" : "16",
    });
    const checked = checkForm(form, null, metricUnits, nobody, today);
    expect(checked.faults).toEqual([]);
    expect(checked.others).toEqual([]);
    expect(checked.document).toMatchObject({
      station: "bay-9",
      node: "n-19",
      cylinder: { gas: choice.gas, composition: gasOf(choice.gas) },
      flowDevice: { kind: choice.device },
      procedure: { process: choice.process },
    });
  });

  test("typed in psi and °F it is stored in bar and °C", () => {
    const form: SetupForm = {
      ...newForm("north", "n-19", usUnits),
      name: "Bay 9",
      gas: "I1-Ar",
      delivery: "50",
      cylinderRange: "4000",
    };
    const { document } = checkForm(form, null, usUnits, nobody, today);
    // 2640 psi = 182.022 bar, 50 psi = 3.44738 bar (NIST SP 811); 70 °F = 21.11 °C.
    expect(document?.cylinder).toMatchObject({
      filledBar: 182.022,
      filledC: expect.closeTo(21.11, 2),
    });
    expect(document?.regulator?.deliveryBar).toBeCloseTo(3.44738, 4);
    expect(document?.sensors?.cylinder?.rangeBar).toBeCloseTo(275.79, 2);
  });

  test("what is filled in beforehand reads as one would type it", () => {
    const { residual, filledTemperature } = newForm("north", "n-19", usUnits);
    expect({ residual, filledTemperature }).toEqual({ residual: "50", filledTemperature: "70" });
  });

  // psi of a bar and back: NIST SP 811. The held value must not move by what is shown of it.
  test.each([
    [3.45, "50"],
    [4.82618, "70"],
    [0.5, "7.25"],
    [3.5, "50.8"],
    [200, "2901"],
    [0, "0"],
  ])("%d bar is shown as %s psi and is still held", (bar, shown) => {
    expect(pressureShown(bar, "psi")).toBe(shown);
    expect(typedBar(shown, "psi", bar)).toBe(bar);
  });

  test("21.11 °C is shown as 70 °F and is still held", () => {
    expect(temperatureShown(21.11, "F")).toBe("70");
    expect(typedCelsius("70", "F", 21.11)).toBe(21.11);
    expect(typedCelsius("71", "F", 21.11)).toBeCloseTo(21.667, 3);
  });

  test.each<[string, Partial<SetupForm>, string]>([
    ["no number", { filled: "zwei" }, "filled no-number"],
    ["below nothing", { waterVolume: "-5" }, "waterVolume not-positive"],
    ["a name that is taken", { name: "Bay 3" }, "name name-taken"],
    ["a gas that is none", { gas: "M21-Ar" }, "gas no-gas"],
    ["no gas yet", { gas: " " }, "gas gas-not-chosen"],
    ["residual above full", { residual: "210" }, "residual residual-not-below"],
    ["a line sensor below the line", { lineRange: "2" }, "lineRange line-range-below-delivery"],
    ["flows out of order", { minimum: "9", target: "8" }, "minimum flows-out-of-order"],
    ["a scale upside down", { scaleMin: "20" }, "scaleMax scale-upside-down"],
    ["a tube without its pressure", { scalePressure: "" }, "scalePressure needed"],
  ])("%s is told at its field", (_name, change, fault) => {
    const checked = checkForm(filled(change), null, metricUnits, new Set(["bay-3"]), today);
    expect(checked.faults.map((one) => `${one.field} ${one.fault}`)).toContain(fault);
    expect(checked.document).toBeNull();
  });

  test("a comma is a point", () => {
    const { document } = checkForm(filled({ delivery: "3,5" }), null, metricUnits, nobody, today);
    expect(document?.regulator?.deliveryBar).toBe(3.5);
  });
});

describe("dangers as one types", () => {
  test.each<[string, Partial<SetupForm>, string[]]>([
    ["a line sensor that bursts", { relief: "" }, ["line-burst"]],
    ["75/25 at 200 bar on a 250 bar sensor", { gas: "M21-ArC-25" }, ["cylinder-range"]],
    ["a weak cylinder sensor", { cylinderProof: "300" }, ["cylinder-proof"]],
    ["oxygen", { gas: "O1-O" }, ["oxygen"]],
    ["argon with 5 % hydrogen", { gas: "R1-ArH-5" }, ["flammable", "flammable", "flammable"]],
  ])("%s", (_name, change, rules) => {
    const checked = checkForm(filled(change), null, metricUnits, nobody, today);
    expect(checked.refusals.map((one) => one.rule)).toEqual(rules);
  });

  test("parts that are ticked as rated take the mixture", () => {
    const rated = ["flammable"];
    const form = filled({
      gas: "R1-ArH-5",
      ratedRegulator: rated,
      ratedCylinder: rated,
      ratedLine: rated,
    });
    expect(checkForm(form, null, metricUnits, nobody, today).refusals).toEqual([]);
  });

  test("what is not known is left to do", () => {
    const form = filled({ relief: "", lineProof: "", cylinderProof: "", device: "", process: "" });
    const checked = checkForm(form, null, metricUnits, nobody, today);
    expect(checked.document).not.toBeNull();
    expect(checked.gaps).toEqual(["flow-device", "cylinder-proof", "line-proof", "weld"]);
  });
});

describe("a station that is here", () => {
  const stations = exampleStations();

  test.each(stations.map((station) => [station.station, station] as const))(
    "%s opened and saved unchanged is the same, in bar and in psi",
    (_name, station) => {
      for (const units of [metricUnits, usUnits]) {
        const document = documentOf(formOf(station, units), station, units);
        const parsed = parseDocument<StationDocument>(stationSchema, document);
        if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
        const { procedure, ...rest } = parsed.value;
        const { procedure: before, supply: _, ...restBefore } = station;
        expect(rest).toMatchObject(restBefore);
        expect(procedure).toMatchObject(
          Object.fromEntries(Object.entries(before ?? {}).filter(([, value]) => value !== null)),
        );
      }
    },
  );

  test("what the form does not ask stays: price, lot, bench fit", () => {
    const station = stationSchema.parse({
      ...stations[0],
      cylinder: { ...stations[0]!.cylinder, pricePerFill: 85, lot: "L-17" },
      flowDevice: { ...stations[0]!.flowDevice, fit: { parameters: [], date: "2026-03-01" } },
    });
    const form = { ...formOf(station, metricUnits), reading: "9" };
    const changed = documentOf(form, station, metricUnits);
    expect(changed).toMatchObject({
      cylinder: { pricePerFill: 85, lot: "L-17" },
      flowDevice: { reading: 9, fit: { date: "2026-03-01" } },
    });
  });

  // The gateway refuses a virtual station made real: no form may ask for that without being told.
  test("one of the demo stays virtual when it is changed, and its name is taken", () => {
    const [first] = stations;
    if (!first) throw new Error("there is no example station");
    const demo = { ...first, virtual: true };
    const changed = { ...formOf(demo, metricUnits), altitude: "321" };
    const { document } = checkForm(changed, demo, metricUnits, nobody, today);
    expect(document).toMatchObject({ virtual: true, altitudeM: 321 });
    const fresh = checkForm(
      filled({ name: demo.station }),
      null,
      metricUnits,
      new Set([demo.station]),
      today,
    );
    expect(fresh.faults).toContainEqual({ field: "name", step: "node", fault: "name-taken" });
    expect(fresh.document?.virtual).toBeUndefined();
  });

  test("every example is set up all the way", () => {
    for (const station of stations) expect(gapsOf(station)).toEqual([]);
  });
});
