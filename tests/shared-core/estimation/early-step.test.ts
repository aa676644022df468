import { takeLine } from "@leeward/shared-core/estimation/drop.ts";
import { createDrop } from "@leeward/shared-core/estimation/drop-state.ts";
import { planSupply } from "@leeward/shared-core/estimation/plan.ts";
import { turnedBy, watchLevel } from "@leeward/shared-core/estimation/re-dial.ts";
import { describe, expect, it } from "vitest";
import { createRandom } from "../../../gateway/virtual-shop/plant/random.ts";
import { fallenDelivery, underShieldingGasOnS } from "../../accuracy/alarm-runs.ts";
import { tigStation } from "../../accuracy/stations.ts";
import { allHours, seeds } from "../../hours.ts";

const plan = planSupply({ supply: null, stations: [tigStation()] }).drops[0]!;
const CYLINDER_PA = 120e5;
const REST_PA = 4.05e5;
const LEVEL_PA = 3.45e5;

/** Gas on for 40 s and off for 60 s by turns, a reading a second; the line `offPa` above its usual level while gas flows in the last spell. */
function steps(offPa: (onS: number) => number, noisePa: number, spells = 12) {
  const state = createDrop(plan);
  const random = createRandom(4, 1);
  const found: { onS: number; stepPa: number }[] = [];
  for (let spell = 0; spell < spells; spell++) {
    for (let s = 0; s < 100; s++) {
      const t = spell * 100 + s;
      const onS = s - 60;
      const last = spell === spells - 1;
      const level = onS < 1 ? REST_PA : LEVEL_PA + (last ? offPa(onS) : 0);
      const change = takeLine(plan, state, t, level + noisePa * random.normal(), []);
      if (change !== null) {
        state.on = change.on;
        state.onSince = change.on ? change.t : null;
        state.offSince = change.on ? null : change.t;
        state.anchorPa = state.linePa;
      }
      const step = watchLevel(plan, state, t, CYLINDER_PA);
      if (step !== null && last) found.push({ onS, stepPa: step.stepPa });
    }
  }
  return found;
}

describe("a line that stands off its level from the start of a spell", () => {
  it.each([200, 800])("is a step within five seconds, with %d Pa of noise", (noisePa) => {
    const found = steps(() => 0.2e5, noisePa);
    expect(found).toHaveLength(1);
    expect(found[0]!.onS).toBeLessThanOrEqual(6);
    expect(Math.abs(found[0]!.stepPa - 0.2e5)).toBeLessThan(3 * noisePa);
  });

  it("is none while it may be a surge on its way down", () => {
    for (const secondS of [2, 3, 5]) {
      const found = steps((onS) => 0.4e5 * Math.exp(-onS / secondS), 300);
      expect(found, `time constant ${secondS} s`).toEqual([]);
    }
  });

  it("is none where nothing changed", () => {
    expect(steps(() => 0, 800)).toEqual([]);
  });
});

describe("what a step of the line says about the flow", () => {
  const droopFit = (droop: number) => ({
    testedAt: "2026-01-01T00:00:00Z",
    parameters: [
      { name: "droop", unit: "bar/(L/min)", value: droop, sigma: 0.002, low: 0, high: 1 },
    ],
  });
  const state = { ...createDrop(plan), gapPa: 0.5e5, gaps: 8 };

  const plain = tigStation();
  const tested = planSupply({
    supply: null,
    stations: [{ ...plain, flowDevice: { ...plain.flowDevice!, fit: droopFit(0.04) } as never }],
  }).drops[0]!;

  it("hangs on how much of the gap is droop: a bench test knows", () => {
    // 0.12 bar at 0.04 bar for each L/min are 3 L/min less: 5 of 8.
    const known = turnedBy(tested, state, 0.12e5, 8)!;
    const guessed = turnedBy(plan, state, 0.12e5, 8)!;
    expect(Math.exp(known.log)).toBeCloseTo(5 / 8, 6);
    expect(known.sigma).toBeLessThan(0.12);
    expect(guessed.sigma).toBeGreaterThan(0.3);
  });

  it("leaves open that nothing was turned where the line fell: the delivery may have", () => {
    for (const part of [0.1, 0.3, 0.6, 1.2]) {
      const { log, sigma } = turnedBy(tested, state, -part * state.gapPa, 8)!;
      expect(log).toBeGreaterThan(0);
      expect(log - 2 * sigma).toBeLessThanOrEqual(0);
    }
  });
});

describe("a needle turned down behind a bench-tested regulator", () => {
  it("is an alarm within 20 s of gas-on", { tags: ["hours"] }, () => {
    for (const seed of seeds(5, 6)) {
      expect(underShieldingGasOnS(seed, 3600, "needle", { tested: true })).toBeLessThanOrEqual(20);
    }
  });
});

describe("a delivery that falls behind a preset regulator", () => {
  it("is not told as too much gas, and the flow's interval holds the truth", {
    tags: ["hours"],
  }, () => {
    for (const seed of seeds(5, 6)) {
      const { conditions, held } = fallenDelivery(seed, true);
      expect(conditions).not.toContain("over-flow");
      expect(held).toBeGreaterThan(0.9);
    }
  });

  it.runIf(allHours)(
    "is no float opened wide where nobody tested it either",
    { tags: ["hours"] },
    () => {
      for (const seed of seeds(1, 2, 3)) {
        const { conditions, events, held, most } = fallenDelivery(seed, false);
        expect(events).not.toContain("re-dial");
        expect(conditions).not.toContain("over-flow");
        expect(held).toBeGreaterThan(0.9);
        expect(most).toBeLessThan(1.6);
      }
    },
  );
});
