import { describe, expect, it } from "vitest";
import type { StationDocument } from "../../../shared-core/documents/station.ts";
import type { PlacedSample, ReceivedItem } from "../../../shared-core/estimation/engine.ts";
import {
  createSupplyEngine,
  restoreSupplyEngine,
} from "../../../shared-core/estimation/supply-engine.ts";
import { tigStation } from "../../accuracy/stations.ts";

const T0 = 1_764_057_600;
const setup = { supply: null, stations: [tigStation()] };

function pack(times: number[], linePa: number, received = times[times.length - 1]!): ReceivedItem {
  const samples: PlacedSample[] = times.flatMap((t) => [
    { channel: "cylinder-pressure", t, value: 150e5 },
    { channel: "line-pressure", t, value: linePa },
  ]);
  samples.push({ channel: "cylinder-temperature", t: times[times.length - 1]!, value: 18 });
  return {
    received,
    pack: { node: "n-07", boot: 1, seq: null, samples, thinned: false, stampedAtReceipt: false },
  };
}

/** An engine and what it said of silence; idle for ten minutes at 4.1 bar. */
function started() {
  const engine = createSupplyEngine(setup, { every: 10 });
  const silentAt: number[] = [];
  const feed = (item: ReceivedItem): void => {
    for (const { estimate } of engine.receive(item)) {
      if (estimate.mode === "silent") silentAt.push(estimate.t - T0);
    }
  };
  const wait = (t: number): void => {
    for (const { estimate } of engine.advance(T0 + t)) {
      if (estimate.mode === "silent") silentAt.push(estimate.t - T0);
    }
  };
  const idle = (from: number, to: number, linePa = 4.1e5): void => {
    for (let t = from; t < to; t += 60)
      feed(
        pack(
          [15, 30, 45, 60].map((s) => T0 + t + s),
          linePa,
        ),
      );
  };
  const flow = (from: number, to: number, linePa: (t: number) => number = () => 3.5e5): void => {
    for (let t = from; t < to; t += 2) feed(pack([T0 + t + 1, T0 + t + 2], linePa(t)));
  };
  idle(0, 600);
  return { engine, feed, wait, idle, flow, silentAt };
}

describe("silence", () => {
  it("is not read into the idle pace that follows gas-off", () => {
    const { idle, flow, silentAt } = started();
    for (let k = 0; k < 6; k++) {
      const at = 600 + 600 * k;
      flow(at, at + 120);
      flow(at + 120, at + 124, () => 4.1e5);
      idle(at + 124, at + 600);
    }
    expect(silentAt).toEqual([]);
  });

  it("is not read into the idle pace while the line pressure still falls", () => {
    const { idle, flow, silentAt } = started();
    flow(600, 640, (t) => 4.1e5 - 2500 * (t - 600));
    for (let k = 0; k < 10; k++) idle(640 + 60 * k, 700 + 60 * k, 3.1e5 - 3000 * k);
    expect(silentAt).toEqual([]);
  });

  it("is noticed within some ten seconds when a node stops in the middle of gas-on", () => {
    const { flow, wait, silentAt } = started();
    flow(600, 700);
    wait(709);
    expect(silentAt).toEqual([]);
    wait(714);
    expect(silentAt.length).toBe(1);
  });

  it("learns a slower pace although the station counts as silent in between", () => {
    const { feed, wait, silentAt } = started();
    for (let k = 1; k <= 12; k++) {
      feed(pack([T0 + 600 + 240 * k], 4.1e5));
      wait(600 + 240 * k + 239);
    }
    expect(silentAt.length).toBeLessThanOrEqual(3);
  });

  it("does not take one outage for a pace", () => {
    const { idle, wait, silentAt } = started();
    idle(1400, 1700);
    expect(silentAt.length).toBe(1);
    wait(1700 + 300);
    expect(silentAt.length).toBe(2);
  });
});

describe("last will", () => {
  const offline = (t: number): ReceivedItem => ({
    received: T0 + t,
    status: { node: "n-07", state: "offline", boot: 1 },
  });

  it("makes the station silent at once, with one line", () => {
    const { feed, wait, silentAt } = started();
    feed(offline(603));
    expect(silentAt).toEqual([610]);
    feed(offline(604));
    wait(2000);
    expect(silentAt).toEqual([610]);
  });

  it("is overridden by samples newer than it, not by older ones", () => {
    const { engine, feed } = started();
    feed(offline(620));
    const late = engine.receive(pack([T0 + 618], 4.1e5, T0 + 621));
    expect(late).toEqual([]);
    expect(engine.receive(pack([T0 + 650], 4.1e5, T0 + 650))).toEqual([]);
    const back = engine.receive(pack([T0 + 665, T0 + 680], 4.1e5, T0 + 680));
    expect(back.map(({ estimate }) => [estimate.t - T0, estimate.mode])).toEqual([
      [650, "idle"],
      [660, "idle"],
      [670, "idle"],
    ]);
    expect(back[2]?.estimate.alarms.map((alarm) => alarm.condition)).not.toContain("node-silent");
  });
});

