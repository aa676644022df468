import { describe, expect, it } from "vitest";
import { scenarios } from "../../accuracy/scenarios.ts";
import { simulate } from "../../accuracy/simulate.ts";

function run(name: string, lpm: number, seed: number) {
  const scenario = scenarios.find((s) => s.name === name);
  if (scenario === undefined) throw new Error(`no scenario ${name}`);
  const { variation } = scenario;
  // The plant's leak is stated at 100 bar; the cylinder stands at about 147 bar.
  const leaking = {
    ...scenario,
    variation: (s: number) => ({ ...variation(s), cylinderLeakLpm: lpm / 1.47 }),
  };
  return simulate(leaking, seed);
}

describe("a standing leak, through a night that swings by 15 K", () => {
  it("is found, and the content falls with it while nothing flows", () => {
    const { lines } = run("leak", 0.3, 5);
    const last = lines.at(-1)!;
    const early = lines.find((line) => line.estimate.t >= last.estimate.t - 8 * 3600)!;
    const { leak } = last.estimate;
    expect(leak.side).toBe("unknown");
    expect(leak.low!).toBeLessThan(last.truth.cylinderLeakLpm);
    expect(leak.high!).toBeGreaterThan(last.truth.cylinderLeakLpm);
    const lost = early.truth.contentLitres - last.truth.contentLitres;
    expect(lost).toBeGreaterThan(120);
    // What was not known of it early on is made good by the morning.
    const error = last.estimate.content.litres! - last.truth.contentLitres;
    const before = early.estimate.content.litres! - early.truth.contentLitres;
    expect(Math.abs(error - before)).toBeLessThan(0.35 * lost);
    for (const { estimate, truth } of lines.slice(5)) {
      expect(estimate.content.low!).toBeLessThan(truth.contentLitres);
      expect(estimate.content.high!).toBeGreaterThan(truth.contentLitres);
    }
  });

  it("is not invented where there is none", () => {
    const { lines } = run("no-leak", 0, 6);
    for (const { estimate } of lines) expect(estimate.leak.side).toBeNull();
    expect(lines.at(-1)!.estimate.leak.high!).toBeLessThan(0.06);
  });
});
