import { BAR_PA, PSI_PA } from "../units/factors.ts";

/**
 * Common cylinder sizes. A row only fills in water volume and settled fill pressure: size names
 * differ between suppliers, so the stamped volume and the gauge go first.
 */
export type CatalogueRow = Readonly<{
  name: string;
  market: "us" | "metric";
  waterVolumeM3: number;
  /** Settled fill pressure, gauge, Pa; null for liquid-filled CO2. */
  fillGaugePa: number | null;
  /** Temperature of that pressure, K. */
  fillK: number;
  /** Liquid-filled CO2: mass of a full cylinder, kg. */
  filledKg: number | null;
  /** Relative standard uncertainty of the volume: names are rounded and vary by supplier. */
  waterVolumeRelativeSigma: number;
  source: string;
}>;

const SEVENTY_F_K = 294.261_111;
const FIFTEEN_C_K = 288.15;
const CATALOGUE_SIGMA = 0.02;

/** US sizes: the water volume that gives the nominal argon content at the fill pressure. */
function us(name: string, waterVolumeL: number, psig: number): CatalogueRow {
  return {
    name,
    market: "us",
    waterVolumeM3: waterVolumeL * 1e-3,
    fillGaugePa: psig * PSI_PA,
    fillK: SEVENTY_F_K,
    filledKg: null,
    waterVolumeRelativeSigma: CATALOGUE_SIGMA,
    source: "us-nominal-argon-content",
  };
}

function metric(waterVolumeL: number, bar: number): CatalogueRow {
  return {
    name: `${waterVolumeL} L, ${bar} bar`,
    market: "metric",
    waterVolumeM3: waterVolumeL * 1e-3,
    fillGaugePa: bar * BAR_PA,
    fillK: FIFTEEN_C_K,
    filledKg: null,
    waterVolumeRelativeSigma: CATALOGUE_SIGMA,
    source: "metric-nominal-water-volume",
  };
}

/**
 * CO2 sizes: volume of the mass at the filling density, kg/L. US: 0.68, the lowest of
 * 49 CFR 173.304a. Metric: 0.75, as in 37.5 kg in 50 L (UN P200 allows about 0.76 in a cylinder
 * tested to 250 bar, 0.68 in one tested to 190 bar: weigh, or read the stamped volume).
 */
const filling = {
  us: { kgPerL: 0.68, source: "cfr-49-173-304a" },
  metric: { kgPerL: 0.75, source: "un-p200" },
} as const;

function liquid(name: string, market: "us" | "metric", filledKg: number): CatalogueRow {
  return {
    name,
    market,
    waterVolumeM3: (filledKg / filling[market].kgPerL) * 1e-3,
    fillGaugePa: null,
    fillK: market === "us" ? SEVENTY_F_K : FIFTEEN_C_K,
    filledKg,
    waterVolumeRelativeSigma: 2 * CATALOGUE_SIGMA,
    source: filling[market].source,
  };
}

const POUND_KG = 0.453_592_37;

export const catalogue: readonly CatalogueRow[] = [
  us("20 ft³", 3.87, 2015),
  us("40 ft³", 7.73, 2015),
  us("60 ft³", 10.55, 2216),
  us("80 ft³", 15.5, 2015),
  us("80 ft³ (+)", 14.1, 2216),
  us("125 ft³", 22.0, 2216),
  us("150 ft³", 29.0, 2015),
  us("250 ft³", 48.5, 2015),
  us("250 ft³ (+)", 43.9, 2216),
  us("280 ft³", 48.3, 2265),
  us("300 ft³", 48.7, 2400),
  us("330 ft³ (+)", 49.0, 2640),
  metric(10, 200),
  metric(20, 200),
  metric(50, 200),
  metric(10, 300),
  metric(20, 300),
  metric(50, 300),
  liquid("CO2 5 lb", "us", 5 * POUND_KG),
  liquid("CO2 20 lb", "us", 20 * POUND_KG),
  liquid("CO2 50 lb", "us", 50 * POUND_KG),
  liquid("CO2 75 lb", "us", 75 * POUND_KG),
  liquid("CO2 10 kg", "metric", 10),
  liquid("CO2 20 kg", "metric", 20),
  liquid("CO2 30 kg", "metric", 30),
  liquid("CO2 37.5 kg", "metric", 37.5),
];

/** The row with this name, or undefined. */
export function catalogueRow(name: string): CatalogueRow | undefined {
  return catalogue.find((row) => row.name === name);
}
