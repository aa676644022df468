import type { AlarmView } from "@leeward/shared-core/api/alarms.ts";
import { describe, expect, test } from "vitest";
import {
  actsFor,
  alarmOrder,
  awayChoices,
  groupAlarms,
  stateOrder,
} from "../../../dashboard/alarms/groups.ts";

function alarm(id: string, change: Partial<AlarmView> = {}): AlarmView {
  return {
    id,
    site: "north",
    station: "north.bay-3",
    condition: "leak",
    priority: "medium",
    state: "unacknowledged",
    active: true,
    since: "2025-11-25T08:00:00.000Z",
    raised: "2025-11-25T08:00:00.000Z",
    returned: null,
    acknowledged: null,
    shelf: null,
    suppressedBy: null,
    title: id,
    advice: "",
    said: null,
    shelveLimitMin: 60,
    ...change,
  };
}

describe("alarms by state", () => {
  test("the neediest state first, within it the most urgent", () => {
    const alarms = [
      alarm("seen", { state: "acknowledged", priority: "high" }),
      alarm("soon"),
      alarm("now", { priority: "high" }),
      alarm("away", { state: "shelved" }),
    ];
    const groups = groupAlarms(alarms, alarmOrder([], alarms));
    expect(groups.map((group) => [group.state, group.alarms.map(({ id }) => id)])).toEqual([
      ["unacknowledged", ["now", "soon"]],
      ["acknowledged", ["seen"]],
      ["shelved", ["away"]],
    ]);
  });

  test("nothing jumps: a place changes only when one becomes more urgent", () => {
    const first = alarmOrder([], [alarm("a"), alarm("b")]);
    const calmer = alarmOrder(first, [alarm("b"), alarm("a", { priority: "low" })]);
    expect(calmer.map(({ id }) => id)).toEqual(["a", "b"]);
    const louder = alarmOrder(calmer, [
      alarm("a", { priority: "low" }),
      alarm("b", { priority: "high" }),
    ]);
    expect(louder.map(({ id }) => id)).toEqual(["b", "a"]);
  });

  test("every state of the vocabulary but normal has its place, and none a false act", () => {
    expect(new Set(stateOrder).size).toBe(8);
    expect(actsFor({ state: "normal" })).toEqual([]);
    expect(actsFor({ state: "suppressed-by-design" })).toEqual([]);
    expect(actsFor({ state: "shelved" })).toEqual(["back"]);
    expect(actsFor({ state: "latched-unacknowledged" })).toContain("looked");
    expect(actsFor({ state: "acknowledged" })).not.toContain("seen");
  });

  test("a safety alarm is put away for an hour at most", () => {
    expect(awayChoices(60)).toEqual([15, 60]);
    expect(awayChoices(480)).toEqual([15, 60, 240, 480]);
  });
});
