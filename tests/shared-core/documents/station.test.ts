import { momentToUnixS } from "@leeward/shared-core/documents/common.ts";
import { isLiquidFilled } from "@leeward/shared-core/documents/cylinder.ts";
import { describeFaults, parseDocument } from "@leeward/shared-core/documents/parse.ts";
import {
  type StationDocument,
  siteSchema,
  stationSchema,
  supplySchema,
} from "@leeward/shared-core/documents/station.ts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

/** The complete station of the contract. */
const complete = {
  schema: 1,
  station: "bay-3",
  site: "north",
  node: "n-07",
  supply: null,
  altitudeM: 120,
  place: { roomM3: 600, airChangesPerHour: 2, confined: false },
  cylinder: {
    gas: "I1-Ar",
    composition: { Ar: 1 },
    waterVolumeL: 50,
    waterVolumeUPercent: 0.5,
    count: 1,
    filledBar: 200,
    filledC: 15,
    residualBar: 10,
    pricePerFill: 85,
  },
  regulator: {
    stages: 1,
    adjust: "preset",
    deliveryBar: 3.45,
    maxLineBar: 8,
    reliefBar: 12,
    heated: false,
    highSideMl: 20,
  },
  flowDevice: {
    kind: "variable-area",
    scaleGas: { Ar: 1 },
    scaleBar: 3.45,
    scaleC: 21,
    scaleReference: "metric20",
    scaleMin: 2,
    scaleMax: 16,
    valve: "after-tube",
    float: "ball",
    readAt: "float-bottom",
    reading: 8,
    readingUnit: "L/min",
  },
  lineTap: "regulator-outlet",
  hose: { lengthM: 4, boreMm: 6 },
  sensors: {
    cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 },
    line: { rangeBar: 10, accuracyPercentFs: 0.5, proofBar: 30 },
  },
  procedure: {
    process: "GTAW",
    material: "aluminium",
    cup: 7,
    gasLens: false,
    amps: 150,
    polarity: "AC",
    joint: "fillet",
    preflowS: 0.5,
    postflowS: 15,
    draughtMs: 0.2,
    standoffMm: 5,
    minimumLpm: null,
    targetLpm: null,
    maximumLpm: null,
  },
  changeover: { minutes: 10 },
};

function faultsOf(document: unknown): string[] {
  const parsed = parseDocument<StationDocument>(stationSchema, document);
  return parsed.ok ? [] : parsed.faults.map((fault) => fault.path);
}

const liquid = {
  gas: "C1-C",
  composition: { CO2: 1 },
  waterVolumeL: 40,
  filledKg: 30,
  presentKg: 12,
  asOf: "2025-11-25T08:00:00Z",
  tareKg: 45,
};

