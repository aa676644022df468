import { describe, expect, it } from "vitest";
import type {
  PlacedSample,
  ReceivedItem,
  StationLine,
  SupplyEngine,
  SupplySetup,
} from "../../../shared-core/estimation/engine.ts";
import { estimateSchema } from "../../../shared-core/estimation/estimate.ts";
import {
  createSupplyEngine,
  restoreSupplyEngine,
} from "../../../shared-core/estimation/supply-engine.ts";
import { tigStation } from "../../accuracy/stations.ts";

const T0 = 1_764_057_600;

function setup(): SupplySetup {
  return { supply: null, stations: [tigStation()] };
}

/** A pack of readings at the given times, all alike. */
function pack(times: number[], received: number, linePa = 4.1e5, cylinderPa = 150e5): ReceivedItem {
  const samples: PlacedSample[] = times.flatMap((t) => [
    { channel: "cylinder-pressure", t, value: cylinderPa },
    { channel: "line-pressure", t, value: linePa },
  ]);
  samples.push({ channel: "cylinder-temperature", t: times[times.length - 1] ?? 0, value: 18 });
  return {
    received,
    pack: { node: "n-07", boot: 1, seq: null, samples, thinned: false, stampedAtReceipt: false },
  };
}

function idleMinute(engine: SupplyEngine, minute: number): StationLine[] {
  const t = T0 + 60 * minute;
  return engine.receive(pack([t, t + 15, t + 30, t + 45], t + 45.2));
}

const times = (lines: StationLine[]): number[] => lines.map((l) => l.estimate.t);

describe("lines of the replay contract", () => {
  it("writes each multiple once, when a sample or a receipt has passed it", () => {
    const engine = createSupplyEngine(setup(), { every: 10 });
    expect(times(idleMinute(engine, 0))).toEqual([T0, T0 + 10, T0 + 20, T0 + 30, T0 + 40]);
    expect(times(idleMinute(engine, 1))).toEqual([50, 60, 70, 80, 90, 100].map((s) => T0 + s));
  });

  it("does not write the line at a sample's own time before it is passed", () => {
    const engine = createSupplyEngine(setup(), { every: 10 });
    const lines = engine.receive(pack([T0, T0 + 10], T0 + 10));
    expect(times(lines)).toEqual([T0]);
    expect(times(engine.receive(pack([T0 + 10.5], T0 + 10.5)))).toEqual([T0 + 10]);
  });

  it("uses only what was received: a late pack rewrites nothing", () => {
    const engine = createSupplyEngine(setup(), { every: 10 });
    idleMinute(engine, 0);
    idleMinute(engine, 2);
    expect(times(idleMinute(engine, 1))).toEqual([]);
    expect(times(idleMinute(engine, 3))[0]).toBe(T0 + 170);
  });

  it("writes one silent line at three times the pace, then none until data return", () => {
    const engine = createSupplyEngine(setup(), { every: 10 });
    for (let k = 0; k < 10; k++) idleMinute(engine, k);
    expect(engine.advance(T0 + 585.2 + 170)).toEqual([]);
    const lines = engine.advance(T0 + 5000);
    expect(lines.filter((l) => l.estimate.mode === "silent").length).toBe(1);
    expect(lines[lines.length - 1]?.estimate.mode).toBe("silent");
    expect(engine.advance(T0 + 9000)).toEqual([]);
    const back = idleMinute(engine, 200);
    expect(back[0]?.estimate.t).toBe(T0 + 12_000);
    expect(back.every((l) => l.estimate.mode !== "silent")).toBe(true);
  });

  it("gives the same lines with and without a live clock", () => {
    const replay = createSupplyEngine(setup(), { every: 10 });
    const live = createSupplyEngine(setup(), { every: 10 });
    const a: StationLine[] = [];
    const b: StationLine[] = [];
    for (const k of [0, 1, 2, 3, 4, 5, 30, 31, 32]) {
      a.push(...idleMinute(replay, k));
      for (let s = 0; s < 60; s += 5) b.push(...live.advance(T0 + 60 * k - 15 + s));
      b.push(...idleMinute(live, k));
    }
    expect(b).toEqual(a);
  });

  it("takes a pack from hours ago without a flood", () => {
    const engine = createSupplyEngine(setup(), { every: 1 });
    const lines = engine.receive(pack([T0, T0 + 15, T0 + 30], T0 + 30_000));
    expect(lines.length).toBeLessThan(40);
    expect(lines.every((l) => l.estimate.t <= T0 + 30)).toBe(true);
  });

  it("lets lines follow a person's entry too", () => {
    const engine = createSupplyEngine(setup(), { every: 10 });
    idleMinute(engine, 0);
    const lines = engine.receive({ received: T0 + 65, person: { reading: 8 } });
    expect(times(lines)).toEqual([T0 + 50, T0 + 60]);
  });

  it("writes estimates that fit their schema", () => {
    const engine = createSupplyEngine(setup(), { every: 10 });
    for (let k = 0; k < 3; k++) {
      for (const line of idleMinute(engine, k)) {
        expect(estimateSchema.safeParse(line.estimate).error).toBeUndefined();
      }
    }
  });
});

describe("state", () => {
  it("restores exactly, in the middle of a weld", () => {
    const engine = createSupplyEngine(setup(), { every: 1 });
    const items: ReceivedItem[] = [];
    let cylinder = 150e5;
    for (let k = 0; k < 900; k++) {
      const t = T0 + 2 * k;
      const on = k % 200 > 60;
      cylinder -= on ? 600 : 0;
      const noise = 2500 * Math.sin(k * 12.9898);
      items.push(pack([t, t + 1], t + 1.2, (on ? 3.5e5 : 4.1e5) + noise / 10, cylinder + noise));
    }
    for (const item of items.slice(0, 500)) engine.receive(item);
    const restored = restoreSupplyEngine(engine.serialise());
    for (const item of items.slice(500)) {
      expect(restored.receive(item)).toEqual(engine.receive(item));
    }
    expect(restored.serialise()).toBe(engine.serialise());
  });

  it("refuses a text that is no state", () => {
    expect(() => restoreSupplyEngine("{}")).toThrow(/create a new engine/);
  });
});

describe("a node's clock", () => {
  /** Conditions shown at the end of minutes of packs whose times lie `aheadS` ahead of their receipt. */
  function shown(aheadS: (minute: number) => number, minutes: number, stamped = false): string[] {
    const engine = createSupplyEngine(setup(), { every: 10 });
    let lines: StationLine[] = [];
    for (let k = 0; k < minutes; k++) {
      const t = T0 + 60 * k;
      const item = pack([t, t + 15, t + 30, t + 45], t + 45.2 - aheadS(k));
      if ("pack" in item) item.pack.stampedAtReceipt = stamped;
      lines = engine.receive(item);
    }
    return (lines.at(-1)?.estimate.alarms ?? []).map(({ condition }) => condition);
  }

  it("four minutes ahead: told after its delay, gone once it is right again", () => {
    expect(shown(() => 0, 12)).not.toContain("node-clock-wrong");
    expect(shown(() => 240, 2)).not.toContain("node-clock-wrong");
    expect(shown(() => 240, 12)).toContain("node-clock-wrong");
    expect(shown((k) => (k < 12 ? 240 : 0), 24)).not.toContain("node-clock-wrong");
  });

  it("not set at all: told as well", () => {
    expect(shown(() => 0, 12, true)).toContain("node-clock-wrong");
  });
});
