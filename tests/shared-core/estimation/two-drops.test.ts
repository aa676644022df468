import { describe, expect, it } from "vitest";
import type { ReceivedItem } from "../../../shared-core/estimation/engine.ts";
import {
  createSupplyEngine,
  restoreSupplyEngine,
} from "../../../shared-core/estimation/supply-engine.ts";
import {
  ownRhythms,
  simulateTwoDrops,
  type TwoDropLine,
  type TwoDropScenario,
  twoDropDocuments,
  twoDropStartS,
} from "../../accuracy/two-drops.ts";
import { seeds } from "../../hours.ts";

const flowing = (lines: readonly TwoDropLine[], station: string) =>
  lines.filter(
    (line) =>
      line.station === station &&
      line.torchOpen &&
      line.trueLpm > 5 &&
      line.estimate.mode === "flowing" &&
      line.estimate.flow.lpm !== null,
  );

const held = (lines: readonly TwoDropLine[]) =>
  lines.filter(
    ({ estimate, trueLpm }) => estimate.flow.low! <= trueLpm && trueLpm <= estimate.flow.high!,
  ).length / lines.length;

const relativeWidth = (lines: readonly TwoDropLine[]) =>
  lines.reduce((sum, { estimate: { flow } }) => sum + (flow.high! - flow.low!) / flow.lpm!, 0) /
  lines.length;

describe("two drops on one cylinder", () => {
  it("that weld at their own times, alone and together, are told apart", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(1, 2, 3)) {
      const lines = simulateTwoDrops({ hours: 1.5, every: 5, open: ownRhythms(seed) }, seed);
      for (const station of ["bay-3", "bay-4"]) {
        const on = flowing(lines, station);
        expect(on.length).toBeGreaterThan(250);
        expect(held(on)).toBeGreaterThan(0.93);
        const late = on.slice(on.length >> 1);
        expect(relativeWidth(late)).toBeLessThan(0.15);
        const error =
          late.reduce((sum, line) => sum + line.estimate.flow.lpm! / line.trueLpm - 1, 0) /
          late.length;
        expect(Math.abs(error)).toBeLessThan(0.05);
        const alarms = new Set(
          on.flatMap(({ estimate }) => estimate.alarms.map((a) => a.condition)),
        );
        expect([...alarms]).not.toContain("under-shielding");
      }
    }
  });

  it("that always weld together stay wide, and say why", { tags: ["hours"] }, () => {
    let inside = 0;
    let count = 0;
    for (const seed of seeds(1, 2, 3, 4)) {
      const lines = simulateTwoDrops(
        {
          hours: 1.5,
          every: 5,
          open: (t) => {
            const on = t > 300 && t % 200 < 80;
            return [on, on];
          },
        },
        seed,
      );
      for (const station of ["bay-3", "bay-4"]) {
        const on = flowing(lines, station);
        inside += held(on) * on.length;
        count += on.length;
        const late = on.slice(on.length >> 1);
        expect(relativeWidth(late)).toBeGreaterThan(0.3);
        expect(late.every(({ estimate }) => estimate.flow.why?.includes("same times"))).toBe(true);
        const alarms = new Set(
          on.flatMap(({ estimate }) => estimate.alarms.map((a) => a.condition)),
        );
        expect([...alarms]).not.toContain("under-shielding");
      }
    }
    expect(inside / count).toBeGreaterThan(0.93);
  });
});

it("two drops restore exactly after a pack of the node that does not read the cylinder", () => {
  const items: ReceivedItem[] = [];
  const scenario = { hours: 0.3, every: 10, open: ownRhythms(1) };
  simulateTwoDrops(scenario, 1, (item) => items.push(item));
  const setup = { ...twoDropDocuments(), timeZone: "UTC" };
  let through = createSupplyEngine(setup, { every: 10 });
  let compared = 0;
  items.forEach((item, k) => {
    through.receive(item);
    if (k % 37 !== 0 || !("pack" in item) || item.pack.node !== "n-08") return;
    const restored = restoreSupplyEngine(through.serialise());
    for (const next of items.slice(k + 1, k + 3)) {
      through.receive(next);
      restored.receive(next);
    }
    expect(restored.serialise()).toBe(through.serialise());
    through = restored;
    compared++;
  });
  expect(compared).toBeGreaterThan(2);
});

