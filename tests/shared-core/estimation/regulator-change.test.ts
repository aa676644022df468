import { createSupplyEngine } from "@leeward/shared-core/estimation/supply-engine.ts";
import { describe, expect, it } from "vitest";
import type { Plant } from "../../../gateway/virtual-shop/plant/plant.ts";
import { Cycle } from "../../accuracy/cycle.ts";
import { scenarios } from "../../accuracy/scenarios.ts";
import { once, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { tigStation } from "../../accuracy/stations.ts";
import { cases, seeds } from "../../hours.ts";

const { habits: _welder, ...base } = scenarios.find(({ name }) => name === "tig-half")!;
const bar = 1e5;
const at = (hours: number) => startUnixS + hours * 3600;

interface Change {
  does: (plant: Plant) => void;
  adjust?: "preset" | "screw";
  nodeOff?: boolean;
}

/** After an hour and a half the valve is closed and the line bled; something is done; it is opened again. */
function closedFor({ does, adjust = "preset", nodeOff = false }: Change, seed: number) {
  const { lines } = simulate(
    {
      ...base,
      station: tigStation({ regulator: { adjust } }),
      hours: 2.8,
      every: 10,
      actors: (_plant, reporter, log) => [
        new Cycle(log, seed, [60, 240], [30, 120], 300, 4800),
        ...(nodeOff ? [once(at(1.48), () => reporter.powerOff())] : []),
        once(at(1.5), (plant) => {
          plant.inputs.cylinderValveOpen = false;
        }),
        once(at(1.5) + 5, (plant) => {
          plant.inputs.drops[0]!.torchOpen = true;
        }),
        once(at(1.53), (plant) => {
          plant.inputs.drops[0]!.torchOpen = false;
        }),
        once(at(1.55), does),
        once(at(1.6), (plant) => {
          plant.inputs.cylinderValveOpen = true;
        }),
        ...(nodeOff ? [once(at(1.8), () => reporter.powerOn(at(1.8)))] : []),
        new Cycle(log, seed + 3, [60, 240], [30, 120], 7000),
      ],
    },
    seed,
  );
  const all = lines.flatMap(({ estimate }) => estimate.events);
  return { lines, events: all, names: all.map(({ event }) => event) };
}

/** Another regulator: its set pressure and its lock-up, bar. */
const replaced = (deliveryBar: number, lockUpBar: number) => (plant: Plant) => {
  plant.inputs.deliveryPa = deliveryBar * bar;
  Object.assign(plant.config.regulator, {
    deliveryPa: deliveryBar * bar,
    lockUpPa: lockUpBar * bar,
    supplyEffect: -0.002,
  });
};

describe("a regulator replaced behind a closed valve", () => {
  const changes: [number, Change][] = [
    [2, { does: replaced(2.6, 1.2) }],
    [2, { does: replaced(4.2, 1.2), nodeOff: true }],
    [1, { does: replaced(4.2, 1.6), adjust: "screw" }],
    [1, { does: replaced(2.6, 1.2) }],
    [3, { does: replaced(2.6, 1.2) }],
    [1, { does: replaced(4.2, 1.2) }],
    [2, { does: replaced(4.2, 1.2) }],
    [3, { does: replaced(4.2, 1.2) }],
  ];
  it.each(cases(2, changes))(
    "seed %i %o: is told once, and no turned float",
    { tags: ["hours"] },
    (seed, change) => {
      const { lines, events, names } = closedFor(change, seed);
      const told = events.filter(({ event }) => event === "regulator-replaced");
      expect(told).toHaveLength(1);
      // While the valve was closed, or by the first spell after it.
      expect(told[0]!.t).toBeGreaterThan(at(1.45));
      expect(told[0]!.t).toBeLessThan(at(2.05));
      expect(names).not.toContain("re-dial");
      const flowing = lines.filter(
        ({ estimate, truth }) =>
          estimate.t > at(1.94) &&
          estimate.mode === "flowing" &&
          truth.gasOn &&
          estimate.t - estimate.gasSince! >= 10,
      );
      const held = flowing.filter(
        ({ estimate: { flow }, truth }) =>
          flow.low! <= truth.flowLpm && truth.flowLpm <= flow.high!,
      );
      expect(flowing.length).toBeGreaterThan(50);
      expect(held.length / flowing.length).toBeGreaterThan(0.9);
      // Its device may have come with it: the flow is told as less sure than before.
      const width = ({ estimate: { flow } }: (typeof lines)[number]) =>
        (flow.high! - flow.low!) / flow.lpm!;
      const before = lines.filter(
        ({ estimate, truth }) =>
          estimate.t < at(1.3) && estimate.mode === "flowing" && truth.gasOn && estimate.t > at(1),
      );
      const most = Math.max(...flowing.slice(0, 5).map(width));
      const usual = before.map(width).sort((a, b) => a - b)[Math.floor(before.length / 2)]!;
      expect(most).toBeGreaterThan(1.5 * usual);
    },
  );
});

const turned = (factor: number) => (plant: Plant) => {
  plant.inputs.drops[0]!.needle *= factor;
};
const fitted = (gaugeBar: number) => (plant: Plant) => {
  plant.swap({ gaugePa: gaugeBar * bar, temperatureK: 288 });
};
const screwed = (factor: number) => (plant: Plant) => {
  plant.inputs.deliveryPa *= factor;
};

describe("what is no other regulator", { tags: ["hours"] }, () => {
  // Each case is an afternoon of welding.
  const tried = seeds(2, 1, 3);
  it.each(tried.flatMap((seed) => cases(1, [0.6, 1.5]).map((factor) => [seed, factor] as const)))(
    "seed %i: a float turned by %f while the valve was closed",
    (seed, factor) => {
      const { names } = closedFor({ does: turned(factor) }, seed);
      expect(names).not.toContain("regulator-replaced");
      expect(names).toContain("re-dial");
    },
  );

  it.each(tried.flatMap((seed) => cases(1, [195, 45]).map((full) => [seed, full] as const)))(
    "seed %i: a cylinder of %i bar fitted",
    (seed, full) => {
      const { names } = closedFor({ does: fitted(full) }, seed);
      expect(names).not.toContain("regulator-replaced");
      expect(names).toContain("swap");
    },
  );

  it.each(tried)("seed %i: a full cylinder fitted while the node was off", (seed) => {
    const { names } = closedFor({ does: fitted(195), nodeOff: true }, seed);
    expect(names).not.toContain("regulator-replaced");
    expect(names).toContain("swap");
  });

  it.each(
    tried.flatMap((seed) =>
      cases(1, [0.75, 1.25]).flatMap((factor) =>
        (["preset", "screw"] as const).map((adjust) => [seed, factor, adjust] as const),
      ),
    ),
  )("seed %i: a delivery set to %f of what it was, %s", (seed, factor, adjust) => {
    const { names } = closedFor({ does: screwed(factor), adjust }, seed);
    expect(names).not.toContain("regulator-replaced");
  });

  it.each(tried)("seed %i: screw and float set anew together", (seed) => {
    const both = (plant: Plant) => {
      screwed(1.25)(plant);
      turned(0.7)(plant);
    };
    const { names } = closedFor({ does: both, adjust: "screw" }, seed);
    expect(names).not.toContain("regulator-replaced");
  });
});

describe("another regulator described", () => {
  const setup = (regulator: object) => ({ supply: null, stations: [tigStation({ regulator })] });
  const told = (next: object) => {
    const engine = createSupplyEngine(setup({}), { every: 1 });
    const samples = (t: number) =>
      [
        ["cylinder-pressure", 150 * bar],
        ["line-pressure", 3.9 * bar],
        ["cylinder-temperature", 18],
      ].map(([channel, value]) => ({ channel: channel as string, t, value: value as number }));
    const pack = (t: number) => ({
      received: t,
      pack: {
        node: "n-07",
        samples: samples(t),
        stampedAtReceipt: false,
        boot: null,
        seq: null,
        thinned: false,
      },
    });
    for (let t = 0; t < 30; t++) engine.receive(pack(startUnixS + t));
    engine.receive({ received: startUnixS + 30, setup: setup(next) });
    const lines = [31, 32, 33].flatMap((t) => engine.receive(pack(startUnixS + t)));
    return lines.flatMap(({ estimate }) => estimate.events.map(({ event }) => event));
  };

  it("is one, and the same one described again is not", () => {
    expect(told({ stages: 2, deliveryBar: 2.8 })).toContain("regulator-replaced");
    expect(told({})).not.toContain("regulator-replaced");
  });
});
