import { describe, expect, test } from "vitest";
import { createRandom } from "../../../gateway/virtual-shop/plant/random.ts";
import {
  addTrapped,
  judgeLeakTest,
  startTrapped,
  type TrappedVolume,
  volumeLeak,
} from "../../../shared-core/estimation/leak-test.ts";
import { createMixture } from "../../../shared-core/gases/mixture.ts";

const argon = createMixture({ Ar: 1 });
const standard = argon.densityMolPerM3(101_325, 293.15);
/** Ideal gas, CODATA 2018: R = 8.314462618 J/(mol K). */
const R = 8.314462618;

interface Readings {
  fromPa: number;
  /** Fall over ten minutes, Pa. */
  fallPa: number;
  noisePa?: number;
  seed?: number;
  /** Change of the gas temperature over ten minutes, K. */
  warmK?: number;
}

/** Ten minutes of readings, one a second, absolute Pa. */
function volume(volumeM3: number, { fromPa, fallPa, noisePa = 0, seed = 1, warmK = 0 }: Readings) {
  const random = createRandom(seed, 1);
  const rho = (s: number): number => {
    const share = s / 600;
    const pa = fromPa - fallPa * share + noisePa * random.normal();
    return argon.densityMolPerM3(pa, 293.15 + warmK * share);
  };
  const gas = startTrapped(0, rho(0));
  for (let s = 0; s <= 600; s++) addTrapped(gas, s, rho(s));
  const out: TrappedVolume = {
    gas,
    volumeM3,
    volumeSigma: 0.1,
    slowMolPerM3: 0,
    gasK: 293.15,
    changeSigmaK: 0.2,
  };
  return out;
}

describe("loss of a trapped volume", () => {
  test("at low pressure agrees with pV = nRT worked by hand", () => {
    // 113 mL at 4.45 bar absolute, 0.1 bar lost in 10 min at 20 °C: 113 · 0.1/1.01325 / 10 min.
    const byHand = (113 * 0.1e5) / 101_325 / 10;
    const leak = volumeLeak(volume(113e-6, { fromPa: 4.45e5, fallPa: 0.1e5 }), standard)!;
    expect(byHand).toBeCloseTo(1.115, 3);
    // Argon at 4 bar: compressibility 0.997 (NIST WebBook, from memory).
    expect(leak.cm3PerMin / byHand).toBeGreaterThan(0.99);
    expect(leak.cm3PerMin / byHand).toBeLessThan(1.01);
    expect((((0.1e5 * 113e-6) / (R * 293.15) / 600) * 60 * 1e6) / standard).toBeCloseTo(1.116, 2);
  });

  test("at 150 bar follows the real gas: argon is some 8 % denser per bar than ideal", () => {
    const leak = volumeLeak(volume(20e-6, { fromPa: 151e5, fallPa: 1e5 }), standard)!;
    const byHand =
      ((argon.densityMolPerM3(151e5, 293.15) - argon.densityMolPerM3(150e5, 293.15)) * 20) /
      standard /
      10;
    expect(leak.cm3PerMin / byHand).toBeGreaterThan(0.995);
    expect(leak.cm3PerMin / byHand).toBeLessThan(1.005);
    const ideal = (20 * 1e5) / 101_325 / 10;
    expect(leak.cm3PerMin / ideal).toBeGreaterThan(1.02);
    expect(leak.cm3PerMin / ideal).toBeLessThan(1.15);
  });

  test("a tight high side that cools or warms by 2 K with its probe is no leak", () => {
    // Closed argon cylinder at 2640 psig: about 7.4 psi/°F (suppliers' filling tables); ideal 5.0.
    const fromPa = (2640 + 14.7) * 6894.76;
    for (const warmK of [-2, 2]) {
      const of = (psiPerF: number) =>
        volumeLeak(
          volume(20e-6, { fromPa, fallPa: -psiPerF * 1.8 * warmK * 6894.76, warmK }),
          standard,
        )!;
      expect(of(7.4).found).toBe(false);
      expect(of(7.4).low).toBe(0);
    }
    // An ideal gas's 5.0 psi/°F would be a gain on cooling: told apart.
    expect(
      volumeLeak(volume(20e-6, { fromPa, fallPa: -5 * 1.8 * 2 * 6894.76, warmK: 2 }), standard)!
        .found,
    ).toBe(true);
  });

  test("the interval holds the truth and the smallest leak is found as often as it says", () => {
    const readings = (fallPa: number, seed: number) =>
      volumeLeak(
        { ...volume(113e-6, { fromPa: 4.45e5, fallPa, noisePa: 2000, seed }), changeSigmaK: 0 },
        standard,
      )!;
    const { smallest } = readings(0, 1);
    const fallPa = (smallest / 1.115) * 0.1e5;
    let held = 0;
    let found = 0;
    let falsely = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const leak = readings(fallPa, seed);
      if (leak.low <= smallest && smallest <= leak.high) held++;
      if (leak.found) found++;
      if (readings(0, seed).found) falsely++;
    }
    expect(held).toBeGreaterThanOrEqual(90);
    expect(found).toBeGreaterThanOrEqual(88);
    expect(falsely).toBeLessThanOrEqual(3);
  });

  test("too few readings or too short a time say nothing", () => {
    const gas = startTrapped(0, 4000);
    for (let s = 0; s < 100; s++) addTrapped(gas, s, 4000);
    expect(volumeLeak({ ...volume(1e-4, { fromPa: 4e5, fallPa: 0 }), gas }, standard)).toBeNull();
  });
});

