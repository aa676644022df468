import { describe, expect, test } from "vitest";
import { localMinute, startOf, stepFrom, unixOfLocal } from "../../../shared-core/time/zone.ts";

const zone = "Europe/Copenhagen";
const at = (text: string) => Date.parse(text) / 1000;

describe("local times of a site", () => {
  // Copenhagen: UTC+1 in winter, UTC+2 in summer; clocks go on at 01:00 UTC on the last Sundays of
  // March and October (Directive 2000/84/EC).
  test.each([
    ["2026-01-15T12:00", "2026-01-15T11:00:00Z"],
    ["2026-07-15T12:00", "2026-07-15T10:00:00Z"],
    ["2026-03-29T03:00", "2026-03-29T01:00:00Z"],
    ["2026-10-25T01:59", "2026-10-24T23:59:00Z"],
    ["2026-10-25T03:00", "2026-10-25T02:00:00Z"],
  ])("%s is %s, and back", (local, utc) => {
    expect(unixOfLocal(local, zone)).toBe(at(utc));
    expect(localMinute(at(utc), zone)).toBe(local);
  });

  test("an hour that comes twice is its first; one that never comes lies after the jump", () => {
    expect(unixOfLocal("2026-10-25T02:30", zone)).toBe(at("2026-10-25T00:30:00Z"));
    expect(unixOfLocal("2026-03-29T02:30", zone)).toBe(at("2026-03-29T01:30:00Z"));
  });

  test.each(["", "yesterday", "2026-02-30", "2026-13-01", "29.3.2026"])("%j is no time", (text) => {
    expect(unixOfLocal(text, zone)).toBeNull();
  });

  test("days of 23 and 25 hours, weeks from Monday, months", () => {
    const spring = startOf(at("2026-03-29T12:00:00Z"), "day", zone);
    expect(spring).toBe(at("2026-03-28T23:00:00Z"));
    expect(stepFrom(spring, "day", 1, zone) - spring).toBe(23 * 3600);
    const autumn = startOf(at("2026-10-25T12:00:00Z"), "day", zone);
    expect(stepFrom(autumn, "day", 1, zone) - autumn).toBe(25 * 3600);
    expect(startOf(at("2026-11-25T12:00:00Z"), "week", zone)).toBe(at("2026-11-22T23:00:00Z"));
    expect(startOf(at("2026-11-25T12:00:00Z"), "month", zone)).toBe(at("2026-10-31T23:00:00Z"));
    expect(stepFrom(at("2026-11-25T12:00:00Z"), "month", -2, zone)).toBe(
      at("2026-08-31T22:00:00Z"),
    );
  });

  test("a zone with half hours", () => {
    expect(unixOfLocal("2026-01-15T12:00", "Asia/Kolkata")).toBe(at("2026-01-15T06:30:00Z"));
  });
});
