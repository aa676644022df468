import { describe, expect, it } from "vitest";
import type { PlacedSample, SupplySetup } from "../../../shared-core/estimation/engine.ts";
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
function run(at: (s: number) => Reading, seconds: number, site?: SupplySetup["site"]): Estimate[] {
  const line = at(0).line !== null;
  const station = tigStation(line ? {} : { sensors: { line: undefined } });
  const engine = createSupplyEngine(
    { supply: null, stations: [station], ...(site ? { site } : {}) },
    { every: 15 },
  );
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

describe("a line left under pressure at the end of the day", () => {
  /** Gas on for 10 min from each of these hours of the day (UTC), from 8:00 on; idle at 3.8 bar else. */
  const welds =
    (...hours: number[]) =>
    (s: number): Reading => {
      const on = hours.filter((hour) => s >= (hour - 8) * 3600);
      const onS = on.reduce((sum, hour) => sum + Math.min(s - (hour - 8) * 3600, 600), 0);
      const last = on.at(-1);
      const flows = last !== undefined && s - (last - 8) * 3600 < 600;
      // 40 L of cylinder and 12 L/min: 0.3 bar a minute.
      return { cylinder: 120e5 - (onS / 60) * 0.3e5, line: flows ? 3.4e5 : 3.8e5 };
    };
  const hoursOf = (lines: Estimate[], event: string) =>
    lines
      .flatMap((line) => line.events)
      .filter((one) => one.event === event)
      .map(({ t }) => 8 + (t - T0) / 3600);
  const reminders = (at: (s: number) => Reading, untilH: number, site?: SupplySetup["site"]) => {
    const lines = run(at, (untilH - 8) * 3600, site);
    expect(hoursOf(lines, "gas-on").length).toBeGreaterThan(0);
    return hoursOf(lines, "line-left-under-pressure").map((hour) => Math.floor(hour));
  };

  it("without shifts: from 14:00, and once more after gas was on again", () => {
    // 12:40 to 14:00 is a break; the third welds of the day bring no third reminder.
    expect(reminders(welds(9, 12.5, 15, 18), 22)).toEqual([14, 16]);
    expect(reminders(welds(9, 12.5), 22)).toEqual([14]);
  });

  it("with shifts: after their end, not in a break", () => {
    const shifts = [
      { from: "07:00", to: "12:00" },
      { from: "14:30", to: "19:00" },
    ];
    expect(reminders(welds(9, 11, 15, 18.5), 30, { calendar: { shifts } })).toEqual([19]);
  });
});