describe("a station's description", () => {
  it("of the contract is taken as it is", () => {
    const parsed = parseDocument<StationDocument>(stationSchema, complete);
    expect(parsed).toEqual({ ok: true, value: complete });
  });

  it("may leave out what nobody knows, and keeps what it does not understand", () => {
    const { schema, station, site, cylinder } = complete;
    const sparse = { schema, station, site, cylinder, "paint-colour": "grey" };
    expect(parseDocument<StationDocument>(stationSchema, sparse)).toMatchObject({
      ok: true,
      value: sparse,
    });
  });

  it("may have a cylinder of liquid CO2, an orifice gauge, a meter", () => {
    const parsed = parseDocument<StationDocument>(stationSchema, { ...complete, cylinder: liquid });
    expect(parsed.ok && parsed.value.cylinder && isLiquidFilled(parsed.value.cylinder)).toBe(true);
    const gauge = {
      kind: "orifice-gauge",
      scaleGas: { Ar: 1 },
      readingUnit: "CFH",
      orificeMm: 0.7,
    };
    expect(faultsOf({ ...complete, flowDevice: gauge })).toEqual([]);
    const meter = { kind: "metered", meterGas: { Ar: 1 }, readingUnit: "L/min" };
    expect(faultsOf({ ...complete, flowDevice: meter })).toEqual([]);
  });

  it("whose gas comes from a supply has no cylinder", () => {
    const { cylinder: _, ...rest } = complete;
    expect(faultsOf({ ...rest, supply: "ring-1" })).toEqual([]);
    expect(faultsOf({ ...complete, supply: "ring-1" })).toEqual(["cylinder"]);
    expect(faultsOf({ ...rest, supply: null })).toEqual(["cylinder"]);
  });

  const device = complete.flowDevice;
  const cylinder = complete.cylinder;
  it.each([
    ["another schema", { schema: 2 }, "schema"],
    ["a name in capitals", { station: "Bay-3" }, "station"],
    ["a name of two hyphens", { node: "n--7" }, "node"],
    [
      "a gas that does not add up",
      { cylinder: { ...cylinder, composition: { Ar: 0.8 } } },
      "cylinder.composition",
    ],
    [
      "a gas of its own",
      { cylinder: { ...cylinder, composition: { Xe: 1 } } },
      "cylinder.composition",
    ],
    ["no fill", { cylinder: { ...cylinder, filledBar: undefined } }, "cylinder"],
    ["two fills", { cylinder: { ...cylinder, filledKg: 20 } }, "cylinder"],
    [
      "a residual above the fill",
      { cylinder: { ...cylinder, residualBar: 200 } },
      "cylinder.residualBar",
    ],
    ["no cylinders", { cylinder: { ...cylinder, count: 0 } }, "cylinder.count"],
    [
      "a delivery above the limit",
      { regulator: { ...complete.regulator, maxLineBar: 3 } },
      "regulator.maxLineBar",
    ],
    ["three stages", { regulator: { ...complete.regulator, stages: 3 } }, "regulator.stages"],
    ["an upside-down scale", { flowDevice: { ...device, scaleMin: 16 } }, "flowDevice.scaleMax"],
    ["an orifice on a tube", { flowDevice: { ...device, orificeMm: 0.7 } }, "flowDevice"],
    [
      "a float on a gauge",
      { flowDevice: { ...device, kind: "orifice-gauge", orificeMm: 0.7 } },
      "flowDevice.valve",
    ],
    [
      "a gauge of no size",
      { flowDevice: { kind: "orifice-gauge", scaleGas: { Ar: 1 }, readingUnit: "CFH" } },
      "flowDevice",
    ],
    [
      "a unit of its own",
      { flowDevice: { ...device, readingUnit: "gpm" } },
      "flowDevice.readingUnit",
    ],
    [
      "a line sensor below delivery",
      { sensors: { line: { rangeBar: 2, accuracyPercentFs: 0.5 } } },
      "sensors.line.rangeBar",
    ],
    [
      "a cylinder sensor below the fill",
      { sensors: { cylinder: { rangeBar: 160, accuracyPercentFs: 0.5 } } },
      "sensors.cylinder.rangeBar",
    ],
    ["a cup on a wire process", { procedure: { process: "GMAW", cup: 7 } }, "procedure.cup"],
    [
      "a window upside down",
      { procedure: { process: "GTAW", minimumLpm: 9, targetLpm: 8 } },
      "procedure.minimumLpm",
    ],
    ["a mountain", { altitudeM: 9000 }, "altitudeM"],
  ])("with %s is refused, the place told", (_name, change, path) => {
    const faults = faultsOf({ ...complete, ...change });
    expect(faults.some((fault) => fault === path || fault.startsWith(`${path}.`))).toBe(true);
  });

  it("tells all its faults at once, as sentences", () => {
    const parsed = parseDocument<StationDocument>(stationSchema, {
      ...complete,
      schema: 2,
      altitudeM: 9000,
      lineTap: "roof",
    });
    expect(!parsed.ok && parsed.faults.map((fault) => fault.path)).toEqual([
      "schema",
      "altitudeM",
      "lineTap",
    ]);
    if (!parsed.ok)
      expect(describeFaults(parsed.faults)).toMatch(/^schema: .+; altitudeM: .+; lineTap: .+$/);
  });

  it("never makes the check throw, whatever it is (property)", () => {
    const keys = fc.constantFrom(...Object.keys(complete));
    const wild = fc.dictionary(keys, fc.oneof(fc.anything({ maxDepth: 2 }), fc.constant(cylinder)));
    fc.assert(
      fc.property(fc.oneof(wild, fc.anything()), (input) => {
        const parsed = parseDocument<StationDocument>(stationSchema, input);
        if (!parsed.ok) expect(parsed.faults.length).toBeGreaterThan(0);
      }),
      { numRuns: 300 },
    );
  });
});

describe("supplies and sites", () => {
  it("are checked too", () => {
    const supply = {
      schema: 1,
      supply: "ring-1",
      site: "north",
      kind: "bank",
      cylinder: complete.cylinder,
      drops: ["bay-3", "bay-4"],
    };
    expect(supplySchema.safeParse(supply).success).toBe(true);
    expect(supplySchema.safeParse({ ...supply, drops: [] }).success).toBe(false);
    expect(supplySchema.safeParse({ ...supply, drops: ["a", "a"] }).success).toBe(false);
    expect(supplySchema.safeParse({ ...supply, kind: "balloon" }).success).toBe(false);
    expect(siteSchema.parse({ schema: 1, site: "north" }).timeZone).toBe("UTC");
  });

  it("take moments as RFC 3339 or Unix seconds", () => {
    expect(momentToUnixS("2025-11-25T08:00:00Z")).toBe(1764057600);
    expect(momentToUnixS(1764057600.5)).toBe(1764057600.5);
  });
});
