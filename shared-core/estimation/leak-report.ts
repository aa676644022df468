import type { SupplyPlan } from "./plan.ts";

/** `metric20` L/min for a loss of density of 1 mol/m³/s in this cylinder. */
export function litresPerRho(plan: SupplyPlan): number {
  return (plan.filter.waterVolumeM3 * 60_000) / plan.gas.standardMolPerM3;
}
