import { CFH_M3_PER_S, LITRE_PER_MINUTE_M3_PER_S } from "../units/factors.ts";
import { referenceConditions } from "../units/reference-conditions.ts";

/** Unit in which a source prints its flow: CFH refers to `us`, L/min to `metric20` conditions. */
export type PrintedFlowUnit = "CFH" | "L/min";

const { us, metric20 } = referenceConditions;
const LPM_PER_CFH = CFH_M3_PER_S / LITRE_PER_MINUTE_M3_PER_S;
/** Volume of an ideal gas at `metric20` for one at `us`. */
const METRIC20_PER_US =
  (us.pressurePa / metric20.pressurePa) * (metric20.temperatureK / us.temperatureK);

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
