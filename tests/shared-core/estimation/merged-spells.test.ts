import { describe, expect, it } from "vitest";
import { createRandom } from "../../../gateway/virtual-shop/plant/random.ts";
import {
  createBreaks,
  seeBreak,
  seeGasOff,
  unseenShare,
} from "../../../shared-core/estimation/merged-spells.ts";
import { addSpell, createSpells } from "../../../shared-core/estimation/spells.ts";

const DELAY_S = 40;

/**
 * Spells of `spellS` with breaks of exponential length, of which those shorter than the delay merge the
 * spells beside them; and the share of the merged spells that was idle.
 */
function merged(spellS: number, breakS: number) {
  const random = createRandom(1, 1);
  const breaks = createBreaks();
  const spells = createSpells();
  let idle = 0;
  let all = 0;
  let seenS = 0;
  for (let k = 0; k < 20_000; k++) {
    seenS += spellS;
    const off = -breakS * Math.log(1 - random.next());
    if (off < DELAY_S) {
      idle += off;
      seenS += off;
      continue;
    }
    seeGasOff(breaks, DELAY_S, 0);
    seeBreak(breaks, off);
    addSpell(spells, seenS);
    all += seenS;
    seenS = 0;
  }
  return { told: unseenShare(breaks, spells), true: idle / all };
}

describe("breaks that pass unseen without a line sensor", () => {
  it.each([
    [50, 60],
    [60, 90],
    [150, 80],
  ])("spells of %d s, breaks of %d s: their share follows from those that are seen", (on, off) => {
    const share = merged(on, off);
    expect(share.true).toBeGreaterThan(0.04);
    expect(share.told / share.true).toBeGreaterThan(0.7);
    expect(share.told / share.true).toBeLessThan(1.7);
  });

  it("are next to none where breaks are long", () => {
    const share = merged(300, 900);
    expect(share.true).toBeLessThan(0.005);
    expect(share.told).toBeLessThan(0.005);
  });

  it("are no more than can be told of few breaks that are seen", () => {
    const share = merged(200, 20);
    expect(share.told).toBeLessThanOrEqual(share.true);
  });

  it("are allowed for before any was seen", () => {
    const share = unseenShare(createBreaks(), createSpells());
    expect(share).toBeGreaterThan(0.02);
    expect(share).toBeLessThan(0.1);
  });
});