describe("the side", () => {
  const leak = (found: boolean) => ({ cm3PerMin: 1, low: 0, high: 2, smallest: 0.5, found });
  test.each([
    ["high side falls, regulator shut", true, false, true, "cylinder"],
    ["high side falls, regulator open: the line may draw it", true, false, false, "unknown"],
    ["line falls, regulator shut", false, true, true, "line"],
    ["both fall", true, true, true, "both"],
    ["neither", false, false, true, "none"],
  ])("%s", (_name, high, line, shut, side) => {
    expect(judgeLeakTest(leak(high), leak(line), shut, [])!.side).toBe(side);
  });

  test("without a line sensor the high side alone is judged, and no side is named", () => {
    const verdict = judgeLeakTest(leak(true), null, false, [])!;
    expect(verdict).toMatchObject({ side: "unknown", tested: "cylinder" });
    expect(verdict.cautions).toContain("no-line-sensor");
    expect(judgeLeakTest(null, null, true, [])).toBeNull();
  });

  test("a high side that lost all its pressure leaks, however few its readings", () => {
    expect(judgeLeakTest(null, leak(false), true, [], true)!.side).toBe("cylinder");
    expect(judgeLeakTest(null, leak(true), true, [], true)!.side).toBe("both");
    expect(judgeLeakTest(null, leak(false), false, [], true)!.side).toBe("unknown");
    expect(judgeLeakTest(null, null, true, [], true)!.tested).toBe("cylinder");
  });

  test("a line that an open regulator may have held up is not called tight", () => {
    expect(judgeLeakTest(null, leak(false), false, [])).toBeNull();
    expect(judgeLeakTest(null, leak(true), false, [])!.side).toBe("line");
    expect(judgeLeakTest(null, leak(false), true, [])).toMatchObject({
      side: "none",
      tested: "line",
    });
  });

  test("no leak found holds only where the cylinder valve was closed, and says so", () => {
    const verdict = judgeLeakTest(leak(false), leak(false), true, [])!;
    expect(verdict.cautions).toContain("valve-taken-as-closed");
  });

  test("both falling says that the line may draw the high side", () => {
    const { cautions } = judgeLeakTest(leak(true), leak(true), false, [])!;
    expect(cautions).toContain("line-draws-high-side");
  });
});
