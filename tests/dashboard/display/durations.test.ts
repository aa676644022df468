import { describe, expect, test } from "vitest";
import {
  aboutMoment,
  ageInWords,
  clockTime,
  dayAndTime,
  dayInWords,
  minutesBoundsInWords,
  minutesInWords,
  minutesRangeInWords,
  momentInWords,
  secondsInWords,
  spanInFull,
  spreadS,
} from "../../../dashboard/display/durations.ts";

describe("times in words", () => {
  test.each([
    [0.4, "under 1 min"],
    [62.9, "62 min"],
    [99.9, "99 min"],
    [101, "1 h 40"],
    [569, "9 h 20"],
    [790, "13 h 10"],
    [3200, "53 h"],
    [5759, "95 h"],
    [5760, "4 days"],
    [25_440, "17 days"],
  ])("%d minutes of gas are %s: rounded down, never up", (minutes, text) => {
    expect(minutesInWords(minutes)).toBe(text);
  });

  test("no duration looks like a clock or a count of seconds", () => {
    for (let minutes = 0; minutes < 5000; minutes += 7) {
      expect(minutesInWords(minutes)).not.toMatch(/:/);
      expect(minutesInWords(minutes)).toMatch(/min|h/);
    }
  });

  test("wide intervals become a range", () => {
    expect(minutesRangeInWords(180, 300)).toBe("3 – 5 h");
    expect(minutesRangeInWords(41, 75)).toBe("41 – 75 min");
    expect(minutesRangeInWords(70, 190)).toBe("1.1 – 3 h");
  });

  test("bounds", () => {
    expect(minutesBoundsInWords(58, 66)).toBe("58 to 66 min");
    expect(minutesBoundsInWords(540, 605)).toBe("9 h 00 to 10 h 00");
    expect(minutesBoundsInWords(3840, 6000)).toBe("2 days to 4 days");
    expect(minutesBoundsInWords(2640, 6000)).toBe("44 h to 4 days");
    // Two that fall on the same day are told in hours: "4 days to 4 days" says nothing.
    expect(minutesBoundsInWords(5820, 6780)).toBe("97 h to 113 h");
  });

  test("ages", () => {
    expect(ageInWords(2.2)).toBe("2 s ago");
    expect(ageInWords(-3)).toBe("0 s ago");
    expect(secondsInWords(180)).toBe("3 min");
    expect(secondsInWords(7500)).toBe("2 h 05");
    expect(secondsInWords(86_400 * 4 + 100)).toBe("4 days");
  });

  test("a span names its day once, and the year with it", () => {
    const start = Date.UTC(2026, 10, 26, 23, 0) / 1000;
    expect(spanInFull(start, start + 22 * 3600, "Europe/Copenhagen")).toBe(
      "27 Nov 2026, 00:00\u00a0–\u2060\u00a022:00",
    );
    expect(spanInFull(start, start + 22 * 3600, "UTC")).toBe(
      "26 Nov 2026, 23:00 – 27 Nov 2026, 21:00",
    );
  });

  test("clock times are the site's, not the browser's", () => {
    const noon = Date.parse("2026-11-25T12:00:00Z") / 1000;
    expect(clockTime(noon, "Europe/Berlin")).toBe("13:00");
    expect(clockTime(noon, "America/Chicago")).toBe("06:00");
    expect(momentInWords(noon, noon + 60, "UTC")).toBe("12:00");
    expect(momentInWords(noon, noon + 86_400, "UTC")).toBe("Wed 12:00");
    expect(momentInWords(noon - 30 * 86_400, noon, "UTC")).toBe("26 Oct");
    expect(dayAndTime(noon - 30 * 86_400, noon, "UTC")).toBe("26 Oct, 12:00");
    expect(dayAndTime(noon, noon, "UTC")).toBe("12:00");
    expect(momentInWords(noon - 365 * 86_400, noon, "UTC")).toBe("25 Nov 2025");
  });

  test("a moment to come is told as closely as its interval allows, and never later", () => {
    const now = Date.parse("2026-11-26T08:00:00Z") / 1000;
    const due = now + 3 * 3600 + 47 * 60;
    const hour = 3600;
    const about = (t: number, width: number | null) => aboutMoment(t, width, now, "UTC");
    expect(about(due, hour)).toBe("11:40");
    expect(about(due, 5 * hour)).toBe("11:00");
    // Hours away, however wide: the day alone would be taken for its evening.
    expect(about(due, 76 * hour)).toBe("11:00");
    expect(about(now + 60 * hour, 40 * hour)).toBe("Sat");
    expect(about(now + 60 * hour, null)).toBe("Sat");
    expect(about(now + 20 * 60, 5 * hour)).toBe("08:00");
    expect(dayInWords(due, now, "UTC")).toBe("today");
    expect(dayInWords(now + 20 * 24 * hour, now, "UTC")).toBe("16 Dec");
    expect(spreadS({ low: 380, high: 4980 })).toBe(276_000);
    expect(spreadS({ low: null, high: 10 })).toBeNull();
  });
});
