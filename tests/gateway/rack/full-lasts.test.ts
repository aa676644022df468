import { expect, test } from "vitest";
import type { StationRecord } from "../../../gateway/live/directory.ts";
import { FullLasts } from "../../../gateway/rack/full-lasts.ts";
import { exampleStation, openStore } from "../support.ts";

const station = (change: Record<string, unknown> = {}): StationRecord => ({
  ...{ id: "north.bay-3", site: "north", station: "bay-3", version: 1 },
  document: exampleStation(change),
});
const FULL_L = 9800;
const DAYS_MIN = 4 * 1440;

test("what a full cylinder lasts is known near the end of one, after a restart too", async () => {
  const store = await openStore();
  const before = new FullLasts(store);
  expect(await before.of(station(), FULL_L, null)).toBeNull();
  expect(await before.of(station(), FULL_L, DAYS_MIN)).toBe(DAYS_MIN);
  expect(await before.of(station(), FULL_L, null)).toBe(DAYS_MIN);
  const after = new FullLasts(store);
  expect(await after.of(station(), FULL_L, null)).toBe(DAYS_MIN);
  // Of a cylinder that holds another amount nothing is known.
  expect(await after.of(station(), 2 * FULL_L, null)).toBeNull();
});

test("news replaces what was kept", async () => {
  const store = await openStore();
  await new FullLasts(store).of(station(), FULL_L, DAYS_MIN);
  await new FullLasts(store).of(station(), FULL_L, 2 * DAYS_MIN);
  expect(await new FullLasts(store).of(station(), FULL_L, null)).toBe(2 * DAYS_MIN);
});

test("a virtual station's invented habit is not kept for a station of its name", async () => {
  const store = await openStore();
  const demo = new FullLasts(store);
  await demo.of(station({ virtual: true }), FULL_L, DAYS_MIN);
  expect(await demo.of(station({ virtual: true }), FULL_L, null)).toBe(DAYS_MIN);
  expect(await new FullLasts(store).of(station(), FULL_L, null)).toBeNull();
});
