import { describe, expect, test } from "vitest";
import type { PersonEntry, ReceivedItem } from "../../../shared-core/estimation/engine.ts";
import {
  createSupplyEngine,
  restoreSupplyEngine,
} from "../../../shared-core/estimation/supply-engine.ts";
import { personEntrySchema } from "../../../shared-core/messages/person-entry.ts";
import { exampleStation, t0 } from "../../gateway/support.ts";

const procedure = { process: "GTAW" as const, minimumLpm: 6, targetLpm: 8, maximumLpm: 10 };
const station = exampleStation({ station: "bay-3", procedure });

const pack = (t: number): ReceivedItem => ({
  received: t0 + t,
  pack: {
    node: "n-07",
    boot: 1,
    seq: t,
    thinned: false,
    stampedAtReceipt: false,
    samples: [
      { channel: "cylinder-temperature", t: t0 + t, value: 18 },
      { channel: "cylinder-pressure", t: t0 + t, value: 120e5 },
      { channel: "line-pressure", t: t0 + t, value: 3.6e5 },
    ],
  },
});

/** Demand, dial-to and minutes at the target after each entry; restored before every step. */
function demands(entries: PersonEntry["job"][], own = station) {
  let engine = createSupplyEngine({ supply: null, stations: [own] }, { every: 10 });
  let t = 10;
  return [undefined, ...entries].map((job) => {
    const items: ReceivedItem[] = job ? [{ received: t0 + t, person: { job } }] : [];
    for (let k = 1; k <= 6; k++) items.push(pack(t + 10 * k));
    t += 60;
    engine = restoreSupplyEngine(engine.serialise());
    const lines = items.flatMap((item) => engine.receive(item));
    return lines.at(-1)!.estimate;
  });
}

describe("a job's own target", () => {
  test("is the demand from its declaration to its end", () => {
    const [first, told, ended] = demands([{ targetLpm: 9 }, { end: true }]);
    expect(first!.demand).toMatchObject({ minimumLpm: 6, targetLpm: 8, maximumLpm: 10 });
    expect(told!.demand).toMatchObject({ minimumLpm: 6, targetLpm: 9, maximumLpm: 10 });
    expect(ended!.demand).toEqual(first!.demand);
    const minutes = [first, told, ended].map((e) => e!.remaining.atTargetMinutes.median!);
    // Usable content over the target: 8/9 of the time, less where the regulator holds 9 less far down.
    expect(minutes[1]! / minutes[0]!).toBeGreaterThan(0.85);
    expect(minutes[1]! / minutes[0]!).toBeLessThan(8 / 9 + 0.001);
    expect(minutes[2]).toBeCloseTo(minutes[0]!, 1);
  });

  test("outside the station's window sets the contradicting limit aside", () => {
    const [, told] = demands([{ targetLpm: 14 }]);
    expect(told!.demand).toMatchObject({ minimumLpm: 6, targetLpm: 14 });
    expect(told!.demand!.maximumLpm ?? 15).toBeGreaterThan(14);
  });

  test("comes from its procedure, which another job replaces", () => {
    const wanted = { ...procedure, minimumLpm: 10, targetLpm: 12, maximumLpm: 14 };
    const [, told, next] = demands([{ procedure: wanted }, { job: "another" }]);
    expect(told!.demand).toMatchObject({ minimumLpm: 10, targetLpm: 12, maximumLpm: 14 });
    expect(next!.demand).toMatchObject({ targetLpm: 8 });
  });

  test("stands alone where the station has no procedure", () => {
    const { procedure: _, ...bare } = station;
    const [first, told] = demands([{ targetLpm: 7 }], bare as typeof station);
    expect(first!.demand?.targetLpm ?? null).toBeNull();
    expect(told!.demand).toEqual({ minimumLpm: null, targetLpm: 7, maximumLpm: null });
  });

  test("of a job without gas is none", () => {
    const [, told] = demands([{ targetLpm: 12, gasless: true }]);
    expect(told!.demand).toMatchObject({ targetLpm: 8 });
  });

  test("is validated where it is told", () => {
    expect(personEntrySchema.safeParse({ job: { targetLpm: 9 } }).success).toBe(true);
    expect(personEntrySchema.safeParse({ job: { targetLpm: -9 } }).success).toBe(false);
  });
});
