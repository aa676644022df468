import { parseDocument } from "@leeward/shared-core/documents/parse.ts";
import {
  type StationDocument,
  type SupplyDocument,
  stationSchema,
  supplySchema,
} from "@leeward/shared-core/documents/station.ts";
import { describe, expect, test } from "vitest";
import { metricUnits, usUnits } from "../../../dashboard/display/units.ts";
import { checkForm } from "../../../dashboard/setup/checks.ts";
import { documentOf } from "../../../dashboard/setup/setup-document.ts";
import { formOf } from "../../../dashboard/setup/setup-form.ts";
import {
  asDrop,
  asStation,
  measuredTogether,
  supplyOf,
  supplySteps,
} from "../../../dashboard/setup/supply-plan.ts";
import { exampleStation } from "../../gateway/support.ts";

const station = (name: string, node: string | null) =>
  stationSchema.parse({ ...exampleStation(), station: name, node });
const bay5 = station("bay-5", "n-41");
const bay6 = station("bay-6", "n-42");

const supply: SupplyDocument = supplySchema.parse({
  ...{ schema: 1, supply: "ring-1", site: "north", node: "n-41", kind: "cylinder" },
  cylinder: bay5.cylinder,
  reserve: null,
  regulator: bay5.regulator,
  sensors: {
    cylinder: {
      ...{ rangeBar: 250, accuracyPercentFs: 0.5, proofBar: 500 },
      twoPoint: { lowReadsBar: 0.4, lowIsBar: 0, highReadsBar: 199, highIsBar: 200 },
    },
  },
  drops: ["bay-5", "bay-6"],
});

const kinds = (...of: Parameters<typeof supplySteps>) =>
  supplySteps(...of).map((one) => (one.kind === "supply" ? "supply" : one.id));

describe("a shared supply's form", () => {
  test.each([
    ["bar", metricUnits],
    ["psi", usUnits],
  ])("opened and saved unchanged it is the same, in %s", (_name, units) => {
    const form = { ...formOf(asStation(supply), units), lineSensor: false };
    const made = parseDocument<SupplyDocument>(
      supplySchema,
      supplyOf(form, supply.drops, supply, units),
    );
    if (!made.ok) throw new Error(JSON.stringify(made.faults));
    expect(made.value).toMatchObject(supply);
  });

  test("several cylinders on a header are a bank", () => {
    const form = { ...formOf(asStation(supply), metricUnits), lineSensor: false, count: "4" };
    expect(supplyOf(form, supply.drops, supply, metricUnits)).toMatchObject({
      kind: "bank",
      cylinder: { count: 4 },
    });
  });
});

describe("a station that draws from it", () => {
  test("has no cylinder and no sensor at one; its own regulator where it keeps one", () => {
    const drop = asDrop(bay6, supply, "own");
    expect(stationSchema.safeParse(drop).success).toBe(true);
    expect(drop.sensors).not.toHaveProperty("cylinder");
    expect(drop.sensors?.line).toEqual(bay6.sensors?.line);
    expect(drop).toMatchObject({ supply: "ring-1", node: "n-42", regulator: bay6.regulator });
    expect(asDrop(bay6, supply, "none")).not.toHaveProperty("regulator");
  });

  test("leaves its node to the supply where that is the one at the cylinder", () => {
    expect(asDrop(bay5, supply, "own").node).toBeNull();
  });

  test("is changed in Setup without losing its supply, and judged by it", () => {
    const drop = asDrop(bay6, supply, "none");
    const form = { ...formOf(drop, metricUnits), altitude: "120" };
    expect(documentOf(form, drop, metricUnits)).toMatchObject({ supply: "ring-1", altitudeM: 120 });
    const weak = { ...form, lineProof: "20" };
    const rules = (of: SupplyDocument) =>
      checkForm(weak, drop, metricUnits, new Set(), "2026-11-27", { supply: of }).refusals.map(
        ({ rule }) => rule,
      );
    expect(rules(supply)).toEqual([]);
    const regulator = { stages: 1, deliveryBar: 3.45 } as const;
    expect(rules({ ...supply, regulator })).toEqual(["line-burst"]);
  });

  test("gets a cylinder of its own again", () => {
    const drop = asDrop(bay6, supply, "own");
    const form = {
      ...formOf(drop, metricUnits),
      ...{ supply: "", gas: "I1-Ar", waterVolume: "50", filled: "200", filledTemperature: "15" },
    };
    const checked = checkForm(form, drop, metricUnits, new Set(), "2026-11-27");
    expect(checked.document?.cylinder).toMatchObject({ gas: "I1-Ar", filledBar: 200 });
    expect(checked.document).not.toHaveProperty("supply");
  });
});

describe("what is stored when, so that the gateway takes each step", () => {
  const of = (...list: StationDocument[]) =>
    new Map(list.map((one) => [`north.${one.station}`, one] as const));

  test("a supply before its stations; once more where a station gives it its node", () => {
    const steps = supplySteps(supply, of(bay5, bay6), "own", null);
    expect(kinds(supply, of(bay5, bay6), "own", null)).toEqual([
      ...["supply", "north.bay-5", "north.bay-6", "supply"],
    ]);
    expect(steps[0]?.document.node).toBeNull();
    expect(steps[3]?.document.node).toBe("n-41");
  });

  test("once where its node is nobody's", () => {
    expect(kinds({ ...supply, node: "n-50" }, of(bay5, bay6), "own", null)).toEqual([
      ...["supply", "north.bay-5", "north.bay-6"],
    ]);
  });

  test("stations that draw from it already stay as they are", () => {
    const [five, six] = [bay5, bay6].map((one) => asDrop(one, supply, "own"));
    if (!five || !six) throw new Error("no drops");
    expect(kinds(supply, of(five, six), "own", supply)).toEqual(["supply"]);
  });

  test("two stations without a node of their own are told apart by nobody", () => {
    expect(measuredTogether([{ ...bay5, node: null }, bay6])).toEqual([]);
    expect(measuredTogether([bay5, bay6].map((one) => ({ ...one, node: null })))).toHaveLength(2);
  });
});
