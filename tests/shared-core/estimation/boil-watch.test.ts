import { createBoil, watchBoiling } from "@leeward/shared-core/estimation/boil-watch.ts";
import { saturationTemperatureK } from "@leeward/shared-core/gases/co2-saturation.ts";
import { describe, expect, it } from "vitest";
import { CylinderNode } from "../../../gateway/virtual-shop/plant/cylinder-node.ts";
import { plantGas } from "../../../gateway/virtual-shop/plant/gas.ts";

const roomK = 288;
/** Mol of evaporation for each kelvin: vapour of 27 L near 5 °C (0.075 mol/L), and for each mol (Span and Wagner's saturation). */
const vapourPerK = 2;
const contentPerK = 0.011;

/**
 * 6 kg of CO2 in a cylinder of the simulated shop: welds of 110 s with breaks of 40 s for `workS`, then a
 * rest of `restS`, over and over, until the liquid has been gone for 1500 s of gas-on.
 *
 * @returns gas-on seconds beyond what liquid explains: most while there was any; and gas-on seconds from
 * its end until there were 150 of them
 */
function toTheEnd(thermalLag: number, molPerS: number, workS: number, restS: number, fromS = 0) {
  const cylinder = { waterVolumeM3: 0.027, count: 1, steelKg: 32, thermalLag, leakMolPerSPa: 0 };
  const node = new CylinderNode(plantGas("CO2"), cylinder, roomK);
  node.fill({ massKg: 6 }, roomK);
  const boil = createBoil(0);
  let most = 0;
  let goneS = 0;
  let seenS = Number.POSITIVE_INFINITY;
  for (let t = 1; goneS < 1500 && t < 60_000; t++) {
    const on = (t + fromS) % (workS + restS) < workS && t % 150 < 110;
    node.advance(1, on ? molPerS : 0, roomK, 0);
    const apartK = node.wallK - saturationTemperatureK(node.state.pressurePa);
    const perK = vapourPerK + contentPerK * node.n * node.state.liquidShare;
    const { beyondS } = watchBoiling(boil, t, apartK, on ? molPerS : 0, perK);
    if (node.state.liquidShare > 0) most = Math.max(most, beyondS);
    else {
      if (on) goneS++;
      if (beyondS >= 150) seenS = Math.min(seenS, goneS);
    }
  }
  return { most, seenS };
}

describe("the end of the liquid in a CO2 cylinder", () => {
  it("is seen within ten minutes of gas-on", () => {
    expect(toTheEnd(1, 0.0104, 5400, 1800).seenS).toBeLessThan(600);
    expect(toTheEnd(2, 0.016, 2700, 900, 300).seenS).toBeLessThan(600);
  });

  it("is not told by time that nobody saw, be it with gas on or off", () => {
    const beyond = (gapS: number) => {
      const boil = createBoil(0);
      // A wall 60 K warmer than the liquid, with gas on: far more than it explains.
      for (let t = 1; t <= 100; t++) watchBoiling(boil, t, 60, 0.0104, vapourPerK);
      const before = watchBoiling(boil, 101, 60, 0.0104, vapourPerK).beyondS;
      return { before, after: watchBoiling(boil, 101 + gapS, 60, 0.0104, vapourPerK).beyondS };
    };
    const short = beyond(30);
    expect(short.before).toBeGreaterThan(60);
    expect(short.after).toBe(short.before + 30);
    const long = beyond(600);
    expect(long.after).toBe(long.before);
  });

  it("is not seen at rest while there is liquid, though the last of it follows the wall late", () => {
    // A wall that gives little heat: 24 and 15 L/min draw the liquid far below it.
    expect(toTheEnd(3, 0.016, 3600, 1200, 900).most).toBeLessThan(150);
    expect(toTheEnd(4, 0.016, 5400, 1800).most).toBeLessThan(150);
    expect(toTheEnd(4, 0.0104, 5400, 1200, 1800).most).toBeLessThan(150);
  });
});
