import { catalogue } from "@leeward/shared-core/cylinder/catalogue.ts";
import {
  type StationDocument,
  stationSchema,
  supplySchema,
} from "@leeward/shared-core/documents/station.ts";
import { compositionOf } from "@leeward/shared-core/gases/designations.ts";
import { hottestGaugePa } from "@leeward/shared-core/safety/hottest-cylinder.ts";
import { stationSafety, supplySafety } from "@leeward/shared-core/safety/station-safety.ts";
import { BAR_PA, PSI_PA } from "@leeward/shared-core/units/factors.ts";
import { describe, expect, it } from "vitest";

type Change = { [key: string]: unknown };

const cylinder = {
  gas: "I1-Ar",
  composition: { Ar: 1 },
  waterVolumeL: 50,
  filledBar: 200,
  filledC: 15,
};
const regulator = { stages: 1, deliveryBar: 3.45, reliefBar: 12 };
const sensors = {
  cylinder: { rangeBar: 250, accuracyPercentFs: 0.5, proofBar: 500 },
  line: { rangeBar: 10, accuracyPercentFs: 0.5, proofBar: 30 },
};

function station(change: Change = {}): StationDocument {
  return stationSchema.parse({
    schema: 1,
    station: "bay-1",
    site: "yard",
    cylinder,
    regulator,
    sensors,
    ...change,
  });
}

const rulesOf = (document: StationDocument) =>
  stationSafety(document).refusals.map((one) => `${one.rule} ${one.path}`);
const cautionsOf = (document: StationDocument) =>
  stationSafety(document).cautions.map((one) => `${one.rule} ${one.path}`);
const withGas = (gas: string, change: Change = {}) => {
  const composition = compositionOf(gas);
  return station({ cylinder: { ...cylinder, gas, composition, filledBar: 40 }, ...change });
};
const rated = (...ratedFor: string[]) => ({
  regulator: { ...regulator, ratedFor },
  sensors: {
    cylinder: { ...sensors.cylinder, ratedFor },
    line: { ...sensors.line, ratedFor },
  },
});

describe("pressure of a full cylinder at 55 °C", () => {
  it.each([
    // CoolProp 8.0 multi-fluid: argon 200 bar at 15 °C is 239.8 bar at 52 °C, 1.08 bar/K.
    ["argon, 200 bar at 15 °C", { Ar: 1 }, 200, 15, 243.0, 0.5],
    // The same: 2640 psig at 70 °F is 3155 psig at 125 °F, 9.4 psi/°F; 6 °F more at 131 °F.
    ["Ar-25CO2, 2640 psig at 70 °F", { Ar: 0.75, CO2: 0.25 }, 182.02, 21.11, 221.4, 0.6],
    // The same: helium 2640 psig at 70 °F is 2913 psig at 125 °F, 5.0 psi/°F.
    ["helium, 2640 psig at 70 °F", { He: 1 }, 182.02, 21.11, 202.9, 0.5],
  ])("%s", (_name, composition, filledBar, filledC, bar, tolerance) => {
    const hottest = hottestGaugePa({
      gas: "I1-Ar",
      composition,
      waterVolumeL: 50,
      count: 1,
      filledBar,
      filledC,
    });
    if (!hottest.ok) throw hottest.error;
    expect(Math.abs(hottest.value / BAR_PA - bar)).toBeLessThan(tolerance);
  });

  it("liquid-filled CO2 at 0.75 kg/L stays below the 250 bar its cylinder is tested to", () => {
    // UN P200: the filling keeps the cylinder below its test pressure at 65 °C (from memory).
    const hottest = hottestGaugePa({
      gas: "C1-C",
      composition: { CO2: 1 },
      waterVolumeL: 50,
      count: 1,
      filledKg: 37.5,
    });
    if (!hottest.ok) throw hottest.error;
    expect(hottest.value).toBeGreaterThan(150 * BAR_PA);
    expect(hottest.value).toBeLessThan(250 * BAR_PA);
  });

  it("every row of the catalogue stays within 5/4 of its filling, for argon", () => {
    // 49 CFR 173.301a(d): at 55 °C at most 5/4 of the service pressure, which here is the filling.
    for (const row of catalogue.filter((one) => one.market === "us" && one.fillGaugePa !== null)) {
      const hottest = hottestGaugePa({
        gas: "I1-Ar",
        composition: { Ar: 1 },
        waterVolumeL: row.waterVolumeM3 * 1e3,
        count: 1,
        filledBar: (row.fillGaugePa ?? 0) / BAR_PA,
        filledC: row.fillK - 273.15,
      });
      if (!hottest.ok) throw hottest.error;
      expect(hottest.value / (row.fillGaugePa ?? 1), row.name).toBeLessThan(1.25);
      expect(hottest.value).toBeGreaterThan(row.fillGaugePa ?? 0);
    }
    expect(2640 * PSI_PA).toBeGreaterThan(182 * BAR_PA);
  });
});

