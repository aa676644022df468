import { describe, expect, it } from "vitest";
import {
  covariance,
  createFilter,
  type FilterPlan,
  type FilterState,
  OFFSET,
  RHO,
  SPAN,
  variance,
} from "../../../shared-core/estimation/cylinder-filter.ts";
import {
  classErrorPa,
  learnZero,
  updatePressure,
  updateWall,
} from "../../../shared-core/estimation/filter-update.ts";
import { planSupply } from "../../../shared-core/estimation/plan.ts";
import { tigStation } from "../../accuracy/stations.ts";

const { filter: plan }: { filter: FilterPlan } = planSupply({
  supply: null,
  stations: [tigStation()],
});

/** A filter that has read this pressure (gauge Pa) some times, at rest. */
function read(pa: number, zeroPa: number | null): FilterState {
  const state = createFilter(plan, 0);
  updateWall(plan, state, 293.15, 0.04, 6);
  for (let k = 0; k < 200; k++) updatePressure(plan, state, pa, 3000, Number.POSITIVE_INFINITY);
  if (zeroPa !== null) {
    learnZero(state, zeroPa, 500);
    for (let k = 0; k < 200; k++) updatePressure(plan, state, pa, 3000, Number.POSITIVE_INFINITY);
  }
  return state;
}

/** 1 sigma of what the sensor's class leaves open of the content's pressure, Pa. */
const sigmaPa = (state: FilterState): number =>
  Math.hypot(
    ...[OFFSET, SPAN].map((i) => covariance(state, RHO, i) / Math.sqrt(variance(state, i))),
  ) * plan.gas.slope(state.x[RHO]!, 293.15);

const classSigma = plan.sensorLimitPa / Math.sqrt(3);

describe("a sensor's class", () => {
  it("is all uncertain until a zero is learnt, low and high in the range alike", () => {
    for (const pa of [10e5, 240e5]) {
      const sigma = sigmaPa(read(pa, null));
      expect(sigma).toBeGreaterThan(0.95 * classSigma);
      expect(sigma).toBeLessThan(1.1 * classSigma);
    }
  });

  it("stays uncertain at the top of the range when its zero is learnt, and not at its foot", () => {
    expect(sigmaPa(read(10e5, 0.4e5))).toBeLessThan(0.1 * classSigma);
    // By hand: e(p) = e(0)·(1 - s/2) + t·s at the share s of the range, with t as wide as the class.
    const top = sigmaPa(read(240e5, 0.4e5));
    expect(top).toBeGreaterThan(0.8 * classSigma);
    expect(top).toBeLessThan(classSigma);
  });

  it("is expected to err less at the top than a learnt zero, never beyond its limit", () => {
    const state = read(200e5, plan.sensorLimitPa);
    expect(classErrorPa(plan, state, 0)).toBeCloseTo(plan.sensorLimitPa, -3);
    expect(classErrorPa(plan, state, plan.sensorRangePa)).toBeLessThan(0.6 * plan.sensorLimitPa);
  });
});
