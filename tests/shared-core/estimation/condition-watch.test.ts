import { describe, expect, it } from "vitest";
import type { Plant } from "../../../gateway/virtual-shop/plant/plant.ts";
import type {
  PersonEntry,
  PlacedSample,
  SupplySetup,
} from "../../../shared-core/estimation/engine.ts";
import type { Estimate } from "../../../shared-core/estimation/estimate.ts";
import { createSupplyEngine } from "../../../shared-core/estimation/supply-engine.ts";
import { Cycle } from "../../accuracy/cycle.ts";
import { once, type Scenario, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { drawnHard, liquidStation, migStation, tigStation } from "../../accuracy/stations.ts";

/** Conditions judged from samples alone: plant, node's packs, replay reader and engine. */

const base = { name: "", about: "", every: 10 };

const cycle =
  (onS: [number, number], offS: [number, number]): NonNullable<Scenario["actors"]> =>
  (_plant, _reporter, log, seed) => [new Cycle(log, seed, onS, offS, 60)];

function firstShown(lines: readonly { estimate: Estimate }[], condition: string) {
  for (const { estimate } of lines) {
    const alarm = estimate.alarms.find((one) => one.condition === condition);
    if (alarm) return { t: estimate.t, alarm };
  }
  return null;
}

describe("icing, foreseen", () => {
  const co2 = liquidStation(18, drawnHard);
  const cold = (bodyToAirWPerK: number, lpm: number, station = co2): Scenario => ({
    ...base,
    hours: 1,
    station,
    variation: () => ({ bodyToAirWPerK, weather: { meanC: 15, dailySwingK: 5 } }),
    start: (plant) => plant.setTrueFlow(lpm),
    actors: cycle([120, 240], [20, 60]),
  });

  it("CO2 at 30 L/min: said minutes before the plant's delivery has fallen by 5 % (body at -20 °C)", () => {
    const { lines } = simulate(cold(0.5, 30), 6);
    const fell = lines.find(({ truth }) => truth.bodyC < -20);
    const shown = firstShown(lines, "regulator-icing");
    expect(fell).toBeDefined();
    expect(shown?.t).toBeLessThan((fell?.truth.t ?? 0) - 180);
    expect(shown?.alarm.title).toMatch(/ice up within 10 min, its body is at -?\d+ °C/);
  });

  it("neither CO2 at 12 L/min nor 82/18 at 14 L/min on an ordinary body rings", () => {
    expect(firstShown(simulate(cold(1.1, 12), 3).lines, "regulator-icing")).toBeNull();
    expect(
      firstShown(simulate(cold(1.1, 14, migStation()), 4).lines, "regulator-icing"),
    ).toBeNull();
  });

  it("without a probe on the body it says that it cannot tell, and why", () => {
    const scenario = cold(0.5, 30);
    scenario.alter = (config) => {
      config.sensors.body = null;
    };
    scenario.hours = 0.5;
    const { lines } = simulate(scenario, 6);
    expect(firstShown(lines, "regulator-icing")).toBeNull();
    const flowing = lines.find(({ estimate }) => estimate.mode === "flowing");
    expect(flowing?.estimate.undecided).toContainEqual({
      condition: "regulator-icing",
      why: expect.stringContaining("no probe"),
    });
  });
});

describe("back pressure at a hose tap", () => {
  const torch = (nozzleShare: number): Scenario => ({
    ...base,
    hours: 2.3,
    station: tigStation({ lineTap: "hose" }),
    variation: () => ({}),
    start: (plant) => plant.setTrueFlow(8),
    actors: (plant, reporter, log, seed) => [
      ...cycle([40, 120], [20, 60])(plant, reporter, log, seed),
      once(startUnixS + 5400, (changed: Plant) => {
        const input = changed.inputs.drops[0];
        if (input) input.nozzleShare = nozzleShare;
      }),
    ],
  });

  it("a nozzle choked to 60 % is told as a blockage, not before it happened", () => {
    const shown = firstShown(simulate(torch(0.6), 2).lines, "back-pressure-changed");
    expect(shown?.t).toBeGreaterThan(startUnixS + 5400);
    expect(shown?.t).toBeLessThan(startUnixS + 5400 + 900);
    expect(shown?.alarm.title).toContain("Something blocks the gas");
  });

  it("a torch that stays as it is rings nothing, and neither does a float turned up", () => {
    expect(firstShown(simulate(torch(1), 2).lines, "back-pressure-changed")).toBeNull();
    const turned = torch(1);
    turned.actors = (plant, reporter, log, seed) => [
      ...cycle([40, 120], [20, 60])(plant, reporter, log, seed),
      once(startUnixS + 5400, (changed: Plant) => changed.setTrueFlow(9.5)),
    ];
    expect(firstShown(simulate(turned, 2).lines, "back-pressure-changed")).toBeNull();
  });
});

describe("gas against its label", () => {
  const nights = (gas: "Ar" | "ArC25", swingK: number): Scenario => ({
    ...base,
    every: 60,
    hours: 62,
    station: tigStation(),
    variation: () => ({ presentBar: 190, weather: { meanC: 18, dailySwingK: swingK } }),
    alter: (config) => {
      config.gas = gas;
    },
    start: (plant) => plant.setTrueFlow(8),
    actors: (_plant, _reporter, log, seed) => [
      new Cycle(log, seed, [60, 200], [60, 200], 300, 3600),
    ],
  });

  it("75/25 in a cylinder labelled argon gives itself away by how its pressure follows the nights", () => {
    const shown = firstShown(simulate(nights("ArC25", 14), 1).lines, "wrong-gas");
    expect(shown?.alarm.title).toMatch(/really I1-Ar\? It behaves like argon with \d+ % CO2/);
  }, 60_000);

  it("argon is argon", () => {
    const { lines } = simulate(nights("Ar", 14), 3);
    expect(firstShown(lines, "wrong-gas")).toBeNull();
    expect(lines.at(-1)?.estimate.undecided?.map((one) => one.condition)).not.toContain(
      "wrong-gas",
    );
  }, 60_000);
});

const T0 = 1_764_057_600; // Tuesday 2025-11-25 08:00 UTC

/** An engine that gets one line of readings at a time. */
function bench(setup: SupplySetup) {
  const engine = createSupplyEngine(setup, { every: 10 });
  const lines: { estimate: Estimate }[] = [];
  const send = (t: number, values: Record<string, number>): void => {
    const samples: PlacedSample[] = Object.entries(values).map(([channel, value]) => ({
      channel,
      t,
      value,
    }));
    const pack = { node: "n-07", boot: 1, seq: null, thinned: false, stampedAtReceipt: false };
    lines.push(...engine.receive({ received: t, pack: { ...pack, samples } }));
  };
  return { engine, lines, send };
}

const idle = { "cylinder-pressure": 150e5, "line-pressure": 4.1e5, "cylinder-temperature": 18 };

describe("what the set-up says", () => {
  it("a node that is silent by plan is no alarm; one that is silent at work is", () => {
    const site = { calendar: { powerOff: [{ from: "18:00", to: "06:00" }] } };
    const shown = [];
    for (const offS of [0, 11 * 3600]) {
      const { engine, lines, send } = bench({ supply: null, stations: [tigStation()], site });
      for (let s = 0; s < 600; s += 15) send(T0 + offS + s, idle);
      lines.push(...engine.advance(T0 + offS + 3600));
      expect(lines.at(-1)?.estimate.mode).toBe("silent");
      shown.push(firstShown(lines, "node-silent") !== null);
    }
    expect(shown).toEqual([true, false]);
  });

  it("a sensor past the date of its calibration, in the station's own units", () => {
    const station = tigStation({ sensors: { line: { calibrated: "2024-10-01" } } });
    const { lines, send } = bench({ supply: null, stations: [station] });
    for (let s = 0; s < 60; s += 15) send(T0 + s, idle);
    expect(firstShown(lines, "calibration-overdue")?.alarm.title).toBe(
      "Calibration overdue by 55 days",
    );
    const dated = tigStation({ sensors: { line: { calibrationDue: "2027-01-01" } } });
    const fine = bench({ supply: null, stations: [dated] });
    for (let s = 0; s < 60; s += 15) fine.send(T0 + s, idle);
    expect(firstShown(fine.lines, "calibration-overdue")).toBeNull();
    expect(JSON.stringify(fine.lines.at(-1)?.estimate.undecided)).not.toContain("calibration");
  });

  it("texts speak the site's units", () => {
    const site = { units: { pressure: "psi" as const } };
    const { lines, send } = bench({ supply: null, stations: [tigStation()], site });
    for (let s = 0; s < 600; s += 15) send(T0 + s, { ...idle, "line-pressure": 8.2e5 });
    expect(firstShown(lines, "line-pressure-high")?.alarm.title).toContain("116 psi");
  });

  it("a job without gas ends with its shift", () => {
    const site = { calendar: { shifts: [{ from: "07:00", to: "16:00" }] } };
    const { engine, lines, send } = bench({ supply: null, stations: [tigStation()], site });
    const person: PersonEntry = { job: { gasless: true } };
    for (let s = 0; s < 600; s += 15) send(T0 + s, idle);
    engine.receive({ received: T0 + 600, person, station: "bay-3" });
    const arcAt = (t: number): void => {
      for (let s = 0; s < 20; s++) send(t + s, { ...idle });
      const samples: PlacedSample[] = [{ channel: "arc", t: t + 20, value: true }];
      const pack = { node: "n-07", boot: 1, seq: null, thinned: false, stampedAtReceipt: false };
      lines.push(...engine.receive({ received: t + 20, pack: { ...pack, samples } }));
      for (let s = 21; s < 40; s++) send(t + s, idle);
      const off: PlacedSample[] = [{ channel: "arc", t: t + 40, value: false }];
      lines.push(...engine.receive({ received: t + 40, pack: { ...pack, samples: off } }));
    };
    arcAt(T0 + 7 * 3600);
    expect(firstShown(lines, "arc-without-gas")).toBeNull();
    const ended = () =>
      lines.flatMap((l) => l.estimate.events.filter((e) => e.event === "gasless-ended"));
    expect(ended()).toEqual([]);
    arcAt(T0 + 8 * 3600 + 300);
    expect(ended()).toHaveLength(1);
    expect(firstShown(lines, "arc-without-gas")).not.toBeNull();
  });

  it("an arc on a node that has just started is no sign of gas, however fast the readings come", () => {
    const { lines, send } = bench({ supply: null, stations: [tigStation()] });
    const arc = (t: number, value: boolean) => send(t, { ...idle, arc: value as never });
    for (let s = 0; s < 60; s++) arc(T0 + s, true);
    expect(lines.length).toBeGreaterThan(3);
    for (const { estimate } of lines) {
      expect(estimate.mode).toBe("unknown");
      expect(estimate.flow?.lpm).toBeNull();
    }
    const why = lines.at(-1)?.estimate.undecided?.find((u) => u.condition === "arc-without-gas");
    expect(why?.why).toContain("whether gas flows is not known");
    // The arc ends, the node calms down, and the line is seen idle: the next arc rings.
    for (let s = 60; s < 300; s += 15) arc(T0 + s, false);
    expect(lines.at(-1)?.estimate.mode).toBe("idle");
    for (let s = 300; s < 320; s++) arc(T0 + s, true);
    expect(firstShown(lines, "arc-without-gas")?.t).toBeLessThanOrEqual(T0 + 310);
  });

  it("an arc on a node that has just started, with a line without pressure, rings", () => {
    const { lines, send } = bench({ supply: null, stations: [tigStation()] });
    const empty = { ...idle, "line-pressure": 0.1e5, arc: true as never };
    for (let s = 0; s < 12; s++) send(T0 + s, empty);
    expect(firstShown(lines, "arc-without-gas")).not.toBeNull();
  });
});

describe("a bank's reserve", () => {
  const cylinder = {
    gas: "I1-Ar",
    composition: { Ar: 1 },
    waterVolumeL: 50,
    count: 2,
    filledBar: 200,
    filledC: 15,
    residualBar: 10,
  };

  function run(switchesAtPa: number) {
    const station = tigStation({
      supply: "ring-1",
      cylinder: undefined,
      flowDevice: { reading: 12 },
    });
    const { lines, send } = bench({
      supply: {
        schema: 1,
        supply: "ring-1",
        site: "north",
        node: "n-07",
        kind: "bank",
        cylinder,
        reserve: cylinder,
        drops: ["bay-3"],
      },
      stations: [station],
    });
    // 12 L/min from 100 L is 0.12 bar/min, until the change-over holds the main side where it is.
    let mainPa = 14e5;
    for (let s = 0; s < 5400; s++) {
      const on = s > 300;
      if (on) mainPa = Math.max(switchesAtPa, mainPa - 12_000 / 60);
      if (!on && s % 15 !== 0) continue;
      send(T0 + s, {
        "cylinder-pressure": Math.round(mainPa + 2000 * Math.sin(1.7 * s)),
        "line-pressure": on ? 3.45e5 : 3.7e5,
        "cylinder-temperature": 18,
      });
    }
    return { shown: firstShown(lines, "reserve-in-use"), last: lines.at(-1)!.estimate, lines };
  }

  it("in use once the main side stands still while gas flows", () => {
    const { shown, last, lines } = run(11e5);
    // 3 bar at 0.12 bar/min: the main side ends 1500 s after gas-on; then some bar of it must be missed.
    expect(shown?.t).toBeGreaterThan(T0 + 1700);
    expect(shown?.t).toBeLessThan(T0 + 1800 + 1500);
    // What flows is no measure of the main side then: neither a turned float nor a short flow.
    expect(last.flow.lpm).toBeGreaterThan(10);
    expect(lines.flatMap(({ estimate }) => estimate.events.map((e) => e.event))).not.toContain(
      "re-dial",
    );
    expect(firstShown(lines, "under-shielding")).toBeNull();
    // How long the reserve lasts nobody measures, and it is said.
    expect(last.remaining.gasOnMinutes.median).toBeNull();
    expect(last.remaining.gasOnMinutes.why).toMatch(/reserve/);
    expect(last.content.why).toMatch(/main side/);
    expect(last.alarms.map((alarm) => alarm.condition)).not.toContain("runs-out-soon");
  });

  it("not in use while the main side goes on falling", () => {
    expect(run(0).shown).toBeNull();
  });
});
