import { createMixture } from "../../../shared-core/gases/mixture.ts";
import { CFH_M3_PER_S, PSI_PA } from "../../../shared-core/units/factors.ts";
import {
  referenceConditions,
  standardDensityMolPerM3,
} from "../../../shared-core/units/reference-conditions.ts";

/** The gases of the trade sheet. */
export const gases = {
  Ar: createMixture({ Ar: 1 }),
  "Ar-25CO2": createMixture({ Ar: 0.75, CO2: 0.25 }),
  "Ar-18CO2": createMixture({ Ar: 0.82, CO2: 0.18 }),
  CO2: createMixture({ CO2: 1 }),
  He: createMixture({ He: 1 }),
  N2: createMixture({ N2: 1 }),
  air: createMixture({ N2: 0.7812, O2: 0.2096, Ar: 0.0092 }),
} as const;

export type GasName = keyof typeof gases;

/** 70 °F. */
export const roomK = referenceConditions.us.temperatureK;
/** 14.696 psia. */
export const atmospherePa = referenceConditions.us.pressurePa;

/** Absolute pressure of psig. */
export function psig(gauge: number): number {
  return gauge * PSI_PA + atmospherePa;
}

/** Molar flow as US CFH (70 °F, 14.696 psia). */
export function cfh(molPerS: number, gas: GasName): number {
  return molPerS / standardDensityMolPerM3(gases[gas], "us") / CFH_M3_PER_S;
}

/** US CFH as molar flow. */
export function molPerSOfCfh(flow: number, gas: GasName): number {
  return flow * CFH_M3_PER_S * standardDensityMolPerM3(gases[gas], "us");
}
