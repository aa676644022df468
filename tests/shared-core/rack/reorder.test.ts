import { expect, test } from "vitest";
import { fullLastsMinutes, reorder } from "../../../shared-core/rack/reorder.ts";

const nowS = 1_764_057_600;
const day = 86_400;
const days = (n: number) => n * 1440;

test("the change-over that finds no full cylinder, less the lead time", () => {
  const [line] = reorder({
    nowS,
    stations: [
      { gas: "I1-Ar", dueInMinutes: days(1), fullLastsMinutes: days(4) },
      { gas: "I1-Ar", dueInMinutes: days(2), fullLastsMinutes: days(8) },
      { gas: "I1-Ar", dueInMinutes: null, fullLastsMinutes: null },
    ],
    inStore: new Map([["I1-Ar", 2]]),
    leadDays: 3,
    coverDays: 7,
  });
  // Changes on day 1, 2, 5, 9, 10 …: two in store last for the first two.
  expect(line).toEqual({
    gas: "I1-Ar",
    inStore: 2,
    unknown: 1,
    outOfStock: nowS + 5 * day,
    orderBy: nowS + 2 * day,
    order: 2,
  });
});

test("nothing foreseen is nothing to order, and says what is not known", () => {
  expect(
    reorder({
      nowS,
      stations: [{ gas: "C1-C", dueInMinutes: null, fullLastsMinutes: null }],
      inStore: new Map(),
      leadDays: 3,
      coverDays: 14,
    }),
  ).toEqual([{ gas: "C1-C", inStore: 0, unknown: 1, outOfStock: null, orderBy: null, order: 0 }]);
});

test("the most urgent gas first", () => {
  const lines = reorder({
    nowS,
    stations: [
      { gas: "A", dueInMinutes: days(9), fullLastsMinutes: null },
      { gas: "B", dueInMinutes: 10, fullLastsMinutes: null },
    ],
    inStore: new Map([["C", 4]]),
    leadDays: 1,
    coverDays: 14,
  });
  expect(lines.map(({ gas }) => gas)).toEqual(["B", "A", "C"]);
});

test("the pace of a busy hour is no habit: no cylinders by the dozen are ordered from it", () => {
  // 60 L left, gone in six minutes; at that pace a full one of 9000 L would last 15 h.
  const busy = fullLastsMinutes(6, 60, 9000);
  expect(busy).toBeNull();
  expect(fullLastsMinutes(days(2), 3000, 9000)).toBe(days(6));
  const [line] = reorder({
    nowS,
    stations: [{ gas: "M21-ArC-18", dueInMinutes: 6, fullLastsMinutes: busy }],
    inStore: new Map(),
    leadDays: 3,
    coverDays: 14,
  });
  // One change is certain; that more will follow is said, not counted.
  expect(line).toMatchObject({ order: 1, unknown: 1 });
});