describe("sensors", () => {
  it("a sound station has nothing against it", () => {
    expect(stationSafety(station())).toEqual({ refusals: [], cautions: [] });
  });

  it.each<[string, Change, string[]]>([
    [
      "a cylinder sensor below the pressure at 55 °C",
      { sensors: { cylinder: { ...sensors.cylinder, rangeBar: 240 } } },
      ["cylinder-range sensors.cylinder.rangeBar"],
    ],
    [
      "75/25 filled to 200 bar passes 250 bar at 55 °C, where argon does not",
      { cylinder: { ...cylinder, gas: "M21-ArC-25", composition: { Ar: 0.75, CO2: 0.25 } } },
      ["cylinder-range sensors.cylinder.rangeBar"],
    ],
    [
      "a proof pressure below 1.5 times that",
      { sensors: { cylinder: { ...sensors.cylinder, proofBar: 360 } } },
      ["cylinder-proof sensors.cylinder.proofBar"],
    ],
    [
      "a line sensor that a failed seat bursts",
      { regulator: { stages: 1, deliveryBar: 3.45 } },
      ["line-burst sensors.line.proofBar"],
    ],
    [
      "a relief device that opens above what the line sensor stands",
      { regulator: { ...regulator, reliefBar: 30 } },
      ["line-burst sensors.line.proofBar"],
    ],
  ])("refuses %s", (_name, change, expected) => {
    expect(rulesOf(station(change))).toEqual(expected);
  });

  it.each<[string, Change]>([
    ["proof just above 1.5 times", { cylinder: { ...sensors.cylinder, proofBar: 365 } }],
    ["a line sensor that stands the full cylinder", { line: { ...sensors.line, proofBar: 300 } }],
  ])("takes %s", (_name, change) => {
    const document = station({ sensors: { ...sensors, ...change } });
    expect(rulesOf(document)).toEqual([]);
  });

  it("a line sensor that stands the full cylinder needs no relief device", () => {
    const document = station({
      regulator: { stages: 1 },
      sensors: { ...sensors, line: { ...sensors.line, proofBar: 244 } },
    });
    expect(rulesOf(document)).toEqual([]);
    const weaker = station({
      regulator: { stages: 1 },
      sensors: { ...sensors, line: { ...sensors.line, proofBar: 242 } },
    });
    expect(rulesOf(weaker)).toEqual(["line-burst sensors.line.proofBar"]);
  });

  it("what is not known is a caution, never good news", () => {
    const unknown = station({
      regulator: { stages: 1 },
      sensors: {
        cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 },
        line: { rangeBar: 10, accuracyPercentFs: 0.5 },
      },
    });
    expect(rulesOf(unknown)).toEqual([]);
    expect(cautionsOf(unknown)).toEqual([
      "cylinder-proof-unknown sensors.cylinder.proofBar",
      "line-proof-unknown sensors.line.proofBar",
    ]);
  });

  it("a relief device below the line sensor's range protects it whatever its proof pressure", () => {
    const document = station({
      regulator: { ...regulator, reliefBar: 9 },
      sensors: { line: { rangeBar: 10, accuracyPercentFs: 0.5 } },
    });
    expect(stationSafety(document)).toEqual({ refusals: [], cautions: [] });
  });

  it("a filling that the equation cannot take is a caution", () => {
    const liquid = station({
      cylinder: { ...cylinder, gas: "C1-C", composition: { CO2: 1 }, filledBar: 100 },
    });
    expect(cautionsOf(liquid)).toEqual(["pressure-unknown cylinder"]);
  });

  it("messages say where, what, why and what to do, with the figures", () => {
    const [finding] = stationSafety(station({ regulator: { stages: 1 } })).refusals;
    expect(finding?.message).toContain("30 bar");
    expect(finding?.message).toContain("242.9 bar");
    expect(finding?.message).toContain("Fit a sensor");
    expect(finding?.figures).toMatchObject({ standsPa: 30 * BAR_PA });
  });
});

