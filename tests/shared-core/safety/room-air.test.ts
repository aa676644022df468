import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  AIR_OXYGEN,
  CARBON_DIOXIDE_DANGER,
  CARBON_DIOXIDE_LONG_TERM,
  CARBON_DIOXIDE_SHORT_TERM,
  OXYGEN_DEFICIENT,
  OXYGEN_ENRICHED,
  type Release,
  roomAir,
  volumeToOxygenM3,
} from "../../../shared-core/safety/room-air.ts";
import { CUBIC_FOOT_M3 } from "../../../shared-core/units/factors.ts";

function air(release: Release) {
  const answer = roomAir(release);
  if (!answer.ok) {
    throw answer.error;
  }
  return answer.value;
}

describe("room after a release, well mixed", () => {
  /** Trade sheet, section 7: O2 = 20.95 exp(-V/V_room), one 331 ft³ cylinder of argon. */
  test.each([
    [1000, 15.1],
    [3000, 18.8],
    [5000, 19.6],
  ])("331 ft³ into %f ft³: %f % oxygen", (room, percent) => {
    const after = air({ roomM3: room * CUBIC_FOOT_M3, burstM3: 331 * CUBIC_FOOT_M3 });
    expect(Math.abs(after.oxygenFraction * 100 - percent)).toBeLessThan(0.06);
    expect(after.oxygenDeficient).toBe(percent < 19.5);
  });

  /** 29 CFR 1910.134 and 1910.146: deficient below 19.5 %, enriched above 23.5 %. */
  test("19.5 % is reached at 7.2 % of the room", () => {
    expect(volumeToOxygenM3(100) / 100).toBeCloseTo(0.072, 3);
    expect(() => volumeToOxygenM3(Number.NaN)).toThrow(/roomM3 is NaN/);
    const volume = volumeToOxygenM3(100);
    expect(air({ roomM3: 100, burstM3: volume }).oxygenFraction).toBeCloseTo(OXYGEN_DEFICIENT, 12);
  });

  test("CO2 harms before oxygen falls short", () => {
    const after = air({ roomM3: 100, burstM3: 5, carbonDioxideFraction: 1 });
    expect(after.oxygenDeficient).toBe(false);
    expect(after.carbonDioxideLimit).toBe("danger");
  });

  test("the limits of CO2 in turn (OSHA, ACGIH, NIOSH)", () => {
    const limit = (burstM3: number) =>
      air({ roomM3: 100, burstM3, carbonDioxideFraction: 1 }).carbonDioxideLimit;
    expect([0.3, 1, 3.5, 5].map(limit)).toEqual(["none", "long-term", "short-term", "danger"]);
  });

  test("oxygen let out is a danger of its own", () => {
    expect(air({ roomM3: 100, burstM3: 5, oxygenFraction: 1 }).oxygenEnriched).toBe(true);
  });

  test("a steady leak into a closed room is the burst, spread out", () => {
    const steady = air({ roomM3: 100, steadyM3PerS: 1e-3, elapsedS: 7200 });
    expect(steady.oxygenFraction).toBeCloseTo(
      air({ roomM3: 100, burstM3: 7.2 }).oxygenFraction,
      12,
    );
  });

  test("with fresh air it levels off at q/(q+Q)", () => {
    const late = air({ roomM3: 100, steadyM3PerS: 2.5e-4, airChangesPerHour: 2, elapsedS: 1e8 });
    const fresh = (100 * 2) / 3600;
    expect(late.oxygenFraction).toBeCloseTo((AIR_OXYGEN * fresh) / (fresh + 2.5e-4), 9);
  });

  test("more gas or less air never raises the oxygen", () => {
    const number = (max: number) => fc.double({ min: 0, max, noNaN: true });
    fc.assert(
      fc.property(
        number(500),
        number(0.1),
        number(20),
        number(1e5),
        (burst, steady, changes, seconds) => {
          const release = {
            roomM3: 200,
            burstM3: burst,
            steadyM3PerS: steady,
            airChangesPerHour: changes,
            elapsedS: seconds,
          };
          const now = air(release).oxygenFraction;
          expect(now).toBeGreaterThanOrEqual(0);
          expect(now).toBeLessThanOrEqual(AIR_OXYGEN);
          expect(air({ ...release, burstM3: burst + 1 }).oxygenFraction).toBeLessThanOrEqual(
            now + 1e-12,
          );
          expect(
            air({ ...release, airChangesPerHour: changes + 1 }).oxygenFraction,
          ).toBeGreaterThanOrEqual(now - 1e-12);
        },
      ),
    );
  });

  test.each([
    [{ roomM3: 0 }, /roomM3 is 0/],
    [{ roomM3: 100, burstM3: -1 }, /burstM3 is -1/],
    [{ roomM3: Number.NaN }, /roomM3 is NaN/],
    [{ roomM3: 100, burstM3: 9, oxygenFraction: Number.NaN }, /oxygenFraction is NaN/],
    [{ roomM3: 100, burstM3: 9, oxygenFraction: -3 }, /oxygenFraction is -3/],
    [{ roomM3: 100, burstM3: 9, carbonDioxideFraction: 25 }, /carbonDioxideFraction is 25/],
    [{ roomM3: 100, burstM3: 9, carbonDioxideFraction: Number.NaN }, /carbonDioxideFraction is N/],
  ])("%o is refused", (release, message) => {
    const answer = roomAir(release);
    expect(!answer.ok && answer.error.message).toMatch(message);
  });
});

/** The limits as printed; the tests above compare with them by name. */
test.each([
  ["oxygen in air: U.S. Standard Atmosphere 1976", AIR_OXYGEN, 0.2095],
  ["oxygen-deficient: 29 CFR 1910.134(b), 1910.146(b)", OXYGEN_DEFICIENT, 0.195],
  ["oxygen-enriched: 29 CFR 1910.146(b)", OXYGEN_ENRICHED, 0.235],
  ["CO2, 8 h: 29 CFR 1910.1000 table Z-1", CARBON_DIOXIDE_LONG_TERM, 0.005],
  ["CO2, 15 min: ACGIH (second-hand)", CARBON_DIOXIDE_SHORT_TERM, 0.03],
  ["CO2, danger to life: NIOSH IDLH (second-hand)", CARBON_DIOXIDE_DANGER, 0.04],
])("%s", (_, constant, printed) => {
  expect(constant).toBe(printed);
});

test("each limit of CO2 counts from just above it", () => {
  // A burst that leaves the wanted fraction: V/V_room = -ln(1 - x), counting outdoor air's 0.042 %.
  const limitAt = (fraction: number) => {
    const share = (fraction - 0.00042) / (1 - 0.00042);
    return air({ roomM3: 100, burstM3: -100 * Math.log(1 - share), carbonDioxideFraction: 1 })
      .carbonDioxideLimit;
  };
  expect([0.0049, 0.0051, 0.029, 0.031, 0.039, 0.041].map(limitAt)).toEqual([
    "none",
    "long-term",
    "long-term",
    "short-term",
    "short-term",
    "danger",
  ]);
});

test("oxygen-enriched from 23.5 % on", () => {
  const withOxygen = (burstM3: number) => air({ roomM3: 100, burstM3, oxygenFraction: 1 });
  // Share of the release s: 0.2095 + 0.7905 s.
  const burstFor = (oxygen: number) => -100 * Math.log(1 - (oxygen - 0.2095) / 0.7905);
  expect(withOxygen(burstFor(0.234)).oxygenEnriched).toBe(false);
  expect(withOxygen(burstFor(0.236)).oxygenEnriched).toBe(true);
});
