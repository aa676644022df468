import { describe, expect, it } from "vitest";
import { CylinderNode } from "../../../gateway/virtual-shop/plant/cylinder-node.ts";
import { plantGas } from "../../../gateway/virtual-shop/plant/gas.ts";
import type {
  PersonEntry,
  PlacedSample,
  SupplySetup,
} from "../../../shared-core/estimation/engine.ts";
import type { Estimate } from "../../../shared-core/estimation/estimate.ts";
import { createSupplyEngine } from "../../../shared-core/estimation/supply-engine.ts";
import { tigStation } from "../../accuracy/stations.ts";

/** 2025-11-25 08:00 UTC, a Tuesday. */
const T0 = 1_764_057_600;

const idle = { "line-pressure": 4.1e5 };
const flowing = { ...idle, "line-pressure": 3.45e5 };
/** A line that lets less than half of the usual flow through the restriction. */
const starved = { ...flowing, "line-pressure": 1.2e5 };

/** 8 L/min at 3.45 bar gauge, choked: in proportion to the absolute line pressure. */
const lpmAt = (linePa: number): number => (linePa > 4e5 ? 0 : 8 * ((linePa + 1e5) / 4.45e5));
/** A full 50 L cylinder of the plant, in a shop of 18 °C. */
function argonCylinder() {
  const gas = plantGas("Ar");
  const airK = 291.15;
  const steel = { waterVolumeM3: 0.05, count: 1, steelKg: 62, thermalLag: 1, leakMolPerSPa: 0 };
  const node = new CylinderNode(gas, steel, airK);
  node.fill({ gaugePa: 150e5, temperatureK: airK }, airK);
  return {
    /** Lets time pass at a flow of so many L/min. */
    draw(lpm: number, seconds: number): void {
      const parts = Math.ceil(seconds / 0.5);
      const mol = ((lpm / 60) * seconds * gas.metric20Density) / 1000 / parts;
      for (let k = 0; k < parts; k++) node.advance(seconds / parts, mol, airK, 0);
    },
    reads: () => ({
      "cylinder-pressure": Math.round(node.state.pressurePa - 101_325),
      "cylinder-temperature": Math.round((node.wallK - 273.15) * 16) / 16,
    }),
  };
}

function bench(site?: SupplySetup["site"]) {
  const engine = createSupplyEngine(
    { supply: null, stations: [tigStation()], ...(site ? { site } : {}) },
    { every: 10 },
  );
  const lines: Estimate[] = [];
  let t = T0;
  const cylinder = argonCylinder();
  const send = (values: Record<string, number | boolean>): void => {
    const all: Record<string, number | boolean> = { ...values, ...cylinder.reads() };
    const samples: PlacedSample[] = Object.entries(all).map(([channel, value]) => ({
      channel,
      t,
      value,
    }));
    const pack = { node: "n-07", boot: 1, seq: null, thinned: false, stampedAtReceipt: false };
    for (const { estimate } of engine.receive({ received: t, pack: { ...pack, samples } })) {
      lines.push(estimate);
    }
  };
  /** Readings alike for some seconds; returns the time since the start. */
  const hold = (values: Record<string, number | boolean>, seconds: number, stepS = 5): number => {
    for (const end = t + seconds; t < end; t += stepS) {
      cylinder.draw(lpmAt(Number(values["line-pressure"])), stepS);
      send(values);
    }
    return t - T0;
  };
  const say = (person: PersonEntry): void => {
    for (const { estimate } of engine.receive({ received: t, person, station: "bay-3" })) {
      lines.push(estimate);
    }
  };
  const ended = () =>
    lines.flatMap(({ events }) => events.filter(({ event }) => event === "purge-ended"));
  /** A few spells first, so that the line is known flowing and idle. */
  hold(idle, 600);
  for (let k = 0; k < 4; k++) {
    hold(flowing, 60, 1);
    hold(idle, 120);
  }
  // With the usual flow nothing rings.
  expect(lines.flatMap(({ alarms }) => alarms)).toEqual([]);
  return { engine, lines, hold, say, ended, standing: () => lines.at(-1)?.told?.purge ?? null };
}

const shifts: SupplySetup["site"] = { calendar: { shifts: [{ from: "07:00", to: "16:00" }] } };

