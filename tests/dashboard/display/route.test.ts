import { describe, expect, test } from "vitest";
import { alarmHref, lookBackHref, routeOf, stationHref } from "../../../dashboard/display/route.ts";
import { scaleMarks, scalePlace } from "../../../dashboard/display/scale.ts";
import { gasName, procedureLine, stationLine } from "../../../dashboard/display/weld-line.ts";
import { exampleStation } from "./examples.ts";

describe("addresses", () => {
  test("deep links", () => {
    expect(routeOf("")).toEqual({ page: "floor" });
    expect(routeOf("#/wall")).toEqual({ page: "wall" });
    expect(routeOf(stationHref("north.bay-3"))).toEqual({ page: "station", id: "north.bay-3" });
    expect(routeOf("#/alarms")).toEqual({ page: "alarms", id: null });
    const id = "north.bay-3~under-shielding~mwwc8ym8";
    expect(routeOf(alarmHref(id))).toEqual({ page: "alarms", id });
    expect(routeOf("#/alarms/north~nobody-reachable~1")).toEqual({
      page: "alarms",
      id: "north~nobody-reachable~1",
    });
  });

  test("the past of a station", () => {
    expect(routeOf(lookBackHref("north.bay-3", 100.4, 200))).toEqual({
      page: "look-back",
      id: "north.bay-3",
      from: 100,
      to: 200,
    });
    expect(routeOf("#/look-back")).toEqual({ page: "look-back", id: null, from: null, to: null });
    expect(routeOf("#/look-back/x?from=1e9&to=")).toMatchObject({ id: null, from: null, to: null });
  });

  test("an address that is none leads to the Floor", () => {
    expect(routeOf("#/station/../../secret")).toEqual({ page: "floor" });
    expect(routeOf("#/station/")).toEqual({ page: "floor" });
    expect(routeOf("#/nowhere")).toEqual({ page: "floor" });
    expect(routeOf("#/station/%")).toEqual({ page: "floor" });
    expect(routeOf("#/alarms/%")).toEqual({ page: "alarms", id: null });
  });
});

describe("scales and walls", () => {
  test("a scale to 16 is numbered in twos", () => {
    const numbered = scaleMarks(0, 16).filter((mark) => mark.numbered);
    expect(numbered.map((mark) => mark.value)).toEqual([0, 2, 4, 6, 8, 10, 12, 14, 16]);
    expect(scalePlace(20, 0, 16)).toBe(1);
    expect(scalePlace(4, 0, 16)).toBe(0.25);
  });
});

describe("what is welded, in words", () => {
  test("gases", () => {
    expect(gasName({ Ar: 1 })).toBe("Argon");
    expect(gasName({ CO2: 0.18, Ar: 0.82 })).toBe("Ar 82 / CO₂ 18");
    expect(gasName({ Ar: 0.975, CO2: 0.025 })).toBe("Ar 97.5 / CO₂ 2.5");
  });

  test("station and procedure", () => {
    expect(stationLine(exampleStation())).toBe("TIG aluminium, cup 7, Argon");
    expect(procedureLine({ process: "GMAW", material: "steel", nozzleBoreMm: 16 })).toBe(
      "MIG/MAG steel, nozzle 16 mm",
    );
    expect(procedureLine(undefined)).toBe("procedure not set");
  });
});
