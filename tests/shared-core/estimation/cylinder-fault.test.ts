import { describe, expect, it } from "vitest";
import type { PlacedSample } from "../../../shared-core/estimation/engine.ts";
import type { Estimate } from "../../../shared-core/estimation/estimate.ts";
import { createSupplyEngine } from "../../../shared-core/estimation/supply-engine.ts";
import { tigStation } from "../../accuracy/stations.ts";

/** 2025-11-25, 8:00 UTC. */
const T0 = 1_764_057_600;

interface Reading {
  cylinder: number | string;
  line: number | null;
}

/** Lines of a station that reads `at(s)`, every 15 s. */
function run(at: (s: number) => Reading, seconds: number): Estimate[] {
  const line = at(0).line !== null;
  const station = tigStation(line ? {} : { sensors: { line: undefined } });
  const engine = createSupplyEngine({ supply: null, stations: [station] }, { every: 15 });
  const out: Estimate[] = [];
  for (let s = 0; s < seconds; s += 15) {
    const t = T0 + s;
    const { cylinder, line: linePa } = at(s);
    const samples: PlacedSample[] = [
      { channel: "cylinder-temperature", t, value: 18 },
      typeof cylinder === "number"
        ? // A trace of noise, as a living sensor has.
          { channel: "cylinder-pressure", t, value: cylinder + 2000 * Math.sin(s) }
        : { channel: "cylinder-pressure/fault", t, value: cylinder },
    ];
    if (linePa !== null) {
      samples.push({ channel: "line-pressure", t, value: linePa + 300 * Math.sin(1.7 * s) });
    }
    const lines = engine.receive({
      received: t + 0.3,
      pack: { node: "n-07", boot: 1, seq: null, samples, thinned: false, stampedAtReceipt: false },
    });
    for (const { estimate } of lines) out.push(estimate);
  }
  return out;
}

const breaks = (line: number | null) => (s: number) => ({
  cylinder: s < 1200 ? 120e5 : "open-circuit",
  line,
});

describe("a cylinder sensor in fault", () => {
  it("content is held, with its age and the reason; nothing measured is shown", () => {
    const lines = run(breaks(3.8e5), 4800);
    const last = lines.at(-1)!;
    expect(last.content.ageS).toBeGreaterThan(3400);
    expect(last.content.why).toContain("open-circuit");
    expect(last.measured?.cylinderPa).toBeNull();
    const before = lines.find(({ t }) => t === T0 + 1140)!;
    expect(before.content.ageS).toBeUndefined();
    expect(before.content.why).toBeUndefined();
    // The line stands idle: what is held stays held.
    expect(Math.abs(last.content.litres! - before.content.litres!)).toBeLessThan(10);
  });

  it("without a line sensor the flow is unknown, and the content's interval grows", () => {
    const lines = run(breaks(null), 4800);
    const last = lines.at(-1)!;
    const before = lines.find(({ t }) => t === T0 + 1140)!;
    expect(last.flow.lpm).toBeNull();
    expect(last.flow.why).toBeDefined();
    const width = ({ content }: Estimate): number => content.high! - content.low!;
    // Somebody may have welded for an hour at some 8 L/min.
    expect(width(last) - width(before)).toBeGreaterThan(150);
  });
});

describe("a line that is fed again in the afternoon", () => {
  it("is no line left under pressure in that moment, and is one an hour later", () => {
    // Open until 8:20, closed and bled until 17:00, then open again.
    const opened = 9 * 3600;
    const at = (s: number): Reading => {
      if (s < 1200 || s >= opened) return { cylinder: 120e5, line: 3.8e5 };
      return { cylinder: Math.max(0, 120e5 - 8e5 * ((s - 1200) / 15)), line: s < 1260 ? 3.4e5 : 0 };
    };
    const events = run(at, opened + 2 * 3600).flatMap((line) => line.events);
    const reminders = events.filter(({ event }) => event === "line-left-under-pressure");
    expect(events.some(({ event }) => event === "valve-opened")).toBe(true);
    expect(reminders).toHaveLength(1);
    expect(reminders[0]!.t).toBeGreaterThan(T0 + opened + 3500);
    // By heat alone, P/T: at least 2 K above the room's 291 K on 4.8 bar absolute, 20 K at most.
    expect(reminders[0]!.forecastPa).toBeGreaterThan(3.8e5 + 0.02e5);
    expect(reminders[0]!.forecastPa).toBeLessThan(3.8e5 + 0.34e5);
    for (const { t } of events)
      expect(Math.abs(t * 1000 - Math.round(t * 1000))).toBeLessThan(1e-3);
  });
});
