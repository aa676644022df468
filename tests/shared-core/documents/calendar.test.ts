import { describe, expect, it } from "vitest";
import { inSpan, spanEndS, weeklySpanSchema } from "../../../shared-core/documents/calendar.ts";

/** Local seconds of a day (from Monday 2025-11-24) and time. */
const at = (day: number, hour: number): number => Date.UTC(2025, 10, 24 + day) / 1000 + hour * 3600;

describe("spans of the week", () => {
  const nights = [{ days: [1, 2, 3, 4, 5], from: "18:00", to: "06:00" }];
  const weekend = [{ days: [6, 7], from: "00:00", to: "24:00" }];

  it("one over midnight belongs to the day on which it begins", () => {
    expect(inSpan(nights, at(0, 5))).toBe(false); // Monday morning: Sunday is not listed
    expect(inSpan(nights, at(0, 18))).toBe(true);
    expect(inSpan(nights, at(1, 5.9))).toBe(true);
    expect(inSpan(nights, at(1, 6))).toBe(false);
    expect(inSpan(nights, at(5, 3))).toBe(true); // Saturday morning: Friday's night
    expect(inSpan(nights, at(5, 19))).toBe(false);
  });

  it("whole days, every day, and the end of the one that holds", () => {
    expect(inSpan(weekend, at(5, 0))).toBe(true);
    expect(inSpan(weekend, at(7, 0))).toBe(false);
    expect(inSpan([{ from: "12:00", to: "13:00" }], at(6, 12.5))).toBe(true);
    expect(spanEndS(nights, at(0, 20))).toBe(at(1, 6));
    expect(spanEndS(nights, at(0, 12))).toBeNull();
  });

  it("refuses what is no time of day", () => {
    expect(weeklySpanSchema.safeParse({ from: "25:00", to: "06:00" }).success).toBe(false);
    expect(weeklySpanSchema.safeParse({ from: "18:00", to: "6" }).success).toBe(false);
    expect(weeklySpanSchema.safeParse({ days: [0], from: "18:00", to: "06:00" }).success).toBe(
      false,
    );
  });
});