describe("gases", () => {
  it.each([
    ["O1-O", ["oxygen cylinder.composition"]],
    ["C2-CO-30", ["oxygen-enriched", "oxygen-enriched", "oxygen-enriched"]],
    ["C2-CO-20", []],
    ["M22-ArO-10", []],
    ["R1-ArH-5", ["flammable", "flammable", "flammable"]],
    ["R1-ArH-2", []],
    ["N5-NH-10", ["flammable", "flammable", "flammable"]],
    ["N5-NH-5", []],
  ])("%s without ratings: %j", (gas, expected) => {
    const rules = rulesOf(withGas(gas));
    expect(rules.length).toBe(expected.length);
    expected.forEach((start, k) => {
      expect(rules[k]).toContain(start);
    });
  });

  it("the limit of oxygen is 23.5 %", () => {
    // 29 CFR 1910.146(b): above 23.5 % an atmosphere is oxygen-enriched.
    const at = (O2: number) =>
      rulesOf(
        station({
          cylinder: { ...cylinder, filledBar: 100, gas: "Z", composition: { Ar: 1 - O2, O2 } },
        }),
      );
    expect(at(0.235)).toEqual([]);
    expect(at(0.236)).toHaveLength(3);
  });

  it("parts declared as rated take what they are rated for, and nothing else", () => {
    expect(rulesOf(withGas("R1-ArH-5", rated("inert", "flammable")))).toEqual([]);
    expect(rulesOf(withGas("R1-ArH-5", rated("inert", "oxidising")))).toHaveLength(3);
    expect(rulesOf(withGas("C2-CO-30", rated("inert", "oxidising")))).toEqual([]);
    expect(rulesOf(withGas("C2-CO-30", rated("flammable")))).toHaveLength(3);
  });

  it("one part that is not declared is enough, and is named", () => {
    const parts = rated("inert", "flammable");
    const document = withGas("R1-ArH-5", {
      ...parts,
      sensors: { ...parts.sensors, line: sensors.line },
    });
    expect(rulesOf(document)).toEqual(["flammable sensors.line.ratedFor"]);
    expect(rulesOf(withGas("R1-ArH-5", { ...parts, regulator: null }))).toEqual([
      "flammable regulator.ratedFor",
      "line-burst sensors.line.proofBar",
    ]);
  });

  it("oxygen and fuel gas are refused whatever the parts are rated for", () => {
    expect(rulesOf(withGas("O1-O", rated("inert", "oxidising", "flammable")))).toEqual([
      "oxygen cylinder.composition",
    ]);
    const fuel = station({
      cylinder: { ...cylinder, filledBar: 150, gas: "Z", composition: { Ar: 0.4, H2: 0.6 } },
      ...rated("flammable"),
    });
    expect(rulesOf(fuel)).toEqual(["fuel-gas cylinder.composition"]);
  });

  it("hydrogen and oxygen in one cylinder are refused always", () => {
    const both = station({
      cylinder: { ...cylinder, gas: "Z", composition: { Ar: 0.96, H2: 0.02, O2: 0.02 } },
      ...rated("flammable", "oxidising"),
    });
    expect(rulesOf(both)).toEqual(["hydrogen-with-oxygen cylinder.composition"]);
  });
});

describe("shared supplies", () => {
  const supply = (change: Change = {}) =>
    supplySchema.parse({
      schema: 1,
      supply: "ring-1",
      site: "yard",
      kind: "bank",
      cylinder: { ...cylinder, count: 6 },
      regulator: { stages: 1, deliveryBar: 8, reliefBar: 12, ratedFor: ["inert"] },
      sensors: { cylinder: { rangeBar: 250, accuracyPercentFs: 0.5, proofBar: 500 } },
      drops: ["bay-1"],
      ...change,
    });
  const drop = (change: Change = {}) =>
    stationSchema.parse({
      schema: 1,
      station: "bay-1",
      site: "yard",
      supply: "ring-1",
      sensors: { line: { rangeBar: 10, accuracyPercentFs: 0.5, proofBar: 20 } },
      ...change,
    });

  it("a sound ring has nothing against it, at the header and at the drops", () => {
    expect(supplySafety(supply())).toEqual({ refusals: [], cautions: [] });
    expect(stationSafety(drop(), supply())).toEqual({ refusals: [], cautions: [] });
  });

  it("without a relief device at the ring, a drop's sensor sees the full cylinder", () => {
    const bare = supply({ regulator: { stages: 1, deliveryBar: 8 } });
    expect(stationSafety(drop(), bare).refusals.map((one) => one.rule)).toEqual(["line-burst"]);
  });

  it("behind a regulator of its own it sees the ring's pressure", () => {
    const bare = supply({ regulator: { stages: 1, deliveryBar: 8 } });
    const own = drop({ regulator: { stages: 1, deliveryBar: 3 } });
    expect(stationSafety(own, bare).refusals).toEqual([]);
  });

  it("the reserve is held against the same sensor", () => {
    const reserve = { ...cylinder, filledBar: 300 };
    expect(supplySafety(supply({ reserve })).refusals.map((one) => one.rule)).toEqual([
      "cylinder-range",
      "cylinder-proof",
    ]);
  });

  it("a flammable ring needs rated parts at every drop", () => {
    const gas = { ...cylinder, gas: "R1-ArH-5", composition: { Ar: 0.95, H2: 0.05 } };
    const paths = stationSafety(drop(), supply({ cylinder: gas })).refusals.map((one) => one.path);
    expect(paths).toEqual(["sensors.line.ratedFor"]);
  });
});
