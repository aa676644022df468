import { describe, expect, it } from "vitest";
import {
  clockMinutes,
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

describe("minutes by the clock until the gas is used", () => {
  /** Hour by hour, as one would count by hand. */
  function counted(
    habit: ReturnType<typeof createHabit>,
    localS: number,
    minutes: number,
    k: number,
  ) {
    let left = minutes * 60;
    let t = localS;
    for (;;) {
      const end = (Math.floor(t / 3600) + 1) * 3600;
      const duty = Math.min(1, dutyAt(habit, t) * k);
      if (duty * (end - t) >= left) return (t + left / duty - localS) / 60;
      left -= duty * (end - t);
      t = end;
    }
  }

  it("are the same as counted hour by hour, over the ends of weeks too", () => {
    const habit = createHabit();
    for (let t = MONDAY_10 - 10 * 3600; t < MONDAY_10 + 20 * 86_400; t += 600) {
      observe(habit, t, 600, Math.floor(t / 3600) % 24 === 9);
    }
    for (const minutes of [0.5, 7, 45, 200, 900, 1700]) {
      for (const factor of [0.7, 1, 3]) {
        for (const hours of [0, 1.3, 60, 111.5]) {
          const at = MONDAY_10 + hours * 3600;
          const byHand = counted(habit, at, minutes, factor);
          const told = clockMinutes(habit, at, minutes, factor, false);
          if (byHand > 8 * 7 * 24 * 60) expect(told).toBeNull();
          else expect(told).toBeCloseTo(byHand, 6);
        }
      }
    }
  });

  it("count half of the present hour at least while gas flows", () => {
    expect(clockMinutes(createHabit(), MONDAY_10, 5, 1, true)).toBeCloseTo(10, 9);
  });
});
