import type { StationList, StationView } from "@leeward/shared-core/api/stations.ts";
import type { Priority } from "@leeward/shared-core/estimation/estimate.ts";
import { describe, expect, test } from "vitest";
import { Feed } from "../../../dashboard/api/feed.ts";
import { exampleEstimate, exampleView } from "../display/examples.ts";

function listOf(views: StationView[], nowS = 1000): StationList {
  return {
    site: { name: "Boatyard", timeZone: "UTC" },
    now: nowS,
    demo: { virtual: false, speed: 1 },
    stations: views,
    unclaimed: [],
  };
}

const station = (id: string, t = 100): StationView => ({
  ...exampleView(),
  id,
  estimate: { ...exampleEstimate(), t, alarms: [] },
});

const event = (id: string, t: number, priority?: Priority) => ({
  kind: "estimate" as const,
  data: {
    id,
    now: 1000 + t,
    lastSample: null,
    estimate: {
      ...exampleEstimate(),
      t,
      alarms: priority ? [{ condition: "leak", priority, since: t }] : [],
    },
  },
});

describe("what the page is told", () => {
  test("a first list is whole, a second one holds only what changed", () => {
    const feed = new Feed();
    const first = feed.takeList(listOf([station("a.1"), station("a.2")]), 0);
    expect(first.views.map(({ id }) => id)).toEqual(["a.1", "a.2"]);
    const renamed = { ...station("a.2"), name: "Slipway" };
    const second = feed.takeList(listOf([station("a.1"), renamed, station("a.3")]), 1000);
    expect(second.ids).toEqual(["a.1", "a.2", "a.3"]);
    expect(second.views.map(({ id }) => id)).toEqual(["a.2", "a.3"]);
    const third = feed.takeList(listOf([station("a.1")]), 2000);
    expect(third.ids).toEqual(["a.1"]);
    expect(third.views).toEqual([]);
  });

  test("an older list never puts an older estimate back", () => {
    const feed = new Feed();
    feed.takeList(listOf([station("a.1", 100)]), 0);
    feed.takeEvent(event("a.1", 110));
    const late = { ...station("a.1", 105), name: "Slipway" };
    expect(feed.takeList(listOf([late]), 10).views[0]?.estimate?.t).toBe(110);
  });

  test("an event of a station that no list held is said to be unknown", () => {
    const feed = new Feed();
    expect(feed.takeEvent(event("a.1", 100))).toBe(false);
  });

  test("an event that comes late changes nothing", () => {
    const feed = new Feed();
    feed.takeList(listOf([station("a.1", 100)]), 0);
    feed.takeEvent(event("a.1", 120));
    feed.takeEvent(event("a.1", 110));
    expect(feed.next(5000, 9).map((patch) => patch.estimate?.t)).toEqual([120]);
  });
});

describe("pace", () => {
  test("in sight once a second, out of sight every five, the newest each time", () => {
    const feed = new Feed();
    feed.takeList(listOf([station("a.1"), station("a.2")]), 0);
    feed.watch(["a.1"]);
    for (const t of [101, 102]) {
      feed.takeEvent(event("a.1", t));
      feed.takeEvent(event("a.2", t));
    }
    expect(feed.next(500, 9)).toEqual([]);
    expect(feed.next(1000, 9).map(({ id, estimate }) => [id, estimate?.t])).toEqual([["a.1", 102]]);
    expect(feed.next(2000, 9)).toEqual([]);
    expect(feed.next(5000, 9).map(({ id }) => id)).toEqual(["a.2"]);
  });

  test("a new need waits for nobody and comes first", () => {
    const feed = new Feed();
    feed.takeList(listOf([station("a.1"), station("a.2")]), 0);
    feed.watch(["a.1"]);
    feed.takeEvent(event("a.1", 101));
    feed.takeEvent(event("a.2", 101, "high"));
    expect(feed.next(10, 1).map(({ id }) => id)).toEqual(["a.2"]);
    expect(feed.next(1000, 1).map(({ id }) => id)).toEqual(["a.1"]);
  });

  test("whoever takes little at a time gets all of it in the end, none twice", () => {
    const feed = new Feed();
    const ids = Array.from({ length: 50 }, (_, k) => `a.${k}`);
    feed.takeList(listOf(ids.map((id) => station(id))), 0);
    for (const id of ids) feed.takeEvent(event(id, 200));
    const got: string[] = [];
    for (let round = 0; round < 20; round++) {
      got.push(...feed.next(6000 + round, 7).map(({ id }) => id));
    }
    expect(got.sort()).toEqual([...ids].sort());
  });
});