describe("two drops on one cylinder, of which one or both tell neither line nor arc", () => {
  const unseen = (withoutLine: string[], seed: number, onS: number, offS: number) =>
    simulateTwoDrops(
      { hours: 2, every: 10, open: ownRhythms(seed, onS, offS), withoutLine },
      seed,
    ).filter(({ estimate }) => estimate.t > twoDropStartS + 900);

  const contentHeld = (lines: readonly TwoDropLine[]) =>
    lines.filter(
      ({ estimate: { content }, contentL }) =>
        content.low! <= contentL && contentL <= content.high!,
    ).length / lines.length;

  const alarmsOf = (lines: readonly TwoDropLine[]) => [
    ...new Set(lines.flatMap(({ estimate }) => estimate.alarms.map((a) => a.condition))),
  ];

  it.each([
    ["the one without the cylinder's node", "n-08", "bay-3", "bay-4", 70, 110],
    ["the one with the cylinder's node", "n-07", "bay-4", "bay-3", 300, 600],
  ])(
    "%s: what it draws teaches the other nothing, and it is never told idle or flowing",
    { tags: ["hours"] },
    (_, node, seen, blind, onS, offS) => {
      for (const seed of seeds(1, 2)) {
        const lines = unseen([node], seed, onS, offS);
        const on = flowing(lines, seen);
        expect(on.length).toBeGreaterThan(100);
        expect(held(on)).toBe(1);
        for (const { estimate } of on) expect(estimate.flow.why).toContain(`${blind} draws`);
        const own = lines.filter(({ station }) => station === blind);
        expect(own.some(({ torchOpen }) => torchOpen)).toBe(true);
        for (const { estimate } of own) {
          expect(estimate.mode).toBe("unknown");
          expect(estimate.flow.lpm).toBeNull();
          expect(estimate.flow.why).toContain("others draw from the same supply");
        }
        expect(contentHeld(lines)).toBeGreaterThan(0.93);
        expect(alarmsOf(lines)).toEqual([]);
      }
    },
  );

  it("both: each is unknown with its reason, and the content holds", { tags: ["hours"] }, () => {
    for (const seed of seeds(1, 2)) {
      const lines = unseen(["n-07", "n-08"], seed, 300, 600);
      expect(lines.length).toBeGreaterThan(500);
      for (const { estimate } of lines) {
        expect(estimate.mode).toBe("unknown");
        expect(estimate.flow.why).toContain("others draw from the same supply");
      }
      expect(contentHeld(lines)).toBeGreaterThan(0.93);
      expect(alarmsOf(lines)).toEqual([]);
    }
  });

  it("at hours at which nobody works they are idle, until a fall shows that somebody does", () => {
    // 08:30 at the start, 20:30 there.
    const timeZone = "Asia/Vladivostok";
    const lines = simulateTwoDrops(
      {
        hours: 2,
        every: 10,
        open: (t) => [t > 3600 && t % 600 < 300, false],
        withoutLine: ["n-07", "n-08"],
        timeZone,
      },
      1,
    );
    const before = lines.filter(
      ({ estimate: { t } }) => t > twoDropStartS + 900 && t < twoDropStartS + 3500,
    );
    expect(before.length).toBeGreaterThan(300);
    for (const { estimate } of before) expect(estimate.mode).toBe("idle");
    const after = lines.filter(({ estimate: { t } }) => t > twoDropStartS + 3600 + 300);
    expect(after.some(({ torchOpen }) => torchOpen)).toBe(true);
    for (const { estimate } of after) expect(estimate.mode).toBe("unknown");
  });
});

describe("a leak that several places share", () => {
  const leaks = (places: NonNullable<TwoDropScenario["places"]>) => {
    const scenario = { hours: 5, every: 60, leakLpm: 0.4, places };
    const lines = simulateTwoDrops({ ...scenario, open: () => [false, false] }, 1);
    return ["bay-3", "bay-4"].map((station) => {
      const last = lines.findLast((line) => line.station === station)!.estimate;
      return last.alarms.find(({ condition }) => condition === "leak")!;
    });
  };
  const hall = { roomM3: 6000, airChangesPerHour: 2, confined: false };

  it("is as urgent everywhere as at the worst of them, which is named", () => {
    const [first, second] = leaks([hall, { confined: true }]);
    expect([first!.priority, second!.priority]).toEqual(["high", "high"]);
    expect(first!.title).toContain("bay-4 is a confined space");
    expect(first!.advice).toContain("It may leak at any place that draws from this supply");
    expect(second!.title).toContain("the place is a confined space");
    expect(second!.advice).not.toContain("any place that draws");
  });

  it("in halls is nothing of the kind", () => {
    const [first, second] = leaks([hall, hall]);
    expect([first!.priority, second!.priority]).toEqual(["low", "low"]);
  });
});
