import {
  FIRST_DROP,
  GAS,
  RHO,
  ROOM,
  WALL,
} from "@leeward/shared-core/estimation/cylinder-filter.ts";
import {
  dropMolPerS,
  type LineChange,
  moveFilter,
} from "@leeward/shared-core/estimation/mass-flow.ts";
import { planSupply } from "@leeward/shared-core/estimation/plan.ts";
import { createState } from "@leeward/shared-core/estimation/supply-state.ts";
import { describe, expect, it } from "vitest";
import { tigStation } from "../../accuracy/stations.ts";

const plan = planSupply({ supply: null, stations: [tigStation()] });
const LEVEL_PA = 3.4e5;

/** Seconds of full flow by which one second of the filter makes the cylinder lighter. */
function countedS(wasOn: boolean, change: LineChange, linePa: number): number {
  const state = createState(plan, 1);
  const { filter } = state;
  const drop = state.drops[0]!;
  const T = 1000;
  filter.t = T - 1;
  filter.started = true;
  filter.warm = true;
  filter.x[RHO] = 6000;
  for (const i of [GAS, WALL, ROOM]) filter.x[i] = 293.15;
  state.cylinder.valve = "open";
  state.cylinder.readingPa = 150e5;
  Object.assign(drop, { on: wasOn, onSince: T - 60, flowPa: LEVEL_PA, refPa: LEVEL_PA });
  Object.assign(drop, { anchorPa: LEVEL_PA, gapPa: 0.4e5, gaps: 10, idlePa: LEVEL_PA + 0.4e5 });
  Object.assign(drop, { meanPa: LEVEL_PA, meanCount: 10, linePa, lineT: T, lastSampleGap: 1 });
  drop.previous = [wasOn ? LEVEL_PA : LEVEL_PA + 0.4e5, linePa];
  const q = dropMolPerS(plan, state, 0, T) / plan.filter.waterVolumeM3;
  expect(Number.isFinite(filter.x[FIRST_DROP]!)).toBe(true);
  moveFilter(plan, state, T, 1, [wasOn], [change]);
  return (6000 - filter.x[RHO]!) / q;
}

describe("gas counted between two readings of the line", () => {
  it("runs all the time while gas is on, and none while it is off", () => {
    expect(countedS(true, null, LEVEL_PA)).toBeCloseTo(1, 2);
    expect(countedS(false, null, LEVEL_PA + 0.4e5)).toBeCloseTo(0, 2);
  });

  it("runs for half of it where the second reading shows that gas went on", () => {
    expect(countedS(false, { on: true, t: 1000 }, LEVEL_PA)).toBeCloseTo(0.5, 1);
  });

  it("runs for half of it where the second one shows that it went off, the hose full by then", () => {
    expect(countedS(true, { on: false, t: 1000 }, LEVEL_PA + 0.4e5)).toBeCloseTo(0.5, 1);
  });
});
