import {
  type StationDocument,
  type SupplyDocument,
  stationSchema,
  supplySchema,
} from "@leeward/shared-core/documents/station.ts";
import { describe, expect, test } from "vitest";
import { metricUnits, usUnits } from "../../../dashboard/display/units.ts";
import type { Draft, SupplyDraft } from "../../../dashboard/setup/draft-form.ts";
import {
  changedInStation,
  changedInSupply,
  standingOf,
  stationDraftOn,
  supplyDraftOn,
} from "../../../dashboard/setup/outdated-draft.ts";
import { documentOf } from "../../../dashboard/setup/setup-document.ts";
import { formOf, noCalibration, type SetupForm } from "../../../dashboard/setup/setup-form.ts";
import { asStation } from "../../../dashboard/setup/supply-plan.ts";
import { exampleStation } from "../../gateway/support.ts";

const before = stationSchema.parse(exampleStation());
const draftOf = (typed: Partial<SetupForm>, units = metricUnits): Draft => ({
  ...{ id: "north.bay-3", version: 2, before, units, step: "gas", keptMs: 0 },
  form: { ...formOf(before, units), ...typed },
});
const putOn = (draft: Draft, document: StationDocument) =>
  stationDraftOn(draft, { version: 5, document });

test.each([
  ["a new one", { id: null, version: 0 }, [], "fits"],
  ["before the list is there", { id: "north.bay-3", version: 2 }, null, "fits"],
  ["on the version it was begun on", { id: "north.bay-3", version: 2 }, [2], "fits"],
  ["when the list lags behind", { id: "north.bay-3", version: 2 }, [1], "fits"],
  ["after another save", { id: "north.bay-3", version: 2 }, [3], "outdated"],
  ["of what is no longer set up", { id: "north.bay-3", version: 2 }, [], "gone"],
] as const)("the standing of a draft: %s", (_, draft, versions, standing) => {
  const list = versions?.map((version) => ({ id: "north.bay-3", version })) ?? null;
  expect(standingOf(draft, list)).toBe(standing);
});

describe("a station's draft that another save has outdated", () => {
  const now: StationDocument = { ...before, altitudeM: 6, hose: { lengthM: 9, boreMm: 5 } };

  test.each([
    ["bar", metricUnits],
    ["psi", usUnits],
  ])("keeps what was typed and undoes nothing that came since, in %s", (_, units) => {
    const onTop = putOn(draftOf({ amps: "180" }, units), now);
    expect(onTop).toMatchObject({ version: 5, before: now, step: "gas" });
    const made = documentOf(onTop?.form as SetupForm, now, units);
    expect(made).toMatchObject({ altitudeM: 6, hose: now.hose, procedure: { amps: 180 } });
    expect(documentOf(formOf(now, units), now, units)).not.toMatchObject({
      procedure: { amps: 180 },
    });
  });

  test("leaves out a calibration of a sensor that was changed, and no other", () => {
    const two = { ...noCalibration, wish: "two" as const, lowReads: "0.1", lowIs: "0" };
    const draft = draftOf({ cylinderCalibration: two, lineCalibration: two });
    const line = { ...before.sensors?.line, twoPoint: points } as never;
    const onTop = putOn(draft, { ...before, sensors: { ...before.sensors, line } });
    expect(onTop?.form.cylinderCalibration).toEqual(two);
    expect(onTop?.form.lineCalibration).toEqual(noCalibration);
  });

  test("without what it was begun on, what was typed cannot be told from what stood", () => {
    const { before: _, ...older } = draftOf({ amps: "180" });
    expect(putOn(older, now)).toBeNull();
  });

  test("says in which steps it was changed, whatever the order of keys", () => {
    const turned = Object.fromEntries(Object.entries(before).reverse()) as StationDocument;
    expect(changedInStation(before, turned)).toEqual([]);
    expect(changedInStation(before, { ...turned, altitudeM: 6 })).toEqual(["node"]);
    const { procedure, ...bare } = before;
    expect(changedInStation(before, bare as StationDocument)).toEqual(["weld"]);
    const cylinder = { ...before.cylinder, count: 3 } as StationDocument["cylinder"];
    expect(changedInStation(before, { ...before, cylinder })).toEqual(["gas"]);
  });
});

const points = { lowReadsBar: 0.1, lowIsBar: 0, highReadsBar: 8, highIsBar: 7.9 };

describe("a shared supply's draft that another save has outdated", () => {
  const ring: SupplyDocument = supplySchema.parse({
    ...{ schema: 1, supply: "ring-1", site: "north", node: "n-41", kind: "cylinder" },
    ...{ cylinder: before.cylinder, regulator: before.regulator, reserve: null },
    drops: ["bay-5", "bay-6"],
  });
  const draft: SupplyDraft = {
    ...{ id: "north.ring-1", version: 1, before: ring, units: metricUnits, step: "gas", keptMs: 0 },
    form: { ...formOf(asStation(ring), metricUnits), lineSensor: false, count: "4" },
    ...{ drops: ["bay-5", "bay-7"], regulators: "own" },
  };

  test("keeps what was typed, and the stations that joined or left since", () => {
    const document = { ...ring, altitudeM: 6, drops: ["bay-5", "bay-6", "bay-8"] };
    const onTop = supplyDraftOn(draft, { version: 2, document });
    expect(onTop).toMatchObject({ version: 2, drops: ["bay-5", "bay-8", "bay-7"] });
    expect(onTop?.form).toMatchObject({ altitude: "6", count: "4", lineSensor: false });
  });

  test("of a new one whose first part was saved, cannot be put on top of another's", () => {
    expect(supplyDraftOn({ ...draft, before: null }, { version: 3, document: ring })).toBeNull();
  });

  test("says in which steps it was changed", () => {
    expect(changedInSupply(ring, { ...ring, node: "n-50" })).toEqual(["sensors"]);
    expect(changedInSupply(ring, { ...ring, kind: "bank", drops: ["bay-5"] })).toEqual([
      ...["gas", "node"],
    ]);
  });
});
