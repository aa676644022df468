import type { FlowDeviceDocument } from "@leeward/shared-core/documents/hardware.ts";
import { type ReadingCase, readingCauses } from "@leeward/shared-core/flow/reading-causes.ts";
import fc from "fast-check";
import { describe, expect, test } from "vitest";

const tube: FlowDeviceDocument = {
  kind: "variable-area",
  scaleGas: { Ar: 1 },
  scaleBar: 3.447,
  scaleC: 21.1,
  valve: "after-tube",
  float: "ball",
  readAt: "float-centre",
  scaleMax: 16,
  readingUnit: "L/min",
};

const seen = (change: Partial<ReadingCase>): ReadingCase => ({
  device: tube,
  composition: { Ar: 1 },
  reading: 8,
  should: 8,
  flow: { lpm: 8, low: 7.8, high: 8.2 },
  tubePa: 101_325 + 344_700,
  tubeK: 294.3,
  ...change,
});

const named = (change: Partial<ReadingCase>, cause: string) => {
  const found = readingCauses(seen(change)).find((one) => one.cause === cause);
  if (!found) throw new Error(`${cause} is not among the causes`);
  return found;
};

describe("which gas or tube would explain it", () => {
  test.each([
    // Factors of true over indicated at 70 °F, VDI/VDE 3513 density formula, as in gas-trade tables:
    // argon tube used with helium 3.161, so that the float shows 1 / 3.161 of the same moles.
    { name: "helium in an argon tube", reading: 8 / 3.161, gas: "I2-He" },
    // Argon tube used with CO2: 0.951.
    { name: "CO2 in an argon tube", reading: 8 / 0.951, gas: "C1-C" },
    // Argon tube used with nitrogen: 1.194.
    { name: "nitrogen in an argon tube", reading: 8 / 1.194, gas: "N1-N" },
  ])("$name looks like $gas", ({ reading, gas }) => {
    expect(named({ reading }, "gas").looksLike).toBe(gas);
  });

  test("a tube stamped 50 psi on a regulator at 30 shows 20 % more than a 30 psi tube would", () => {
    // A 50 psi tube run at 30: true over indicated 0.831 (gas-trade tables, same formula).
    const device = { ...tube, scaleBar: 2.068 };
    const tubePa = 101_325 + 206_800;
    const found = named({ device, tubePa, reading: 8 / 0.831 }, "tube");
    expect(found.madeFor?.gaugeBar).toBeCloseTo(3.447, 2);
    expect(found.lpm).toBe(8);
  });

  test("helium is so light that nothing but a stuck float, a leak or the gas explains it", () => {
    const [first] = readingCauses(seen({ reading: 8 / 3.161 }));
    // A tube made for another heavy gas differs by a few per cent only.
    expect(["gas", "tube", "leak", "stuck"]).toContain(first?.cause);
    expect(named({ reading: 8 / 3.161 }, "read-at").share).toBeLessThan(0.01);
    expect(named({ reading: 8 / 3.161 }, "gas").share).toBeGreaterThan(0.15);
  });
});

describe("what the difference is worth", () => {
  test("half a ball off is first of all the part of the float that was read", () => {
    // Half a ball is easily 1 to 2 CFH, common practice, no source.
    expect(readingCauses(seen({ reading: 8.75 }))[0]?.cause).toBe("read-at");
    expect(readingCauses(seen({ reading: 7.25 }))[0]?.cause).toBe("read-at");
  });

  test("a tilted tube shows more, never much less", () => {
    expect(named({ reading: 9.2 }, "tilt").share).toBeGreaterThan(
      named({ reading: 6 }, "tilt").share,
    );
  });

  test("a leak before the device is named only where it shows too little, with what is lost", () => {
    expect(readingCauses(seen({ reading: 10 })).some(({ cause }) => cause === "leak")).toBe(false);
    const leak = named({ reading: 5 }, "leak");
    expect(leak.lpm).toBeCloseTo(5, 6);
    expect(leak.lostLpm).toBeCloseTo(3, 6);
  });

  test("a gauge with a dial is not told by the gas that passes", () => {
    const device: FlowDeviceDocument = {
      kind: "orifice-gauge",
      scaleGas: { Ar: 1 },
      scaleReadsAt: { bar: 3.45, reading: 12 },
      readingUnit: "L/min",
    };
    const causes = readingCauses(seen({ device, reading: 9, should: 12 }));
    expect(causes.some(({ cause }) => cause === "gas" || cause === "tilt")).toBe(false);
    expect(causes[0]?.cause).toBe("gauge");
  });
});

describe("whatever is read", () => {
  test("shares sum to one, in falling order, and every flow is a number above zero", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 30, noNaN: true }),
        fc.double({ min: 1, max: 20, noNaN: true }),
        (reading, should) => {
          const causes = readingCauses(
            seen({
              reading,
              should,
              flow: { lpm: should, low: should * 0.95, high: should * 1.05 },
            }),
          );
          const shares = causes.map(({ share }) => share);
          expect(shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
          expect([...shares].sort((a, b) => b - a)).toEqual(shares);
          for (const { lpm } of causes) expect(lpm).toBeGreaterThan(0);
        },
      ),
      { numRuns: 20 },
    );
  });

  test("without a flow or a reading nothing is claimed", () => {
    expect(readingCauses(seen({ reading: Number.NaN }))).toEqual([]);
    expect(readingCauses(seen({ flow: { lpm: 0, low: 0, high: 0 } }))).toEqual([]);
    expect(readingCauses(seen({ should: 0 }))).toEqual([]);
  });
});
