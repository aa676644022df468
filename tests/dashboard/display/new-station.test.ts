import { parseDocument } from "@leeward/shared-core/documents/parse.ts";
import { stationSchema } from "@leeward/shared-core/documents/station.ts";
import { describe, expect, test } from "vitest";
import {
  commonGases,
  type DeviceKind,
  emptyForm,
  newStation,
  type Process,
  stationName,
} from "../../../dashboard/display/new-station.ts";

describe("a new station from the small form", () => {
  test.each([
    ["Slipway 3", "slipway-3"],
    ["  Bay  (north) ", "bay-north"],
    ["Größe", "grosse"],
    ["!!!", null],
    ["x".repeat(50), "x".repeat(32)],
  ])("%s is called %s", (name, station) => {
    expect(stationName(name)).toBe(station);
  });

  const kinds: DeviceKind[] = ["variable-area", "orifice-gauge", "metered"];
  const processes: Process[] = ["GTAW", "GMAW", "FCAW-G"];
  const cases = commonGases.flatMap(({ gas }) =>
    kinds.flatMap((device) => processes.map((process) => ({ gas, device, process }))),
  );

  test.each(cases)("is valid with $gas, $device, $process", ({ gas, device, process }) => {
    const made = newStation("north", "n-19", { ...emptyForm, name: "Bay 9", gas, device, process });
    const parsed = parseDocument(stationSchema, made);
    expect(parsed).toMatchObject({ ok: true });
    expect(made).toMatchObject({ station: "bay-9", node: "n-19", site: "north", name: "Bay 9" });
  });

  test("no line sensor means none in the description", () => {
    const made = newStation("north", "n-19", { ...emptyForm, name: "Bay 9", lineSensor: false });
    expect(made?.sensors?.line).toBeUndefined();
  });

  test("a name without letters makes nothing", () => {
    expect(newStation("north", "n-19", { ...emptyForm, name: "–" })).toBeNull();
  });
});
