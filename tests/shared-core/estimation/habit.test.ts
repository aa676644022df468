import { describe, expect, it } from "vitest";
import {
  createHabit,
  dutyAt,
  mayFlowUnseen,
  observe,
} from "../../../shared-core/estimation/habit.ts";

/** 1970-01-05, a Monday, 10:00. */
const MONDAY_10 = 4 * 86_400 + 10 * 3600;

describe("gas that may flow unseen", () => {
  it("is allowed for in working hours and not at night", () => {
    const habit = createHabit();
    expect(mayFlowUnseen(habit, MONDAY_10, 100, 60)).toBe(true);
    expect(mayFlowUnseen(habit, MONDAY_10 + 14 * 3600, 100, 60)).toBe(false);
  });

  it("is less likely where spells are long against the delay", () => {
    expect(mayFlowUnseen(createHabit(), MONDAY_10, 3600, 60)).toBe(false);
  });

  it("follows what was seen: an hour without work needs more evidence", () => {
    const habit = createHabit();
    for (let t = 0; t < 6 * 7 * 86_400; t += 600) observe(habit, t, 600, false);
    expect(dutyAt(habit, MONDAY_10)).toBeLessThan(0.03);
    expect(mayFlowUnseen(habit, MONDAY_10, 100, 60)).toBe(false);
  });
});
