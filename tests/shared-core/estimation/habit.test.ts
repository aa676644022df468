import { describe, expect, it } from "vitest";
import {
  createHabit,
  dutyAt,
  isQuietHour,
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

describe("an hour when nobody welds", () => {
  /** Four weeks with gas on each working day from 8 to 10. */
  function weeks() {
    const habit = createHabit();
    for (let t = MONDAY_10 - 10 * 3600; t < MONDAY_10 + 28 * 86_400; t += 600) {
      const hour = Math.floor(t / 3600) % 24;
      observe(habit, t, 600, hour >= 8 && hour < 10);
    }
    return habit;
  }

  it("is known once the day of the week was seen often enough", () => {
    expect(isQuietHour(createHabit(), MONDAY_10 + 12 * 3600)).toBe(false);
    expect(isQuietHour(weeks(), MONDAY_10 + 12 * 3600)).toBe(true);
  });

  it("is neither an hour of work nor the one beside it", () => {
    expect(isQuietHour(weeks(), MONDAY_10 - 3600)).toBe(false);
    expect(isQuietHour(weeks(), MONDAY_10)).toBe(false);
    expect(isQuietHour(weeks(), MONDAY_10 - 3 * 3600)).toBe(false);
  });
});