describe("planned power-off", () => {
  const NIGHTLY = [{ from: "18:00", to: "06:00" }];
  /** 18:00 on Tuesday, 25 November 2025. */
  const SIX = Date.UTC(2025, 10, 25, 18) / 1000;
  const HOUR = 3600;

  /** A node that goes dark at `darkS` after 18:00; when it rang, s after 18:00, through `hours`. */
  function night(
    darkS: number,
    hours: number,
    {
      will = false,
      plannedOff = NIGHTLY as StationDocument["plannedOff"],
      timeZone = "UTC",
      offsetS = 0,
      restart = false,
      back = null as number | null,
    } = {},
  ) {
    const from = SIX - offsetS;
    let engine = createSupplyEngine(
      { supply: null, stations: [{ ...tigStation(), plannedOff }], timeZone },
      { every: 10 },
    );
    const said: { t: number; mode: string; rings: boolean }[] = [];
    const take = (lines: ReturnType<typeof engine.advance>) => {
      for (const { estimate } of lines) {
        const rings = estimate.alarms.some(({ condition }) => condition === "node-silent");
        said.push({ t: estimate.t - from, mode: estimate.mode, rings });
      }
    };
    const idle = (a: number, b: number) => {
      for (let t = a; t < b; t += 60)
        take(
          engine.receive(
            pack(
              [15, 30, 45, 60].map((s) => from + t + s),
              4.1e5,
            ),
          ),
        );
    };
    idle(-1800, darkS);
    if (will) {
      take(
        engine.receive({
          received: from + darkS + 1,
          status: { node: "n-07", state: "offline", boot: 1 },
        }),
      );
    }
    for (let t = darkS + 5; t < hours * HOUR; t += 30) {
      if (back !== null && t >= back) break;
      take(engine.advance(from + t));
      if (restart && t % (2 * HOUR) < 30) engine = restoreSupplyEngine(engine.serialise());
    }
    if (back !== null) idle(back, back + 1200);
    return { rang: said.filter(({ rings }) => rings).map(({ t }) => t), said };
  }

  for (const will of [false, true]) {
    it(`that a node does not come back from rings once in the morning${will ? ", after its last will" : ""}`, () => {
      const { rang, said } = night(600, 40, { will });
      expect(rang).toEqual([12 * HOUR + 600]);
      expect(said.filter(({ mode }) => mode === "silent").length).toBe(2);
    });
  }

  it("that begins before the node counts as silent explains it, and ends all the same", () => {
    expect(night(-60, 20).rang).toEqual([12 * HOUR + 600]);
  });

  it("does not explain a silence that began before it", () => {
    const { rang } = night(-600, 20);
    expect(rang.length).toBe(1);
    expect(rang[0]).toBeLessThan(0);
  });

  it("of a whole weekend ends on Monday by local time", () => {
    const plannedOff = [
      { from: "18:00", to: "06:00" },
      { days: [3, 4], from: "06:00", to: "18:00" },
    ];
    const zone = { timeZone: "Europe/Berlin", offsetS: HOUR };
    const { rang } = night(600, 80, { plannedOff, ...zone });
    expect(rang).toEqual([60 * HOUR + 600]);
  });

  it("rings nothing where the node is heard again before its grace has passed", () => {
    const { rang, said } = night(600, 20, { back: 12 * HOUR + 300 });
    expect(rang).toEqual([]);
    expect(said.at(-1)?.mode).toBe("idle");
  });

  it("does not explain a node that dies just after it came back", () => {
    const { rang } = night(12 * HOUR + 120, 20);
    expect(rang.length).toBe(1);
    expect(rang[0]! - 12 * HOUR).toBeLessThan(600);
  });

  it("is judged the same after restarts in the night", () => {
    expect(night(600, 20, { restart: true })).toEqual(night(600, 20));
  });

  it("is found by the next thing received where no clock ticks, with the same lines", () => {
    const ticked = night(600, 20, { back: 15 * HOUR });
    const engine = createSupplyEngine(
      { supply: null, stations: [{ ...tigStation(), plannedOff: NIGHTLY }], timeZone: "UTC" },
      { every: 10 },
    );
    const modes: { t: number; mode: string }[] = [];
    for (const [a, b] of [
      [-1800, 600],
      [15 * HOUR, 15 * HOUR + 1200],
    ] as const) {
      for (let t = a; t < b; t += 60) {
        const item = pack(
          [15, 30, 45, 60].map((s) => SIX + t + s),
          4.1e5,
        );
        for (const { estimate } of engine.receive(item))
          modes.push({ t: estimate.t - SIX, mode: estimate.mode });
      }
    }
    expect(modes).toEqual(ticked.said.map(({ t, mode }) => ({ t, mode })));
  });
});
