import { describe, expect, test } from "vitest";
import { catalogue, catalogueRow } from "../../../shared-core/cylinder/catalogue.ts";
import { contentStandardM3 } from "../../../shared-core/cylinder/content.ts";
import { createMixture } from "../../../shared-core/gases/mixture.ts";
import { CUBIC_FOOT_M3, PSI_PA } from "../../../shared-core/units/factors.ts";

const argon = createMixture({ Ar: 1 });

describe("catalogue", () => {
  test("names are unique within and across markets", () => {
    expect(new Set(catalogue.map((row) => row.name)).size).toBe(catalogue.length);
  });

  test.each(catalogue.filter((row) => row.market === "us" && row.fillGaugePa !== null))(
    "US $name holds its nominal argon content within 2.5 %",
    (row) => {
      const nominal = Number.parseFloat(row.name);
      const content = contentStandardM3(
        argon,
        row,
        (row.fillGaugePa ?? 0) + 14.696 * PSI_PA,
        row.fillK,
        "us",
      );
      expect(Math.abs(content / CUBIC_FOOT_M3 / nominal - 1)).toBeLessThan(0.025);
    },
  );

  test("20 L and 10 L at 200 bar hold 4.29 and 2.14 m³ of argon (trade sheet)", () => {
    for (const [name, m3] of [
      ["20 L, 200 bar", 4.29],
      ["10 L, 200 bar", 2.14],
    ] as const) {
      const row = catalogueRow(name);
      const content = contentStandardM3(
        argon,
        row ?? { waterVolumeM3: Number.NaN },
        (row?.fillGaugePa ?? 0) + 101_325,
        288.15,
        "trade",
      );
      expect(Math.abs(content / m3 - 1)).toBeLessThan(0.003);
    }
  });

  /**
   * 49 CFR 173.304a: 68 % of the water mass (lowest row). UN P200: about 0.76 at 250 bar test
   * pressure (from memory); 37.5 kg in 50 L is common practice.
   */
  test("CO2 rows stay within the filling density, 0.68 kg/L (US) and 0.76 (UN P200)", () => {
    expect(catalogueRow("CO2 37.5 kg")?.waterVolumeM3).toBeCloseTo(0.05, 9);
    expect(catalogueRow("CO2 20 lb")?.waterVolumeM3).toBeCloseTo(9.0718474e-3 / 0.68, 9);
    const liquid = catalogue.filter((row) => row.filledKg !== null);
    expect(liquid.length).toBeGreaterThan(4);
    for (const row of liquid) {
      expect((row.filledKg ?? 0) / (row.waterVolumeM3 * 1000)).toBeLessThanOrEqual(
        row.market === "us" ? 0.680001 : 0.76,
      );
    }
  });

  test("an unknown name has no row", () => {
    expect(catalogueRow("T")).toBeUndefined();
  });
});

test("a size by name counts as known to 2 %, by mass of CO2 to 4 % (estimate, no source)", () => {
  for (const row of catalogue) {
    expect(row.waterVolumeRelativeSigma).toBe(row.filledKg === null ? 0.02 : 0.04);
  }
});
