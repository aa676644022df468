import { expect, test } from "vitest";
import { niceTop } from "../../../dashboard/display/chart-data.ts";
import { tickLabel, valueTicks } from "../../../dashboard/display/chart-ticks.ts";

const DAY_S = 86_400;
const zone = "Europe/Copenhagen";
const at = (text: string) => Date.parse(text) / 1000;

test.each([
  ["2026-03-01T00:00:00+01:00", 30 * DAY_S, 365 * DAY_S, "Mar"],
  ["2026-01-01T00:00:00+01:00", 30 * DAY_S, 365 * DAY_S, "Jan 2026"],
  ["2025-11-22T00:00:00+01:00", 5 * DAY_S, 30 * DAY_S, "22 Nov"],
  ["2025-11-22T00:00:00+01:00", DAY_S, 7 * DAY_S, "Sat 22"],
  ["2025-11-22T00:00:00+01:00", 3 * 3600, DAY_S, "Sat 22"],
  ["2025-11-22T15:00:00+01:00", 3 * 3600, DAY_S, "15:00"],
  ["2025-11-22T15:00:30+01:00", 30, 120, "15:00:30"],
])("%s at steps of %i s over %i s is said as its step deserves", (time, step, length, said) => {
  expect(tickLabel(at(time), step, length, zone)).toBe(said);
});

test("the top of every axis carries its value, and steps are even and few", () => {
  for (let value = 0.011; value < 40_000; value *= 1.07) {
    const top = niceTop(value);
    for (const most of [2, 4]) {
      const ticks = valueTicks(top, most);
      expect(ticks[0]).toBe(0);
      expect(ticks.at(-1)! / top).toBeCloseTo(1, 5);
      expect(ticks.length).toBeLessThanOrEqual(most + 1);
      expect(ticks.length, `${top} in ${most}`).toBeGreaterThan(2);
    }
  }
});
