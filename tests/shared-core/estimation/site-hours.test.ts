import { expect, test } from "vitest";
import { dayThatIsOver } from "../../../shared-core/estimation/site-hours.ts";

/** 2025-11-24, a Monday, 0:00 local. */
const MONDAY = Date.UTC(2025, 10, 24) / 1000;
const day = MONDAY / 86_400;
const over = (shifts: Parameters<typeof dayThatIsOver>[0], hour: number) => {
  const which = dayThatIsOver(shifts, MONDAY + hour * 3600);
  return which === null ? null : which - day;
};

// The hours are the shop's own choice: no source.
test("without shifts the day is over from 14:00 to midnight", () => {
  expect([0, 13.9, 14, 23.9, 24, 37.9, 38].map((hour) => over([], hour))).toEqual([
    null,
    null,
    0,
    0,
    null,
    null,
    1,
  ]);
});

test("a break between two shifts is no end, the last one's end is, and belongs to its day past midnight", () => {
  const shifts = [
    { days: [1], from: "07:00", to: "12:00" },
    { days: [1], from: "13:00", to: "22:30" },
  ];
  expect([6, 12.5, 15, 22.4].map((hour) => over(shifts, hour))).toEqual([null, null, null, null]);
  expect([22.5, 23.9, 24.5, 34].map((hour) => over(shifts, hour))).toEqual([0, 0, 0, 0]);
  // Tuesday has no shift: as where there are none.
  expect([35, 37, 38].map((hour) => over(shifts, hour))).toEqual([null, null, 1]);
});

test("a shift until midnight, and one through the night", () => {
  const late = [{ days: [1], from: "14:00", to: "24:00" }];
  expect([23, 24, 30].map((hour) => over(late, hour))).toEqual([null, 0, 0]);
  const night = [{ days: [1], from: "22:00", to: "06:00" }];
  expect([19, 23, 29, 30, 35].map((hour) => over(night, hour))).toEqual([null, null, null, 1, 1]);
});
