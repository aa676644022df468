import { describe, expect, it } from "vitest";
import { changedAfterAnHour } from "../../accuracy/alarm-runs.ts";
import { ownRhythms, simulateTwoDrops, twoDropStartS } from "../../accuracy/two-drops.ts";
import { seeds } from "../../hours.ts";

const TURN_S = 4200;

/** One welder; most of the regulator's gap is lock-up, so that the line hardly moves with the flow. */
function turned(seed: number, factor: number) {
  const rhythm = ownRhythms(seed);
  return simulateTwoDrops(
    {
      hours: 2,
      every: 1,
      open: (t) => [rhythm(t)[0], false],
      lockUpPa: 0.35e5,
      turn: { t: TURN_S, factor },
    },
    seed,
  ).filter(({ station }) => station === "bay-3");
}

describe("a float turned by 15 % behind a regulator that hardly droops", () => {
  it.each([0.85, 1.15])(
    "by %f: noticed within 180 s of gas-on, and right ten minutes later",
    { tags: ["hours"] },
    (factor) => {
      for (const seed of seeds(1, 2, 3)) {
        const lines = turned(seed, factor);
        const turn = twoDropStartS + TURN_S;
        const after = lines.filter(({ estimate }) => estimate.t >= turn);
        const first = after.find(({ torchOpen }) => torchOpen)?.estimate.t ?? 0;
        const events = lines.flatMap(({ estimate }) =>
          estimate.events
            .filter(({ event }) => event === "re-dial")
            .map((event) => ({ ...event, seenT: estimate.t })),
        );
        expect(events).toHaveLength(1);
        const event = events[0]!;
        const gasOnS = after.filter((l) => l.torchOpen && l.estimate.t <= event.seenT).length;
        expect(gasOnS).toBeLessThanOrEqual(180);
        expect(event.t).toBeGreaterThanOrEqual(turn);
        expect(event.t).toBeLessThanOrEqual(first + 20);
        expect(Math.abs(event.ratio! - factor)).toBeLessThan(0.08);
        // From ten seconds after each gas-on.
        let onS = 0;
        const on = after.filter((l) => {
          onS = l.torchOpen ? onS + 1 : 0;
          return onS > 10 && l.estimate.mode === "flowing";
        });
        const later = on.slice(600).map((l) => l.estimate.flow.lpm! / l.trueLpm - 1);
        expect(later.length).toBeGreaterThan(100);
        expect(Math.max(...later.map(Math.abs))).toBeLessThan(0.05);
        const held = on
          .slice(30)
          .filter(
            ({ estimate: { flow }, trueLpm }) => flow.low! <= trueLpm && trueLpm <= flow.high!,
          );
        expect(held.length / (on.length - 30)).toBeGreaterThan(0.9);
      }
    },
  );

  it("not turned: no re-dial", { tags: ["hours"] }, () => {
    for (const seed of seeds(1, 2, 3)) {
      const events = turned(seed, 1).flatMap(({ estimate }) => estimate.events);
      expect(events.filter(({ event }) => event === "re-dial")).toEqual([]);
    }
  });
});

describe("a needle turned down by more than a third in the middle of a weld", () => {
  it("is one turn, and the new flow is within its interval from the first minute on", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(1, 3, 4)) {
      const { lines, changeS: turn } = changedAfterAnHour(
        seed,
        1.4,
        (plant) => plant.setTrueFlow(4.8),
        { variation: { lockUpBar: 0.2 + 0.1 * seed } },
      );
      const after = lines.filter(({ estimate }) => estimate.t > turn);
      const turns = after.flatMap(({ estimate }) =>
        estimate.events.filter(({ event }) => event === "re-dial"),
      );
      expect(turns).toHaveLength(1);
      const told = after.findIndex(({ estimate }) =>
        estimate.events.some(({ event }) => event === "re-dial"),
      );
      let onS = 0;
      const on = after.slice(told).filter(({ estimate, truth }) => {
        onS = truth.gasOn ? onS + 1 : 0;
        return onS > 10 && estimate.mode === "flowing";
      });
      const held = on.filter(
        ({ estimate: { flow }, truth }) =>
          flow.low! <= truth.flowLpm && truth.flowLpm <= flow.high!,
      );
      expect(on.length).toBeGreaterThan(300);
      expect(held.length / on.length).toBeGreaterThan(0.9);
    }
  });
});

describe("a delivery that is turned down just as the gas goes off", () => {
  it("is told as no opened float; the next gas-on tells gas-off as well, and its flow is right", () => {
    // Where the line then rests is where a flowing one stands behind a wide open float.
    const {
      lines,
      events,
      changeS: turn,
    } = changedAfterAnHour(7, 1.2, (plant) => plant.setDeliveryFor(4.8), {
      variation: { lockUpBar: 0.5 },
    });
    const off = events.find(({ event, t }) => event === "gas-off" && t > turn - 5)!;
    const on = events.find(({ event, t }) => event === "gas-on" && t > turn)!;
    // The case itself: gas goes off as the screw is turned.
    expect(Math.abs(off.t - turn)).toBeLessThan(5);
    const told = lines.flatMap(({ estimate }) => estimate.events).filter(({ t }) => t > turn - 5);
    expect(told.filter(({ event }) => event === "re-dial")).toEqual([]);
    expect(told.some(({ event, t }) => event === "gas-off" && Math.abs(t - off.t) < 6)).toBe(true);
    expect(told.some(({ event, t }) => event === "gas-on" && Math.abs(t - on.t) < 3)).toBe(true);
    const after = lines.filter(
      ({ estimate, truth }) => truth.gasOn && estimate.t > on.t + 10 && estimate.mode === "flowing",
    );
    expect(after.length).toBeGreaterThan(200);
    const held = after.filter(
      ({ estimate: { flow }, truth }) => flow.low! <= truth.flowLpm && truth.flowLpm <= flow.high!,
    );
    expect(held.length / after.length).toBeGreaterThan(0.9);
  });
});
