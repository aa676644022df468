import { describe, expect, test } from "vitest";
import type { Actor } from "../../../gateway/virtual-shop/plant/welder.ts";
import type { ReceivedItem } from "../../../shared-core/estimation/engine.ts";
import {
  createSupplyEngine,
  restoreSupplyEngine,
} from "../../../shared-core/estimation/supply-engine.ts";
import { once, type Scenario, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { tigStation } from "../../accuracy/stations.ts";
import { exampleStation, t0 } from "../../gateway/support.ts";
import { allHours, seeds } from "../../hours.ts";

/** Valve is closed and the test told this long after the start, s; gas-on ends a minute before. */
const TOLD_S = 1500;

/** A station of the plant, which shares no code with the estimator, with leaks in L/min. */
function run(
  seed: number,
  leaks: { cylinderLeakLpm?: number; lineLeakLpm?: number },
  regulator: "open" | "shut" = "open",
) {
  const scenario: Scenario = {
    name: "leak-test",
    about: "valve closed after some gas-on, ten minutes of test",
    hours: 0.75,
    every: 10,
    station: tigStation({}),
    variation: () => leaks,
    actors: (_plant, _reporter, log) => {
      const at = (s: number, act: (plant: Parameters<Actor["act"]>[0]) => void) =>
        once(startUnixS + s, act);
      return [
        at(300, (plant) => {
          plant.inputs.drops[0]!.torchOpen = true;
        }),
        at(TOLD_S - 60, (plant) => {
          plant.inputs.drops[0]!.torchOpen = false;
        }),
        at(TOLD_S, (plant) => {
          plant.inputs.cylinderValveOpen = false;
          log.person(plant.t, { leakTest: { regulator } });
        }),
      ];
    },
  };
  const { lines } = simulate(scenario, seed);
  return lines;
}

const over = (lines: ReturnType<typeof run>) =>
  lines.filter(({ estimate }) => estimate.leak.test?.phase === "done").at(0)!;

describe("a leak test on the plant", () => {
  test("a tight station: no leak, and what it could have seen is small", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(1, 2, 3)) {
      const { estimate } = over(run(seed, {}));
      const { test: told } = estimate.leak;
      expect(told).toMatchObject({ side: "none", tested: "both" });
      expect(told!.cylinder!.smallest).toBeLessThan(5);
      expect(told!.line!.smallest).toBeLessThan(5);
      expect(estimate.leak.side).toBeNull();
      expect(estimate.mode).toBe("valve-closed");
    }
  });

  test("a leak before the seat is measured, and named where the regulator is shut too", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(1, 2, 3)) {
      for (const regulator of ["open", "shut"] as const) {
        const { estimate, truth } = over(run(seed, { cylinderLeakLpm: 0.01 }, regulator));
        const { test: told } = estimate.leak;
        expect(told!.side).toBe(regulator === "shut" ? "cylinder" : "unknown");
        const trueCm3 = truth.cylinderLeakLpm * 1000;
        expect(told!.cylinder!.low).toBeLessThan(trueCm3);
        expect(told!.cylinder!.high).toBeGreaterThan(trueCm3);
      }
    }
  });

  test("a leak that empties the high side while the gas settles is found, not called untested", () => {
    for (const lpm of [2, 6]) {
      const lines = run(1, { cylinderLeakLpm: lpm }, "shut");
      const { estimate } = over(lines);
      // The plant itself leaks down to the air, not below.
      expect(Math.min(...lines.map(({ truth }) => truth.cylinderGaugePa))).toBeGreaterThan(-3000);
      expect(["cylinder", "both"]).toContain(estimate.leak.test!.side);
      expect(estimate.leak.test!.cautions).toContain("high-side-empty");
      expect(estimate.leak.side).not.toBeNull();
    }
  });

  test("a leaking line behind an open regulator is measured by the high side that feeds it", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(1, 2, 3)) {
      const { estimate, truth } = over(run(seed, { lineLeakLpm: 0.01 }));
      const { test: told } = estimate.leak;
      expect(["unknown", "both", "line"]).toContain(told!.side);
      if (told!.side === "unknown") expect(told!.cautions).toContain("regulator-open");
      const trueCm3 = truth.lineLeakLpm * 1000;
      expect(told!.cylinder!.low).toBeLessThan(trueCm3);
      expect(told!.cylinder!.high + told!.line!.high).toBeGreaterThan(trueCm3);
    }
  });
});

