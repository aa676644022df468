import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { expect, test } from "vitest";
import { alarm } from "../alarms/alarm-bench.ts";
import { openAlarms } from "../notify/notify-bench.ts";
import { HandClock, t0 } from "../support.ts";

test("spells of a station: over ones with their end, standing ones without, oldest first", async () => {
  const clock = new HandClock();
  const { alarms, store } = await openAlarms({ clock });
  const line = (at: number, ...conditions: string[]) => {
    const t = t0 + at;
    clock.goTo(t);
    const list = conditions.map((condition) => alarm(condition, { since: t - 5 }));
    alarms.take("north", "bay-3", { t, alarms: list, events: [] } as unknown as Estimate);
  };
  line(0, "under-shielding");
  line(60);
  line(300, "leak");
  await alarms.lifeCycle.settled();
  const spells = (from: number, to: number, station = "bay-3") =>
    store.alarms.spells({ site: "north", station, from: t0 + from, to: t0 + to });
  const found = await spells(-100, 1000);
  expect(found.map(({ condition, from, to }) => [condition, from - t0, to && to - t0])).toEqual([
    ["under-shielding", -5, 60],
    ["leak", 295, null],
  ]);
  expect((await spells(100, 200)).length).toBe(0);
  expect((await spells(100, 296)).map(({ condition }) => condition)).toEqual(["leak"]);
  expect((await spells(-100, 1000, "bay-4")).length).toBe(0);
});
