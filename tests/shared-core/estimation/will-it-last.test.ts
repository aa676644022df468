import { normalCdf } from "@leeward/shared-core/estimation/normal.ts";
import {
  gasOnNeeded,
  plannedWeld,
  willItLast,
} from "@leeward/shared-core/estimation/will-it-last.ts";
import { describe, expect, it } from "vitest";
import { createRandom } from "../../../gateway/virtual-shop/plant/random.ts";
import { tigStation } from "../../accuracy/stations.ts";

/** Usable litres and flow as an estimate has them: what may really be so, drawn many times. */
function draws(usableL: number, sigmaL: number, lpm: number, sigmaFlow: number, seed: number) {
  const random = createRandom(seed, 5);
  return Array.from({ length: 40_000 }, () => ({
    minutes:
      Math.max(usableL + sigmaL * random.normal(), 0) /
      (lpm * Math.exp(sigmaFlow * random.normal())),
    plan: 1 + 0.1 * random.normal(),
  }));
}

describe("will the gas last", () => {
  it("agrees with drawing content, flow and plan at random", () => {
    const cases = [
      { usableL: 400, sigmaL: 25, lpm: 8, sigmaFlow: 0.03 },
      { usableL: 300, sigmaL: 60, lpm: 12, sigmaFlow: 0.12 },
      { usableL: 1500, sigmaL: 40, lpm: 9, sigmaFlow: 0.02 },
    ];
    for (const [seed, one] of cases.entries()) {
      const drawn = draws(one.usableL, one.sigmaL, one.lpm, one.sigmaFlow, seed);
      const sortedMinutes = drawn.map(({ minutes }) => minutes).sort((a, b) => a - b);
      const at = (share: number) => sortedMinutes[Math.floor(share * sortedMinutes.length)]!;
      const left = { median: at(0.5), low: at(0.025), high: at(0.975) };
      for (const share of [0.7, 0.85, 0.95, 1, 1.05, 1.2, 1.5]) {
        const arcMinutes = share * left.median * 0.9;
        const weld = { arcMinutes, starts: 10, perStartS: 0.6 * left.median, planSigma: 0.1 };
        const fixed = (weld.starts * weld.perStartS) / 60;
        const really =
          drawn.filter(({ minutes, plan }) => minutes > arcMinutes * plan + fixed).length /
          drawn.length;
        const { probability } = willItLast(left, gasOnNeeded(weld));
        expect(Math.abs(probability! - really)).toBeLessThan(0.02);
      }
    }
  });

  it("says yes and no only where it is sure, and unknown where nothing is known", () => {
    const left = { median: 60, low: 50, high: 72 };
    expect(willItLast(left, { minutes: 40, sigma: 0 }).verdict).toBe("yes");
    expect(willItLast(left, { minutes: 60, sigma: 0 })).toEqual({
      verdict: "maybe",
      probability: normalCdf(0),
    });
    expect(willItLast(left, { minutes: 90, sigma: 0 }).verdict).toBe("no");
    // A doubtful plan makes a sure answer doubtful.
    expect(willItLast(left, { minutes: 45, sigma: 10 }).verdict).toBe("maybe");
    expect(willItLast({ median: null, why: "?" }, { minutes: 5, sigma: 0 })).toEqual({
      verdict: "unknown",
      probability: null,
    });
    expect(willItLast({ median: 60 }, { minutes: 59, sigma: 0 }).probability).toBe(1);
  });

  it("counts pre-flow, post-flow and the hose at each start", () => {
    const station = tigStation();
    const weld = plannedWeld(
      { ...station, procedure: { ...station.procedure!, preflowS: 1, postflowS: 9 } },
      { arcMinutes: 20, starts: 6, flowLpm: 8 },
    );
    // 4 m of 6 mm hold 0.113 L; at 3.45 bar 0.385 L more than at rest: 2.9 s at 8 L/min.
    expect(weld.perStartS).toBeCloseTo(10 + 2.89, 1);
    const need = gasOnNeeded(weld);
    expect(need.minutes).toBeCloseTo(20 + (6 * weld.perStartS) / 60, 6);
    expect(need.sigma).toBeCloseTo(2, 6);
  });
});
