import { describe, expect, it } from "vitest";
import { type ClockLag, followLag } from "../../../shared-core/estimation/clock-lag.ts";
import type { PlacedSample, ReceivedItem } from "../../../shared-core/estimation/engine.ts";
import {
  createSupplyEngine,
  restoreSupplyEngine,
} from "../../../shared-core/estimation/supply-engine.ts";
import { tigStation } from "../../accuracy/stations.ts";

const T0 = 1_764_057_600;

/** What is made of packs, each as [received, newest sample], s after the start. */
function behind(packs: readonly (readonly [number, number])[], boot = 1): number[] {
  let lag: ClockLag | undefined;
  return packs.map(([received, newestT], seq) => {
    lag = followLag(lag, { boot, seq, newestT: T0 + newestT, received: T0 + received });
    return lag?.behindS ?? 0;
  });
}

const each = (n: number, stepS: number, lagS: (at: number) => number) =>
  Array.from({ length: n }, (_, k) => [k * stepS, k * stepS - lagS(k * stepS)] as const);

describe("a lag", () => {
  it("that stays while packs come as they are made is the clock's, after three minutes", () => {
    for (const lagS of [300, 3600]) {
      expect(behind(each(4, 60, () => lagS))).toEqual([0, 0, 0, lagS]);
      const fast = behind(each(100, 2, () => lagS + 0.3));
      expect(fast.findIndex((s) => s > 0)).toBe(90);
      expect(fast.at(-1)).toBeCloseTo(lagS + 0.3, 6);
    }
  });

  it("of seconds is a network's", () => {
    expect(behind(each(100, 10, () => 90)).at(-1)).toBe(0);
  });

  it("of what waited for the link shrinks as it comes, and is no clock's", () => {
    // An hour of packs of one minute, one each second; and at twice the pace of their making.
    const burst = each(60, 1, (at) => 3600 - 59 * at);
    const slow = each(60, 30, (at) => 3600 - at);
    for (const packs of [burst, slow]) expect(Math.max(...behind(packs))).toBe(0);
  });

  it("of a clock behind, that had a queue on top, keeps the clock's part alone", () => {
    const before = each(10, 60, () => 600);
    const late = [[4200, 600 - 600 + 60] as const, [4201, 4201 - 1800] as const];
    const after = [[4260, 3660] as const];
    expect(behind([...before, ...late, ...after]).slice(-4)).toEqual([600, 600, 600, 600]);
  });

  it("is over with the first pack that is right, and becomes less with one that lags less", () => {
    const out = behind([...each(10, 60, () => 3600), [660, 660 - 600], [720, 719]]);
    expect(out.slice(-3)).toEqual([3600, 600, 0]);
  });

  it("that grows, by a clock set back once more, is found as well", () => {
    const out = behind(each(20, 60, (at) => (at < 600 ? 300 : 3900)));
    expect(out.at(-1)).toBe(3900);
  });
});

describe("a station whose clock is behind", () => {
  const setup = { supply: null, stations: [tigStation()], timeZone: "UTC" };

  /** Idle packs each minute; a broken line sensor from `faultAt` s on. Lines as said, with the time then. */
  function run(lagS: number, faultAt: number, minutes: number, every = 1, restartAt = -1) {
    let engine = createSupplyEngine(setup, { every });
    const said: { at: number; t: number; alarms: string[] }[] = [];
    for (let k = 1; k <= minutes; k++) {
      const now = T0 + 60 * k;
      if (k === restartAt) engine = restoreSupplyEngine(engine.serialise());
      const samples: PlacedSample[] = [45, 30, 15, 0].flatMap((ago) => [
        { channel: "cylinder-pressure", t: now - ago - lagS, value: 150e5 },
        60 * k >= faultAt
          ? { channel: "line-pressure/fault", t: now - ago - lagS, value: "open-circuit" }
          : { channel: "line-pressure", t: now - ago - lagS, value: 4.1e5 },
      ]);
      const item: ReceivedItem = {
        received: now + 0.4,
        pack: { node: "n-07", boot: 3, seq: k, samples, thinned: false, stampedAtReceipt: false },
      };
      for (const { estimate } of engine.receive(item)) {
        const alarms = estimate.alarms.map(({ condition }) => condition);
        said.push({ at: now - T0, t: estimate.t - T0, alarms });
      }
    }
    return said;
  }

  for (const lagS of [300, 3600, 86_400]) {
    it(`by ${lagS} s says so, and its lines and alarms are of now`, () => {
      const said = run(lagS, 900, 20);
      const clock = said.find(({ alarms }) => alarms.includes("node-clock-wrong"));
      expect(clock?.at).toBeLessThanOrEqual(480);
      const fault = said.find(({ alarms }) => alarms.includes("sensor-fault"));
      expect(fault?.at).toBe(900);
      const settled = said.filter(({ at }) => at > 300);
      expect(settled.every(({ at, t }) => Math.abs(at - t) <= 60)).toBe(true);
      // The time that the clock was moved by is not written out line by line.
      expect(said.length).toBeLessThan(1300);
      expect(said.every(({ t }, k) => k === 0 || t > said[k - 1]!.t)).toBe(true);
    });
  }

  it("is the same over a restart", () => {
    expect(run(3600, 900, 20, 10, 3)).toEqual(run(3600, 900, 20, 10));
    expect(run(3600, 900, 20, 10, 12)).toEqual(run(3600, 900, 20, 10));
  });
});