describe("a declared purge that nobody ends", () => {
  it("broken off within its aim it ends after 10 min of gas-off, and says so", () => {
    const { hold, say, ended, standing } = bench();
    say({ purge: { minutes: 5 } });
    hold(idle, 60);
    hold(flowing, 240, 1);
    const off = hold(idle, 300);
    expect(standing()).not.toBeNull();
    expect(ended()).toEqual([]);
    hold(idle, 900);
    expect(standing()).toBeNull();
    expect(ended()).toEqual([{ t: expect.any(Number), event: "purge-ended", by: "gas-off" }]);
    expect(Math.abs(ended()[0]!.t - (T0 + off - 300 + 600))).toBeLessThan(30);
  });

  it("far too little gas the next morning rings again, as without any purge", () => {
    const rang = [true, false].map((purged) => {
      const { hold, say, lines } = bench();
      if (purged) say({ purge: { minutes: 5 } });
      hold(flowing, 300, 1);
      hold(idle, 22 * 3600, 60);
      for (let k = 0; k < 6; k++) {
        hold(starved, 60, 1);
        hold(idle, 60);
      }
      return lines.some(({ alarms }) =>
        alarms.some(({ condition }) => condition === "under-shielding"),
      );
    });
    expect(rang).toEqual([true, true]);
  });

  // Welds with too little gas after the purge, each break shorter than 10 min, no arc signal.
  it.each([
    ["its aim reached, 20 s for the tungsten", { minutes: 5 }, 310, 20],
    ["its aim reached, 5 min to fit up", { minutes: 5 }, 310, 300],
    ["given up long before its aim", { minutes: 60 }, 310, 60],
    ["no aim told", {}, 310, 60],
  ] as const)("whoever welds after it is told of too little gas: %s", (_, purge, onS, breakS) => {
    const { hold, say, lines, standing } = bench();
    say({ purge });
    hold(flowing, onS, 1);
    const from = lines.length;
    for (let k = 0; k < 4; k++) {
      hold(idle, breakS, 1);
      hold(starved, 60, 1);
    }
    const at = lines
      .slice(from)
      .findIndex(({ alarms }) => alarms.some(({ condition }) => condition === "under-shielding"));
    expect(at).toBeGreaterThanOrEqual(0);
    // Lines are 10 s apart: within the second weld, the first one where the aim was reached.
    const first = 10 * at;
    const reached = "minutes" in purge && purge.minutes === 5;
    expect(first).toBeLessThan(reached ? breakS + 60 : 2 * (breakS + 60));
    expect(standing()).toBeNull();
  });

  it("its hose handed on once within its aim, it goes on, and purges at less than a weld needs", () => {
    const { hold, say, lines, standing, ended } = bench();
    say({ purge: { minutes: 20 } });
    const from = lines.length;
    hold(starved, 400, 1);
    hold(idle, 300, 5);
    hold(starved, 400, 1);
    expect(standing()).not.toBeNull();
    expect(ended()).toEqual([]);
    const rang = lines.slice(from).flatMap(({ alarms }) => alarms.map((one) => one.condition));
    expect(rang).not.toContain("under-shielding");
    hold(idle, 30, 5);
    expect(standing()).toBeNull();
    expect(ended().map(({ by }) => by)).toEqual(["gas-off"]);
  });

  it("waits for its gas for an hour, not for ever", () => {
    const { hold, say, ended, standing } = bench();
    say({ purge: { minutes: 5 } });
    hold(idle, 3000);
    expect(standing()).not.toBeNull();
    hold(idle, 900);
    expect(ended().map(({ by }) => by)).toEqual(["gas-off"]);
  });

  it("ends with an arc that is struck after it was declared", () => {
    const { hold, say, ended, standing } = bench();
    hold({ ...flowing, arc: true }, 30, 1);
    say({ purge: { minutes: 5 } });
    hold({ ...flowing, arc: true }, 5, 1);
    hold({ ...flowing, arc: false }, 300, 1);
    expect(standing()).not.toBeNull();
    hold({ ...flowing, arc: true }, 20, 1);
    expect(standing()).toBeNull();
    expect(ended().map(({ by }) => by)).toEqual(["arc"]);
  });

  it("ends with another job, and not with one told along with it", () => {
    const { hold, say, ended, standing } = bench();
    say({ purge: { minutes: 5 }, job: { job: "keel 7" } });
    hold(flowing, 60, 1);
    expect(standing()).not.toBeNull();
    say({ job: { job: "keel 8" } });
    hold(flowing, 30, 1);
    expect(standing()).toBeNull();
    expect(ended().map(({ by }) => by)).toEqual(["job"]);
  });

  it("ends with the shift, once its aim is reached; within its aim it goes on", () => {
    const { hold, say, ended, standing } = bench(shifts);
    hold(idle, 7 * 3600 + 53 * 60 - 1320, 60);
    say({ purge: { minutes: 20 } });
    hold(flowing, 900, 5);
    expect(ended()).toEqual([]);
    // 15:53 to 16:08: still within 20 min. What follows them is gas left on.
    expect(standing()).not.toBeNull();
    hold(flowing, 420, 5);
    expect(standing()).toBeNull();
    expect(ended()).toEqual([{ t: expect.any(Number), event: "purge-ended", by: "shift" }]);
    expect(ended()[0]!.t).toBeGreaterThan(T0 + 8 * 3600 + 700);
  });

  it("an hour past the end that a person gave there is nothing to end", () => {
    const { hold, say, ended, standing } = bench();
    say({ purge: { minutes: 5 } });
    hold(flowing, 300, 1);
    say({ purge: { end: true } });
    hold(idle, 3600, 15);
    expect(standing()).toBeNull();
    expect(ended()).toEqual([]);
  });

  it("left on: asked for after its time and 30 min more", () => {
    const { hold, say, lines } = bench();
    say({ purge: { minutes: 5 } });
    const from = lines.length;
    hold(flowing, 2400, 5);
    const asked = lines
      .slice(from)
      .find(({ alarms }) => alarms.some(({ condition }) => condition === "gas-left-on"));
    const alarm = asked?.alarms.find(({ condition }) => condition === "gas-left-on");
    expect(alarm?.title).toBe("Purge wanted 5 min, on for 35 min: still wanted?");
  });
});