describe("a line leak with the regulator shut", () => {
  /** Idle readings; from `told` on the line loses `fallPa` in ten minutes, by the ideal gas law. */
  function items(fallPa: number, spoiled = false): ReceivedItem[] {
    const out: ReceivedItem[] = [];
    for (let s = 0; s <= 1400; s += 10) {
      const at = t0 + s;
      if (s === 300) {
        out.push({ received: at - 1, person: { leakTest: { regulator: "shut" } } });
      }
      const gone = Math.max(0, s - 300) / 600;
      const noise = 1000 * Math.sin(s * 12.9898);
      const line = spoiled && s > 600 ? 3.2e5 : 3.6e5 - fallPa * gone + noise;
      const samples = [
        { channel: "cylinder-temperature", t: at, value: 20 },
        { channel: "cylinder-pressure", t: at, value: 120e5 + 3 * noise },
        { channel: "line-pressure", t: at, value: line },
      ];
      const pack = { node: "n-07", boot: 1, seq: s, thinned: false, stampedAtReceipt: false };
      out.push({ received: at, pack: { ...pack, samples } });
    }
    return out;
  }
  const setup = { supply: null, stations: [exampleStation({ station: "bay-3" })] };
  const lines = (list: ReceivedItem[], cut = -1) => {
    let engine = createSupplyEngine(setup, { every: 10 });
    return list.flatMap((item, k) => {
      if (k === cut) engine = restoreSupplyEngine(engine.serialise());
      return engine.receive(item).map(({ estimate }) => estimate);
    });
  };

  test("is named, with its rate as worked by hand", () => {
    const hose = setup.stations[0]!.hose ?? { lengthM: 4, boreMm: 6 };
    const cm3 = (Math.PI / 4) * (hose.boreMm / 10) ** 2 * hose.lengthM * 100;
    // 0.2 bar in ten minutes at 20 °C, ideal gas.
    const byHand = (cm3 * 0.2e5) / 101_325 / 10;
    const done = lines(items(0.2e5)).find(({ leak }) => leak.test?.phase === "done")!;
    expect(done.leak.test).toMatchObject({ side: "line", tested: "both" });
    expect(done.leak.side).toBe("line");
    expect(done.leak.test!.line!.cm3PerMin / byHand).toBeGreaterThan(0.95);
    expect(done.leak.test!.line!.cm3PerMin / byHand).toBeLessThan(1.05);
  });

  test.runIf(allHours)(
    "a restart at any moment of the test changes nothing",
    { tags: ["hours"] },
    () => {
      const list = items(0.2e5);
      const whole = lines(list);
      for (let cut = 25; cut < list.length; cut += 9) expect(lines(list, cut)).toEqual(whole);
    },
  );

  test("a line without pressure is not judged, and said so", () => {
    const bare = items(0).map((item): ReceivedItem => {
      if (!("pack" in item)) return item;
      const samples = item.pack.samples.map((sample) =>
        sample.channel === "line-pressure" ? { ...sample, value: 0.01e5 } : sample,
      );
      return { ...item, pack: { ...item.pack, samples } };
    });
    const done = lines(bare).find(({ leak }) => leak.test?.phase === "done")!.leak.test!;
    expect(done).toMatchObject({ tested: "cylinder", line: null });
    expect(done.cautions).toContain("line-without-pressure");
  });

  test("with no pressure on either side nothing is judged, and that is the reason", () => {
    const empty = items(0).map((item): ReceivedItem => {
      if (!("pack" in item)) return item;
      const samples = item.pack.samples.map((sample) =>
        sample.channel.endsWith("-pressure") ? { ...sample, value: 0.01e5 } : sample,
      );
      return { ...item, pack: { ...item.pack, samples } };
    });
    const said = lines(empty).at(-1)!.leak.test;
    expect(said).toMatchObject({ phase: "void", why: "no-pressure" });
  });

  test("a step of the line in the middle is no good news", () => {
    const all = lines(items(0, true)).map(({ leak }) => leak.test);
    expect(all.some((one) => one?.side === "none")).toBe(false);
  });
});
