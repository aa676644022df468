import { describe, expect, it } from "vitest";
import type { PlacedSample, StationLine } from "../../../shared-core/estimation/engine.ts";
import { createSupplyEngine } from "../../../shared-core/estimation/supply-engine.ts";
import { Cycle } from "../../accuracy/cycle.ts";
import { scenarios } from "../../accuracy/scenarios.ts";
import { once, type Scenario, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { tigStation } from "../../accuracy/stations.ts";
import { allHours, seeds } from "../../hours.ts";

const unseen = scenarios.find(({ name }) => name === "swap-node-off")!;

/** Power off at `DARK_S`, back ten minutes later with a weld underway; another cylinder meanwhile, or the same. */
const DARK_S = 3600;
function underway(another: boolean): Scenario {
  const t = startUnixS + DARK_S;
  return {
    ...unseen,
    every: 1,
    hours: 1.25,
    actors: (_plant, reporter, log, seed) => [
      new Cycle(log, seed, [20, 180], [40, 300], 300, DARK_S - 300),
      once(t, () => reporter.powerOff()),
      once(t + 300, (plant) => {
        if (another) plant.swap({ gaugePa: 195e5, temperatureK: 288.15 });
      }),
      once(t + 570, (plant) => {
        plant.inputs.drops[0]!.torchOpen = true;
      }),
      once(t + 600, () => reporter.powerOn(t + 600)),
      once(t + 660, (plant) => {
        plant.inputs.drops[0]!.torchOpen = false;
      }),
    ],
  };
}

describe("a cylinder that was changed while the node was without power", () => {
  it("is named; a line that rests lower behind a full cylinder is no gas-on, and no float was turned", {
    tags: ["hours"],
    timeout: 120_000,
  }, () => {
    for (const seed of seeds(1, 2, 3)) {
      const { lines, events } = simulate(unseen, seed);
      const after = lines.filter(({ estimate }) => estimate.t > startUnixS + 2.55 * 3600);
      const told = after.flatMap(({ estimate }) => estimate.events);
      expect(told.filter(({ event }) => event === "swap")).toHaveLength(1);
      expect(told.filter(({ event }) => event === "re-dial")).toEqual([]);
      // Nobody welds in the first ten minutes.
      const early = after.filter(({ estimate }) => estimate.t < startUnixS + 2.75 * 3600);
      expect(early.length).toBeGreaterThan(20);
      for (const { estimate, truth } of early) {
        expect(truth.flowLpm).toBeLessThan(0.1);
        expect(estimate.mode).not.toBe("flowing");
        expect(estimate.events.map(({ event }) => event)).not.toContain("gas-on");
      }
      const welds = events.filter(
        ({ event, t }) => event === "gas-on" && t > startUnixS + 2.6 * 3600,
      );
      const seen = told.filter(({ event }) => event === "gas-on").length;
      expect(Math.abs(seen - welds.length)).toBeLessThan(2);
      let sum = 0;
      let count = 0;
      for (const { estimate, truth } of after) {
        if (estimate.t < startUnixS + 2.9 * 3600) continue;
        const away = Math.abs(estimate.content.litres! - truth.contentLitres);
        expect(away).toBeLessThan(0.03 * 10_500);
        if (estimate.mode !== "flowing" || truth.flowLpm < 1) continue;
        sum += estimate.flow.lpm! / truth.flowLpm - 1;
        count++;
      }
      expect(Math.abs(sum / count)).toBeLessThan(0.1);
    }
  });

  it("shows a weld that is underway when the node returns", {
    tags: ["hours"],
    timeout: 120_000,
  }, () => {
    for (const seed of seeds(1, 2)) {
      for (const [another, withinS] of [
        [false, 3],
        [true, 15],
      ] as const) {
        const { lines } = simulate(underway(another), seed);
        const back = startUnixS + DARK_S + 600;
        const after = lines.filter(({ estimate }) => estimate.t >= back);
        const events = after.flatMap(({ estimate }) => estimate.events.map(({ event }) => event));
        expect(events.filter((event) => event === "gas-on")).toHaveLength(1);
        expect(events.includes("swap")).toBe(another);
        const seen = after.find(({ estimate }) => estimate.mode === "flowing")!;
        expect(seen.estimate.t - back).toBeLessThan(withinS);
        // Until then nobody knows: gas that flows is never shown as none.
        for (const { estimate, truth } of after) {
          if (estimate.t < seen.estimate.t && truth.flowLpm > 1)
            expect(estimate.mode).toBe("unknown");
        }
      }
    }
  });

  it.runIf(allHours)(
    "is named after an hour without power too, where pressures come before the wall's temperature",
    { tags: ["hours"] },
    () => {
      const engine = createSupplyEngine({ supply: null, stations: [tigStation()] }, { every: 10 });
      const idle = (t: number, cylinderPa: number, wall: boolean): StationLine[] => {
        const samples: PlacedSample[] = [
          { channel: "cylinder-pressure", t, value: cylinderPa },
          { channel: "line-pressure", t, value: 4.1e5 },
        ];
        if (wall) samples.push({ channel: "cylinder-temperature", t, value: 18 });
        const kept = { node: "n-07", boot: 1, seq: null, thinned: false, stampedAtReceipt: false };
        return engine.receive({ received: t + 0.2, pack: { ...kept, samples } });
      };
      const told = (cylinderPa: number, fromS: number): string[] => {
        const lines: StationLine[] = [];
        for (let k = 0; k < 20; k++) {
          const wall = k % 4 === 3;
          lines.push(...idle(startUnixS + fromS + 15 * k, cylinderPa, wall));
        }
        return lines.flatMap(({ estimate }) => estimate.events.map(({ event }) => event));
      };
      expect(told(60e5, 0)).not.toContain("swap");
      // Warmth of an hour is no other cylinder.
      expect(told(61.5e5, 4000)).not.toContain("swap");
      expect(told(150e5, 8000).filter((event) => event === "swap")).toHaveLength(1);
    },
  );
});
