import { expect, test } from "vitest";
import { isSetAside, placeOf, speaksAgain } from "../../../dashboard/display/former-node.ts";

const nowS = Date.parse("2026-11-27T14:00:00Z") / 1000;
const stood = { owner: "station:bay-3", until: "2026-11-20T09:00:00Z" };

test.each([
  ["replaced, and silent for a week", "2026-11-20T08:59:00Z", stood, true],
  ["replaced before it ever spoke", null, stood, true],
  ["replaced, but speaking again", "2026-11-27T13:59:50Z", stood, false],
  ["late by less than three packs of an idle node", "2026-11-27T13:57:10Z", stood, false],
  ["new, and silent: nobody replaced it", "2026-11-20T08:59:00Z", undefined, false],
])("a free node that was %s", (_, lastSample, before, aside) => {
  expect(isSetAside({ lastSample, stood: before }, nowS)).toBe(aside);
});

test.each([
  ["heard since it left", "2026-11-27T13:59:50Z", "2026-11-27T13:50:00Z", true],
  [
    "heard a minute before it left, and not since",
    "2026-11-27T13:58:00Z",
    "2026-11-27T13:59:00Z",
    false,
  ],
  [
    "heard since it left, and silent again for an hour",
    "2026-11-27T13:00:00Z",
    "2026-11-20T09:00:00Z",
    false,
  ],
])("a free node that was %s", (_, lastSample, until, speaks) => {
  expect(speaksAgain({ lastSample, stood: { ...stood, until } }, nowS)).toBe(speaks);
});

test("the place where it stood is a station by its id, or a supply by its name", () => {
  expect(placeOf("north", stood)).toEqual({ station: "north.bay-3" });
  expect(placeOf("north", { ...stood, owner: "supply:ring-1" })).toEqual({ supply: "ring-1" });
});
