/** Unit in which a source prints its flow: CFH refers to `us`, L/min to `metric20` conditions. */
export type PrintedFlowUnit = "CFH" | "L/min";

/** One cubic foot an hour in litres a minute: 0.3048³ · 1000 / 60, exact. */
const LPM_PER_CFH = 0.4719474432;
/** `us` (70 °F, 14.696 psia) to `metric20` (20 °C, 101.325 kPa) volume, ideal gas. */
const METRIC20_PER_US =
  ((14.696 * 6894.757293168361) / 101_325) * (293.15 / ((70 - 32) / 1.8 + 273.15));

/**
 * A printed flow as `metric20` L/min. The reference change is the ideal-gas one: tables are rounded
 * to whole units, a real-gas correction of 0.01 % would pretend more.
 */
export function toMetric20Lpm(flow: number, unit: PrintedFlowUnit): number {
  return unit === "CFH" ? flow * LPM_PER_CFH * METRIC20_PER_US : flow;
}

/** `metric20` L/min as CFH at `us` conditions. */
export function toCfh(lpm: number): number {
  return lpm / (LPM_PER_CFH * METRIC20_PER_US);
}
