import { describe, expect, it } from "vitest";
import type { ReceivedItem, SupplyEngine } from "../../../shared-core/estimation/engine.ts";
import type { Estimate } from "../../../shared-core/estimation/estimate.ts";
import { createSupplyEngine } from "../../../shared-core/estimation/supply-engine.ts";
import { liquidStation } from "../../accuracy/stations.ts";

const T0 = 1_764_057_600;
/** Saturation at 5 °C: 39.7 bar absolute (Span and Wagner 1996). */
const BOILS_PA = 38.7e5;
/** What an empty high side reads: an offset within the class of the sensor, 1.25 bar. */
const ZERO_PA = 0.9e5;
/** 20 kg over 44.0098 g/mol and 41.84 mol/m³ at 20 °C (GERG-2008), L `metric20`. */
const LITRES_PER_KG = 1000 / 44.0098 / 0.04184;

/** A station whose cylinder of 20 kg stands at 5 °C, part-used. */
function station(presentKg = 6): {
  engine: SupplyEngine;
  read: (t: number, bar: number, line: number) => void;
} {
  const engine = createSupplyEngine(
    { supply: null, stations: [liquidStation(presentKg)] },
    { every: 10 },
  );
  const read = (t: number, pa: number, linePa: number): void => {
    const samples = [
      { channel: "cylinder-pressure", t: T0 + t, value: pa },
      { channel: "line-pressure", t: T0 + t, value: linePa },
      { channel: "cylinder-temperature", t: T0 + t, value: 5 },
    ];
    const pack = { boot: 1, seq: null, thinned: false, stampedAtReceipt: false };
    take(engine, { received: T0 + t, pack: { node: "n-11", ...pack, samples } });
  };
  return { engine, read };
}

let last: Estimate | null = null;
const events: string[] = [];
function take(engine: SupplyEngine, item: ReceivedItem): void {
  for (const { estimate } of engine.receive(item)) {
    last = estimate;
    for (const { event } of estimate.events) events.push(event);
  }
}

/** Idle, then the valve is closed and the line bled through the torch: bar that the high side reads each second. */
function bleed(read: (t: number, pa: number, line: number) => void, falls: readonly number[]) {
  last = null;
  events.length = 0;
  for (let t = 0; t < 300; t += 15) read(t, BOILS_PA, 4.1e5);
  falls.forEach((bar, k) => {
    read(300 + k, bar * 1e5, 3.4e5);
  });
  for (let t = 300 + falls.length; t < 330; t++) read(t, ZERO_PA, 0);
  for (let t = 330; t < 600; t += 15) read(t, ZERO_PA, 0);
}

describe("the valve of a cylinder that holds liquid", () => {
  // 20 mL at 39 bar through 14 L/min are empty after three seconds, through a smaller torch after ten.
  it.each([
    ["at once", []],
    ["within four seconds", [29, 15, 4.9, 1.6]],
    ["within ten seconds", [34, 30, 25, 21, 17, 13, 9.5, 6.5, 4, 2.6]],
  ])("closed and bled %s: the content is held, and there when it is opened", (_, falls) => {
    const { read } = station();
    bleed(read, falls);
    expect(events).toContain("valve-closed");
    expect(last!.mode).toBe("valve-closed");
    expect(last!.content.litres! / (6 * LITRES_PER_KG)).toBeCloseTo(1, 2);
    for (let t = 600; t < 900; t += 15) read(t, BOILS_PA, 4.1e5);
    expect(events).not.toContain("swap");
    expect(last!.mode).toBe("idle");
    expect(last!.content.litres! / (6 * LITRES_PER_KG)).toBeCloseTo(1, 2);
  });

  it("is not taken for closed by one reading of nothing", () => {
    const { read } = station();
    bleed(read, []);
    const { read: again } = station();
    events.length = 0;
    for (let t = 0; t < 600; t += 15) again(t, t === 300 ? 0 : BOILS_PA, 4.1e5);
    expect(events).not.toContain("valve-closed");
    expect(last!.content.litres! / (6 * LITRES_PER_KG)).toBeCloseTo(1, 2);
  });
});

it("what a person says of the liquid counts where the readings showed the change before", () => {
  const { engine, read } = station(3.3);
  last = null;
  events.length = 0;
  // Half an hour of gas-on teaches how far the liquid boils below its wall; then the pressure falls away from that.
  const flows = (t: number, pa: number) => read(t, pa + 900 * (t % 3), 3.45e5 + 40 * (t % 7));
  for (let t = 0; t < 60; t += 15) read(t, BOILS_PA, 4.1e5);
  for (let t = 60; t < 1800; t++) flows(t, BOILS_PA);
  for (let t = 1800; t < 3000; t++) flows(t, BOILS_PA - 700 * (t - 1800));
  for (let t = 3000; t < 3030; t++) read(t, 30e5 + 900 * (t % 3), 4.1e5 + 40 * (t % 7));
  for (let t = 3030; t < 3300; t += 2) read(t, ZERO_PA, 0);
  for (let t = 3300; t < 3360; t += 5) read(t, 55e5, 4.1e5);
  expect(events).toContain("swap");
  const told = { presentKg: 14 };
  take(engine, { received: T0 + 3361, person: { swap: told } });
  for (let t = 3365; t < 3400; t += 5) read(t, 55e5, 4.1e5);
  expect(last!.content.litres! / (14 * LITRES_PER_KG)).toBeCloseTo(1, 2);
  expect(events.filter((event) => event === "swap").length).toBe(1);
});
