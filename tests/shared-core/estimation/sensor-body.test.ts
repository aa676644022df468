import {
  BODY,
  BODY_SIGMAS,
  createFilter,
  RHO,
  takeBody,
  WALL,
} from "@leeward/shared-core/estimation/cylinder-filter.ts";
import {
  expectedPressurePa,
  updatePressure,
  updateWall,
} from "@leeward/shared-core/estimation/filter-update.ts";
import { planSupply } from "@leeward/shared-core/estimation/plan.ts";
import { describe, expect, it } from "vitest";
import { tigStation } from "../../accuracy/stations.ts";

const plan = planSupply({ supply: null, stations: [tigStation()] }).filter;

/** A filter that has read its wall at 8 °C and a cylinder of 150 bar. */
function cold() {
  const filter = createFilter(plan, 0);
  updateWall(plan, filter, 281.15, 0.05, Number.POSITIVE_INFINITY);
  updatePressure(plan, filter, 150e5, 3000, Number.POSITIVE_INFINITY);
  expect(filter.x[WALL]).toBeCloseTo(281, 0);
  return filter;
}

describe("the temperature of the cylinder sensor's body", () => {
  it("counts from where it was first read: in a cold shop it is no error of the sensor", () => {
    const filter = cold();
    takeBody(plan, filter, 281);
    expect(filter.bodyK).toBeCloseTo(0, 3);
    takeBody(plan, filter, 276);
    expect(filter.bodyK).toBeCloseTo(-5, 3);
    takeBody(plan, filter, null);
    expect(filter.bodyK).toBe(0);
  });

  it("a false reading, or a body that is frosted as the station starts, is not where it counts from", () => {
    for (const first of [358.15, 255.15]) {
      const filter = cold();
      takeBody(plan, filter, first);
      expect(filter.bodyK).toBe(0);
      takeBody(plan, filter, 280);
      expect(filter.bodyZeroK).toBe(280);
    }
  });

  it("a coefficient that no sensor has is held, and what the sensor should show stays as it was", () => {
    const filter = cold();
    takeBody(plan, filter, 281);
    takeBody(plan, filter, 269);
    const most = BODY_SIGMAS * plan.driftSharePerK * plan.sensorRangePa;
    const before = filter.x[RHO]!;
    filter.x[BODY] = 5 * most;
    const shown = expectedPressurePa(plan, filter);
    const first = updatePressure(plan, filter, shown, 3000, 5);
    expect(first.accepted).toBe(true);
    expect(filter.x[BODY]).toBeCloseTo(most, 6);
    // The next reading finds the filter where it was: neither refused nor laid to the content.
    const next = updatePressure(plan, filter, shown, 3000, 5);
    expect(next.accepted).toBe(true);
    expect(Math.abs(next.innovation)).toBeLessThan(500);
    expect(Math.abs(filter.x[RHO]! / before - 1)).toBeLessThan(0.001);
  });
});
