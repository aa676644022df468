import { takeLine } from "@leeward/shared-core/estimation/drop.ts";
import { createDrop, type DropState } from "@leeward/shared-core/estimation/drop-state.ts";
import { openShare } from "@leeward/shared-core/estimation/mass-flow.ts";
import { planSupply } from "@leeward/shared-core/estimation/plan.ts";
import { watchLevel } from "@leeward/shared-core/estimation/re-dial.ts";
import { describe, expect, it } from "vitest";
import { createRandom } from "../../../gateway/virtual-shop/plant/random.ts";
import { tigStation } from "../../accuracy/stations.ts";

/** Regulators as they are found in shops: the figures are estimates without source. */

const plan = planSupply({ supply: null, stations: [tigStation()] }).drops[0]!;
const CYLINDER_PA = 120e5;
const LEVEL_PA = 3.37e5;

/** A reading a second of a line, with the gas-on and gas-off that it showed. */
class Line {
  readonly state: DropState = createDrop(plan);
  readonly changes: { on: boolean; t: number; seenT: number }[] = [];
  readonly steps: number[] = [];

  read(t: number, pa: number): void {
    const { state } = this;
    const change = takeLine(plan, state, t, pa, []);
    if (change !== null) {
      this.changes.push({ ...change, seenT: t });
      state.on = change.on;
      state.onSince = change.on ? change.t : null;
      state.offSince = change.on ? null : change.t;
    }
    const step = watchLevel(plan, state, t, CYLINDER_PA);
    if (step !== null) this.steps.push(step.stepPa);
  }
}

describe("a seat that closes slowly behind a long hose", () => {
  // Up by 0.09 bar while the hose fills, then 0.33 bar more over a minute, no second more than 0.02 bar.
  const risePa = (offS: number) =>
    0.09e5 * Math.min(offS / 6, 1) + 0.33e5 * (1 - Math.exp(-Math.max(offS - 3, 0) / 25));

  it("is a gas-off each time, dated to within three seconds of where the line leaves its level", () => {
    const line = new Line();
    const random = createRandom(7, 1);
    const offs: number[] = [];
    const rest = LEVEL_PA + risePa(1e3);
    for (let spell = 0; spell < 12; spell++) {
      for (let s = 0; s < 130; s++) {
        const t = spell * 130 + s;
        if (s === 40) offs.push(t);
        const pa = s < 40 ? LEVEL_PA : LEVEL_PA + risePa(s - 40);
        line.read(t, (spell === 0 && s < 5 ? rest : pa) + 300 * random.normal());
      }
    }
    const seen = line.changes.filter(({ on }) => !on);
    // The first spell begins with the station: its gas-on need not be known yet.
    for (const t of offs.slice(1)) {
      const near = seen.filter((off) => Math.abs(off.t - t) < 40);
      expect(near).toHaveLength(1);
      expect(near[0]!.t - t).toBeGreaterThanOrEqual(-1);
      expect(near[0]!.t - t).toBeLessThanOrEqual(3);
      expect(near[0]!.seenT - t).toBeLessThanOrEqual(30);
    }
  });
});

describe("a line that the surge pulls below its level", () => {
  it("has its level all the same: a weld of half a minute ends when the torch is shut, not as it began", () => {
    const line = new Line();
    const random = createRandom(3, 1);
    const offs: number[] = [];
    for (let spell = 0; spell < 12; spell++) {
      for (let s = 0; s < 90; s++) {
        const t = spell * 90 + s;
        const onS = s - 60;
        if (s === 89) offs.push(t + 1);
        const pa = onS < 0 ? LEVEL_PA + 0.4e5 : LEVEL_PA - 0.05e5 * Math.exp(-onS / 0.7);
        line.read(t, pa + 300 * random.normal());
      }
    }
    const seen = line.changes.filter(({ on }) => !on);
    for (const t of offs.slice(1, -1)) {
      const near = seen.filter((off) => Math.abs(off.t - t) < 40);
      expect(near).toHaveLength(1);
      expect(Math.abs(near[0]!.t - t)).toBeLessThanOrEqual(2);
    }
  });
});

