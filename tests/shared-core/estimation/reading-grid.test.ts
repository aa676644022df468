import {
  asOrdinary,
  createReadingGrid,
  onGrid,
  roundingOfMean,
  takeOnGrid,
} from "@leeward/shared-core/estimation/reading-grid.ts";
import { describe, expect, it } from "vitest";

const RANGE_PA = 250e5;

/** Mean and variance of a pressure that stands still, after readings that scatter by `noisePa`. */
function afterReadings(readings: readonly number[], noisePa: number) {
  const grid = createReadingGrid();
  let mean = readings[0]!;
  let variance = 1e12;
  for (const pa of readings) {
    variance += takeOnGrid(grid, pa, null, RANGE_PA);
    const told = asOrdinary(onGrid(grid, RANGE_PA, noisePa), pa - mean, variance, noisePa, 0);
    const gain = variance / (variance + told.noise);
    mean += gain * told.innovation;
    variance *= 1 - gain;
  }
  return { mean, variance };
}

describe("a pressure told in whole steps", () => {
  const STEP_PA = 7600;

  it("knows no more from many equal readings than about one step's rounding", () => {
    const stands = [12e6, 12e6 + STEP_PA, ...new Array(240).fill(12e6)];
    // step/√12: uniform error of a rounding (JCGM 100:2008, 4.3.7)
    const rounding = STEP_PA ** 2 / 12;
    const { variance } = afterReadings(stands, 1500);
    expect(variance).toBeGreaterThan(0.1 * rounding);
    expect(variance).toBeLessThan(rounding + 1500 ** 2);
  });

  it("averages where noise carries it over the steps, as a fine one does", () => {
    const dithered = Array.from({ length: 200 }, (_, k) => 12e6 + (k % 2) * STEP_PA);
    const coarse = afterReadings(dithered, 4000);
    expect(coarse.variance).toBeGreaterThan(4000 ** 2 / 200);
    // Noise and rounding, as of readings that err independently.
    expect(coarse.variance).toBeLessThan(1.2 * ((4000 ** 2 + STEP_PA ** 2 / 12) / 200));
    expect(Math.abs(coarse.mean - 12e6 - STEP_PA / 2)).toBeLessThan(0.1 * STEP_PA);
    const fine = Array.from({ length: 200 }, (_, k) => 12e6 + (k % 3) * 10);
    expect(afterReadings(fine, 2000).variance).toBeCloseTo(2000 ** 2 / 200, 0);
  });

  it("before a step was seen, readings that stand still may be as coarse as 1 bar of 250", () => {
    const { variance } = afterReadings(new Array(100).fill(12e6), 1500);
    // 1 bar: common practice, no source.
    expect(Math.sqrt(variance)).toBeGreaterThan((0.5 * 1e5) / Math.sqrt(12));
  });

  it("tells the most at the moment at which it steps: the pressure is between both readings", () => {
    const step = 1e5;
    const { mean, variance } = afterReadings([12e6, 12e6 + step, 12e6], 3000);
    expect(Math.abs(mean - 12e6 - step / 2)).toBeLessThan(2 * 3000);
    expect(Math.sqrt(variance)).toBeLessThan(step / Math.sqrt(12) / 4);
  });

  it("is worth its moments: mean and variance within the step are those of the cut normal distribution", () => {
    // From a sum over 200 000 slices, of N(0, 1e4²) and noise of 3000 Pa, within 1.5e4 ± 1e4 Pa.
    const [away, sigma, noise, half] = [15_000, 10_000, 3000, 10_000];
    const spread = sigma ** 2 + noise ** 2;
    let [chance, first, second] = [0, 0, 0];
    for (let k = 0; k < 200_000; k++) {
      const u = away - half + ((k + 0.5) * 2 * half) / 200_000;
      const p = Math.exp((-u * u) / 2 / spread);
      chance += p;
      first += p * u;
      second += p * u * u;
    }
    const mean = first / chance;
    const variance = second / chance - mean ** 2;
    const told = asOrdinary({ stepPa: 2 * half, part: 1 }, away, sigma ** 2, noise, 0);
    const gain = sigma ** 2 / (sigma ** 2 + told.noise);
    // What the reading's own value says of the pressure behind the noise: the regression on it.
    expect(gain * told.innovation).toBeCloseTo((mean * sigma ** 2) / spread, 0);
    const left = sigma ** 2 * (1 - gain);
    const exact = sigma ** 2 - (sigma ** 4 / spread) * (1 - variance / spread);
    expect(left / exact).toBeCloseTo(1, 5);
  });

  it("far from what is expected stays finite, and pulls towards it", () => {
    for (const away of [1e5, 1e6, 1e7]) {
      const told = asOrdinary({ stepPa: 1e5, part: 1 }, away, 3000 ** 2, 3000, 0);
      expect(told.innovation).toBeGreaterThan(away - 0.6e5);
      expect(told.innovation).toBeLessThan(away);
      expect(told.noise).toBeGreaterThan(0);
    }
  });

  it("leaves its rounding in a mean of many readings, unless noise carries it over the steps", () => {
    expect(roundingOfMean(1e5, 2000)).toBeGreaterThan((0.8 * 1e5 ** 2) / 12);
    expect(roundingOfMean(2000, 3000)).toBeLessThan(10);
  });
});
