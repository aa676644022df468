import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PlacedSample, ReceivedItem } from "../../../shared-core/estimation/engine.ts";
import { type Estimate, estimateSchema } from "../../../shared-core/estimation/estimate.ts";
import { GasModel } from "../../../shared-core/estimation/gas-model.ts";
import {
  createSupplyEngine,
  restoreSupplyEngine,
} from "../../../shared-core/estimation/supply-engine.ts";
import { tigStation } from "../../accuracy/stations.ts";

const T0 = 1_764_057_600;

function allFinite(value: unknown, path = "estimate"): string | null {
  if (typeof value === "number") return Number.isFinite(value) ? null : path;
  if (typeof value !== "object" || value === null) return null;
  for (const [key, entry] of Object.entries(value)) {
    const bad = allFinite(entry, `${path}.${key}`);
    if (bad !== null) return bad;
  }
  return null;
}

/** One thing that can go wrong, or not, in a stretch of packs. */
const mishap = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({ kind: fc.constant("idle"), packs: fc.integer({ min: 1, max: 4 }) }),
  },
  {
    weight: 4,
    arbitrary: fc.record({ kind: fc.constant("weld"), packs: fc.integer({ min: 2, max: 30 }) }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ kind: fc.constant("gap"), packs: fc.integer({ min: 60, max: 90_000 }) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant("ahead"),
      packs: fc.integer({ min: 200, max: 4_000_000 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant("back"), packs: fc.integer({ min: 5, max: 40_000 }) }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      kind: fc.constant("spike"),
      packs: fc.integer({ min: -900, max: 1000 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant("swap"), packs: fc.integer({ min: 3, max: 230 }) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant("closed"), packs: fc.integer({ min: 1, max: 5 }) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant("repeat"), packs: fc.integer({ min: 1, max: 3 }) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant("person"), packs: fc.integer({ min: -5, max: 50 }) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant("nonsense"), packs: fc.integer({ min: 0, max: 5 }) }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant("restart"), packs: fc.constant(0) }) },
);

function pack(times: number[], received: number, cylinderPa: number, linePa: number): ReceivedItem {
  const samples: PlacedSample[] = [];
  times.forEach((t, k) => {
    const noise = 2500 * Math.sin(12.9898 * t + k);
    samples.push({ channel: "cylinder-pressure", t, value: cylinderPa + noise });
    samples.push({ channel: "line-pressure", t, value: linePa + noise / 8 });
  });
  samples.push({ channel: "cylinder-temperature", t: times[0] ?? received, value: 20 });
  return {
    received,
    pack: { node: "n-07", boot: 1, seq: null, samples, thinned: false, stampedAtReceipt: false },
  };
}

const nonsense: PlacedSample[] = [
  { channel: "cylinder-pressure", t: Number.NaN, value: 1 },
  { channel: "cylinder-pressure", t: T0, value: Number.NaN },
  { channel: "line-pressure", t: T0, value: 1e300 },
  { channel: "line-pressure", t: T0, value: "text" },
  { channel: "cylinder-temperature", t: T0, value: -273.15 },
  { channel: "cylinder-pressure/fault", t: T0, value: "open-circuit" },
  { channel: "unheard-of", t: T0, value: true },
];

describe("whatever arrives", () => {
  it("never throws, never writes a number that is none, and settles on the truth", () => {
    const gas = new GasModel({ Ar: 1 });
    fc.assert(
      fc.property(fc.array(mishap, { minLength: 3, maxLength: 14 }), (mishaps) => {
        let engine = createSupplyEngine({ supply: null, stations: [tigStation()] }, { every: 30 });
        let t = T0;
        let cylinderPa = 150e5;
        let last: ReceivedItem | null = null;
        const estimates: Estimate[] = [];
        const give = (item: ReceivedItem): void => {
          last = item;
          for (const line of engine.receive(item)) estimates.push(line.estimate);
        };
        for (const { kind, packs } of mishaps) {
          if (kind === "idle" || kind === "closed") {
            for (let k = 0; k < packs; k++) {
              const pa = kind === "closed" ? 3000 : cylinderPa;
              give(pack([t, t + 15, t + 30, t + 45], t + 45.3, pa, kind === "closed" ? 0 : 4.1e5));
              t += 60;
            }
          } else if (kind === "weld") {
            for (let k = 0; k < packs; k++) {
              cylinderPa = Math.max(cylinderPa - 600, 1e5);
              give(pack([t, t + 1], t + 1.2, cylinderPa, 3.5e5));
              t += 2;
            }
          } else if (kind === "gap") t += packs;
          else if (kind === "ahead") {
            give(pack([t + packs, t + packs + 15], t + 16, cylinderPa, 4.1e5));
          } else if (kind === "back") give(pack([t - packs, t - packs + 15], t, cylinderPa, 4.1e5));
          else if (kind === "spike") give(pack([t, t + 1], t + 1, packs * 1e5, packs * 1e3));
          else if (kind === "swap") cylinderPa = packs * 1e5;
          else if (kind === "repeat" && last !== null) for (let k = 0; k < packs; k++) give(last);
          else if (kind === "person") {
            give({ received: t, person: { reading: packs, swap: {}, purge: { minutes: packs } } });
          } else if (kind === "nonsense") {
            give({
              received: t,
              pack: {
                node: "n-07",
                boot: null,
                seq: null,
                samples: nonsense.slice(packs),
                thinned: true,
                stampedAtReceipt: true,
              },
            });
          } else if (kind === "restart") engine = restoreSupplyEngine(engine.serialise());
        }
        // The dust settles: the valve is closed and the line bled, then a cylinder stands at 120 bar.
        for (let k = 0; k < 3; k++) {
          t += 60;
          give(pack([t, t + 15, t + 30, t + 45], t + 45.3, 3000, 0));
        }
        for (let k = 0; k < 30; k++) {
          t += 60;
          give(pack([t, t + 15, t + 30, t + 45], t + 45.3, 120e5, 4.1e5));
        }
        let before = Number.NEGATIVE_INFINITY;
        for (const estimate of estimates) {
          expect(allFinite(estimate)).toBeNull();
          expect(estimate.t).toBeGreaterThan(before);
          before = estimate.t;
        }
        expect(estimates.length).toBeLessThan(20_000);
        const end = estimates[estimates.length - 1];
        expect(estimateSchema.safeParse(end).success).toBe(true);
        const truth = (gas.densityAt(120e5 + 101_325, 293.15) * 50) / gas.standardMolPerM3;
        const { content } = end ?? {};
        expect(content?.low ?? 0).toBeLessThan(truth);
        expect(content?.high ?? 0).toBeGreaterThan(truth);
        expect(["idle", "unknown"]).toContain(end?.mode);
        expect(engine.serialise().length).toBeLessThan(12_000);
      }),
      { numRuns: 30, seed: 20_251 },
    );
  }, 60_000);
});
