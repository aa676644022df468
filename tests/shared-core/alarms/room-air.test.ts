import { airDanger, reckonRoom } from "@leeward/shared-core/alarms/room-air.ts";
import { AIR_CARBON_DIOXIDE } from "@leeward/shared-core/safety/room-air.ts";
import { describe, expect, test } from "vitest";
import { snapshot, station } from "./bench-station.ts";

const ft3 = 0.028316846592;
const argon = { oxygenFraction: 0, co2Fraction: 0 };
const release = (roomM3: number, gasLpm: number, leftL: number, airChangesPerHour = 0) =>
  reckonRoom({ roomM3, gasLpm, leftL, airChangesPerHour, elapsedS: 0, ...argon });

describe("well-mixed room", () => {
  // 331 ft³ of argon into a closed room: 20.95 % exp(-V_gas / V_room); 29 CFR 1910.134 limit 19.5 %.
  test.each([
    [1000, 0.1505],
    [3000, 0.1876],
    [5000, 0.1961],
  ])("one 331 ft³ cylinder into %i ft³ leaves %f oxygen", (room, oxygen) => {
    const air = release(room * ft3, 20, 331 * ft3 * 1000);
    expect(air.oxygenLeast).toBeCloseTo(oxygen, 4);
  });
  test("19.5 % is reached at 7.2 % of the room's volume", () => {
    // ln(20.95 / 19.5) = 0.0717
    const air = release(100, 10, 20_000);
    const litres = ((air.oxygenLimitInS ?? 0) / 60) * 10;
    expect(litres / 100_000).toBeCloseTo(Math.log(20.95 / 19.5), 4);
  });
  test("never reached where the gas ends before", () => {
    expect(release(100, 10, 6000).oxygenLimitInS).toBeNull();
  });
  test("fresh air settles it: q / (q + nV), the steady state of the mass balance", () => {
    // 20 L/min into 100 m³ with 2 changes an hour: share 1.2 / (1.2 + 200)
    const air = release(100, 20, 1e9, 2);
    expect(air.oxygenLeast).toBeCloseTo(0.2095 * (1 - 1.2 / 201.2), 6);
    expect(air.oxygenLimitInS).toBeNull();
  });
  test("what has flowed already counts", () => {
    const air = reckonRoom({
      roomM3: 50,
      airChangesPerHour: 0,
      gasLpm: 10,
      elapsedS: 7 * 3600,
      leftL: 100,
      ...argon,
    });
    expect(air.oxygenNow).toBeCloseTo(0.2095 * Math.exp(-4.2 / 50), 6);
    expect(air.oxygenLimitInS).toBe(0);
  });
  test("CO2 passes 0.5 % and 3 % long before oxygen is short", () => {
    const air = reckonRoom({
      roomM3: 100,
      airChangesPerHour: 0,
      gasLpm: 10,
      elapsedS: 0,
      leftL: 20_000,
      oxygenFraction: 0,
      co2Fraction: 1,
    });
    const [long, short, oxygen] = [
      air.co2LongLimitInS ?? Number.NaN,
      air.co2ShortLimitInS ?? Number.NaN,
      air.oxygenLimitInS ?? Number.NaN,
    ];
    expect(long).toBeLessThan(short);
    expect(short).toBeLessThan(oxygen);
  });
  test("a gas with oxygen displaces less of it, nothing flows nothing changes", () => {
    expect(release(100, 0, 5000).oxygenLeast).toBeCloseTo(0.2095, 10);
  });
});

describe("danger of a place", () => {
  test("not reckoned where the place is not known", () => {
    expect(airDanger(snapshot(), 10, 600)).toBeNull();
  });
  test("confined is enough", () => {
    const confined = snapshot({ station: { ...station, place: { confined: true } } });
    expect(airDanger(confined, 10, 600)).toEqual({ reason: "confined", inS: 0 });
  });
  test("what passes its limit first is told while the graver one is far, the gravest once it is near", () => {
    // 20 L/min of CO2 into 150 m³ without fresh air: ln of the shares left (0.04 % in air, limits
    // 0.5 % and 3 %) gives 0.69 m³ after 35 min and 4.51 m³ after 3 h 45 min, from the mass balance.
    const co2 = snapshot({
      station: {
        ...station,
        cylinder: { ...station.cylinder!, composition: { CO2: 1 } },
        place: { roomM3: 150 },
      },
    });
    const minutes = (share: number) =>
      (-150_000 * Math.log((1 - share) / (1 - AIR_CARBON_DIOXIDE))) / 20;
    const at = (elapsedMin: number) => airDanger(co2, 20, elapsedMin * 60);
    expect(at(5)?.reason).toBe("co2-long");
    expect((at(5)?.inS ?? 0) / 60).toBeCloseTo(minutes(0.005) - 5, 1);
    expect(at(120)).toEqual({ reason: "co2-long", inS: 0 });
    expect(at(minutes(0.03) - 20)?.reason).toBe("co2-short");
    expect((at(minutes(0.03) - 20)?.inS ?? 0) / 60).toBeCloseTo(20, 1);
  });
  test("content not known: a full cylinder is taken", () => {
    const room = snapshot({ content: null, station: { ...station, place: { roomM3: 100 } } });
    expect(airDanger(room, 10, 0)?.reason).toBe("oxygen");
  });
});