describe("a torch shut for seconds behind a long hose", () => {
  it("is counted by what the regulator's droop lets through, though the line falls back before it is a gas-off", () => {
    const line = new Line();
    const read = (t: number, pa: number) => {
      line.read(t, pa);
      return openShare(plan, line.state, t);
    };
    let t = 0;
    const spell = (onS: number, offS: number) => {
      for (let s = 0; s < onS; s++) read(t++, LEVEL_PA);
      for (let s = 0; s < offS; s++) read(t++, LEVEL_PA + 0.4e5 * (1 - Math.exp(-s / 2)));
    };
    for (let k = 0; k < 6; k++) spell(40, 60);
    for (let s = 0; s < 20; s++) expect(read(t++, LEVEL_PA)).toBe(1);
    const { droopShare, gapPa } = line.state;
    const droop = droopShare[0] * gapPa!;
    // Half-way up its droop half the flow passes, on the average of the two readings three quarters.
    expect(read(t++, LEVEL_PA + 0.5 * droop)).toBeCloseTo(0.75, 1);
    expect(read(t++, LEVEL_PA + 0.5 * droop)).toBeCloseTo(0.5, 1);
    expect(line.state.on).toBe(true);
    read(t++, LEVEL_PA);
    expect(read(t++, LEVEL_PA)).toBe(1);
  });
});

describe("a regulator that comes to another level each time", () => {
  const spells = (scatterPa: number, turnedPa: number) => {
    const line = new Line();
    const random = createRandom(5, 1);
    for (let spell = 0; spell < 40; spell++) {
      const level = LEVEL_PA + scatterPa * random.normal() + (spell === 39 ? turnedPa : 0);
      const before = line.steps.length;
      for (let s = 0; s < 100; s++) {
        const pa = s < 60 ? LEVEL_PA + 0.4e5 : level;
        line.read(spell * 100 + s, pa + 300 * random.normal());
      }
      if (spell === 9) line.steps.length = 0;
      if (spell === 39) return { before, last: line.steps.length - before };
    }
    throw new Error("no last spell");
  };

  it("of 0.4 % of its pressure: no float was turned, once that is learnt", () => {
    expect(spells(1350, 0)).toEqual({ before: 0, last: 0 });
  });

  it("a turned float shows all the same, where it exceeds that by far", () => {
    expect(spells(1350, 0.2e5)).toEqual({ before: 0, last: 1 });
    expect(spells(0, 0.02e5)).toEqual({ before: 0, last: 1 });
    // Six sigma of a level that scatters about its mean, of which the mean is known well.
    expect(spells(700, 0.045e5)).toEqual({ before: 0, last: 1 });
  });

  it("of 0.8 % of its pressure: none was turned in its first spells either", () => {
    const told: number[] = [];
    for (let seed = 1; seed <= 20; seed++) {
      const line = new Line();
      const random = createRandom(seed, 2);
      for (let spell = 0; spell < 10; spell++) {
        const level = LEVEL_PA + 2700 * random.normal();
        for (let s = 0; s < 100; s++) {
          const pa = s < 60 ? LEVEL_PA + 0.4e5 : level;
          line.read(spell * 100 + s, pa + 300 * random.normal());
        }
      }
      told.push(line.steps.length);
    }
    // Before few spells counted as few, 7 of the 20 stations told one.
    expect(told.filter((steps) => steps > 0).length).toBeLessThanOrEqual(1);
  });

  /** After twenty spells that scatter by 0.8 %, one in whose midst the line comes to `toPa` above its level within `rampS`. */
  const midSpell = (toPa: number, rampS: number, backS: number) => {
    const line = new Line();
    const random = createRandom(5, 3);
    for (let spell = 0; spell < 21; spell++) {
      const last = spell === 20;
      const level = LEVEL_PA + (last ? 0 : 2700 * random.normal());
      if (last) line.steps.length = 0;
      for (let s = 0; s < 130; s++) {
        const onS = s - 60;
        const up = Math.min(Math.max(onS - 30, 0) / rampS, 1) * toPa;
        const back = onS - 30 > rampS && backS > 0 ? 0.015e5 : 0;
        const pa = onS < 0 ? LEVEL_PA + 0.4e5 : level + (last ? up - back : 0);
        line.read(spell * 130 + s, pa + 300 * random.normal());
      }
    }
    return line.steps;
  };

  it("a torch shut for a dozen seconds behind a long hose, and open again, is no turned float", () => {
    // The hose fills until the next gas-on ends it, at a level of the regulator's own.
    expect(midSpell(0.09e5, 12, 0)).toEqual([]);
    expect(midSpell(0.09e5, 12, 1)).toEqual([]);
  });

  it("the same step by a hand is one, and so is a slow one that exceeds the scatter by far", () => {
    expect(midSpell(0.09e5, 2, 0)).toHaveLength(1);
    expect(midSpell(0.2e5, 12, 0)).toHaveLength(1);
  });
});
