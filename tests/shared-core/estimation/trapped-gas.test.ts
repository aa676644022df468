import { describe, expect, it } from "vitest";
import type { PlacedSample } from "../../../shared-core/estimation/engine.ts";
import { createSupplyEngine } from "../../../shared-core/estimation/supply-engine.ts";
import { tigStation } from "../../accuracy/stations.ts";

const T0 = 1_764_057_600;

/** Events and last mode of a day: ten minutes open at 150 bar, then what `high` says, gauge Pa. */
function run(high: (s: number) => number, seconds: number) {
  const engine = createSupplyEngine({ supply: null, stations: [tigStation()] }, { every: 10 });
  const events: string[] = [];
  let mode = "";
  for (let s = -600; s < seconds; s += s >= 0 && s < 90 ? 1 : 15) {
    const t = T0 + s;
    const samples: PlacedSample[] = [
      { channel: "cylinder-pressure", t, value: s < 0 ? 150e5 : high(s) },
      { channel: "line-pressure", t, value: s < 5 ? 4.1e5 : s < 40 ? 3.5e5 : 4.1e5 },
      { channel: "cylinder-temperature", t, value: 18 },
    ];
    const lines = engine.receive({
      received: t,
      pack: { node: "n-07", boot: 1, seq: null, samples, thinned: false, stampedAtReceipt: false },
    });
    for (const { estimate } of lines) {
      mode = estimate.mode;
      events.push(...estimate.events.map((event) => event.event));
    }
  }
  return { events, mode };
}

/** Valve closed with gas on: the high side falls to 60 bar within half a minute. */
const closing = (s: number): number => Math.max(60e5, 150e5 - 3e5 * Math.max(s - 8, 0));

describe("gas trapped behind a closed valve", () => {
  it("that the sun warms by 25 K in an hour is neither an opening nor a swap", () => {
    const warm = (s: number): number =>
      closing(s) + (s > 600 ? 60e5 * (25 / 291) * Math.min((s - 600) / 3600, 1) : 0);
    const { events, mode } = run(warm, 6000);
    expect(events).toContain("valve-closed");
    expect(events).not.toContain("valve-opened");
    expect(events).not.toContain("swap");
    expect(mode).toBe("valve-closed");
  });

  it("that jumps back to the cylinder's pressure is an opening", () => {
    const { events, mode } = run((s) => (s < 1800 ? closing(s) : 149.9e5), 2400);
    expect(events).toContain("valve-opened");
    expect(events).not.toContain("swap");
    expect(mode).toBe("idle");
  });
});
