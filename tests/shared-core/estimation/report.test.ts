import { describe, expect, it } from "vitest";
import type { PlacedSample } from "../../../shared-core/estimation/engine.ts";
import { createSupplyEngine } from "../../../shared-core/estimation/supply-engine.ts";
import { tigStation } from "../../accuracy/stations.ts";

/** Tuesday 2025-11-25, 10:00 UTC. */
const WORKING_HOUR = 1_764_064_800;

/** Flow that a station reports after ten still minutes from `t0`. */
function stillFlow(t0: number, line: boolean) {
  const engine = createSupplyEngine(
    { supply: null, stations: [tigStation()], timeZone: "UTC" },
    { every: 10 },
  );
  let flow: {
    low?: number | null | undefined;
    high?: number | null | undefined;
    mode: string;
  } | null = null;
  for (let t = t0; t < t0 + 600; t += 15) {
    const samples: PlacedSample[] = [
      { channel: "cylinder-pressure", t, value: 150e5 },
      { channel: "cylinder-temperature", t, value: 18 },
    ];
    if (line) samples.push({ channel: "line-pressure", t, value: 4.1e5 });
    const lines = engine.receive({
      received: t,
      pack: { node: "n-07", boot: 1, seq: null, samples, thinned: false, stampedAtReceipt: false },
    });
    for (const { estimate } of lines) flow = { ...estimate.flow, mode: estimate.mode };
  }
  return flow;
}

describe("flow of an idle station", () => {
  it("is surely 0 where a line sensor says so", () => {
    expect(stillFlow(WORKING_HOUR, true)).toMatchObject({ mode: "idle", low: 0, high: 0 });
  });

  it("has an upper end without one in working hours: gas may be on and unseen", () => {
    const flow = stillFlow(WORKING_HOUR, false);
    expect(flow).toMatchObject({ mode: "idle", low: 0 });
    expect(flow?.high ?? 0).toBeGreaterThan(5);
  });

  it("has none at night, when nobody works", () => {
    expect(stillFlow(WORKING_HOUR + 15 * 3600, false)).toMatchObject({ mode: "idle", high: 0 });
  });
});
