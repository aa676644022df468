import { scenarios } from "@leeward/gateway/virtual-shop/scenarios/index.ts";
import { collectScenario, playScenario } from "@leeward/gateway/virtual-shop/scenarios/scenario.ts";
import { parseSetup, ReplayReader } from "@leeward/shared-core/messages/replay-lines.ts";
import { describe, expect, it } from "vitest";

const byName = (name: string) => {
  const found = scenarios.find((one) => one.name === name);
  if (!found) throw new Error(`no scenario ${name}`);
  return found;
};

describe("scenarios for the accuracy run", () => {
  it("are at least twenty, each with a name of its own and a sentence about it", () => {
    expect(scenarios.length).toBeGreaterThanOrEqual(20);
    expect(new Set(scenarios.map((one) => one.name)).size).toBe(scenarios.length);
    expect(scenarios.filter((one) => one.breaks).length).toBeGreaterThanOrEqual(6);
    for (const one of scenarios) expect(one.about.length).toBeGreaterThan(15);
  });

  it.each(scenarios.map((one) => [one.name]))(
    "%s: valid setup, lines that replay takes in order of receipt, a finite truth with gas used",
    (name) => {
      const played = { ...byName(name) };
      let last = 0;
      let packs = 0;
      let truths = 0;
      let backwards = 0;
      let odd = 0;
      const litres: number[] = [];
      const lines: string[] = [];
      const run = playScenario(played, 3, {
        onLine: (line) => {
          if (line.received < last) backwards += 1;
          last = line.received;
          packs += 1;
          if (packs % 7 === 0) lines.push(JSON.stringify(line));
        },
        onTruth: (point) => {
          truths += 1;
          litres.push(point.contentLitres);
          const figures = [point.flowLpm, point.contentLitres, point.usableLitres, point.gasC];
          if (!figures.every(Number.isFinite) || point.flowLpm < -40 || point.flowLpm > 80)
            odd += 1;
        },
        truthEveryS: 60,
      });
      expect({ backwards, odd }).toEqual({ backwards: 0, odd: 0 });
      expect(parseSetup(run.setup).ok).toBe(true);
      const reader = new ReplayReader(run.setup);
      for (const line of lines) {
        const read = reader.read(line);
        expect(read.ok ? "" : read.fault).toBe("");
      }
      expect(packs).toBeGreaterThan(400);
      expect(truths).toBeGreaterThan(200);
      expect(Math.max(...litres) - Math.min(...litres)).toBeGreaterThan(100);
      expect(run.events.flat().length).toBeGreaterThan(10);
    },
  );

  it("are the same for one seed and differ for another", () => {
    const short = { ...byName("argon-50"), hours: 1 };
    const texts = [5, 5, 6].map((seed) => JSON.stringify(collectScenario(short, seed, 60).items));
    expect(texts[0]).toBe(texts[1]);
    expect(texts[0]).not.toBe(texts[2]);
  });

  it("tell what they promise: a re-dial, a swap, a leak, a fault", () => {
    const re = playScenario(byName("re-dials"), 2, { onLine: () => undefined });
    expect(re.events[0]?.filter((event) => event.event === "re-dial").length).toBe(3);
    const swaps = collectScenario(byName("swaps-untold"), 2, 60);
    expect(swaps.events[0]?.filter((event) => event.event === "swap").length).toBeGreaterThan(0);
    expect(swaps.items.filter((item) => "person" in item)).toEqual([]);
    const leak = collectScenario(byName("cylinder-leak"), 2, 600);
    const rates = leak.truth[0]?.map((point) => point.cylinderLeakLpm) ?? [];
    expect(Math.max(...rates)).toBeGreaterThan(0.05);
    expect(Math.max(...rates)).toBeLessThan(0.3);
    const faults = JSON.stringify(collectScenario(byName("sensor-faults"), 2, 600).items);
    expect(faults).toContain("line-pressure/fault");
    expect(faults).toContain("open-circuit");
    expect(faults).toContain("short-circuit");
  });
});
