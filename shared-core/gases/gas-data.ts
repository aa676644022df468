import { argon } from "./argon.ts";
import { carbonDioxide } from "./carbon-dioxide.ts";
import type { GasSymbol } from "./composition.ts";
import { helium } from "./helium.ts";
import { hydrogen } from "./hydrogen.ts";
import { nitrogen } from "./nitrogen.ts";
import { oxygen } from "./oxygen.ts";

/** One term n delta^d tau^t (c = 0) or n delta^d tau^t exp(-delta^c) of the residual part. */
export type ResidualTerm = readonly [n: number, d: number, t: number, c: number];

/** A pair of coefficient (dimensionless) and characteristic temperature (K). */
export type HeatCapacityTerm = readonly [coefficient: number, thetaK: number];

/** What the equations need to know of one gas. Each source is a key in shared-core/sources.bib. */
export type GasData = Readonly<{
  symbol: GasSymbol;
  name: string;
  molarMassKgPerMol: number;
  criticalDensityMolPerM3: number;
  criticalTemperatureK: number;
  residualTerms: readonly ResidualTerm[];
  residualSource: string;
  /**
   * cv0 / R* = constant - 1 + sum n (theta/T)^2 / sinh^2(theta/T) + sum n (theta/T)^2 / cosh^2(theta/T)
   * with R* = 8.31451 J/(mol K).
   */
  idealHeatCapacity: Readonly<{
    constant: number;
    sinhTerms: readonly HeatCapacityTerm[];
    coshTerms: readonly HeatCapacityTerm[];
  }>;
  idealHeatCapacitySource: string;
}>;

/** Every gas the library knows; a new gas is one file and one line here. */
export const gasData: Readonly<Record<GasSymbol, GasData>> = {
  Ar: argon,
  CO2: carbonDioxide,
  He: helium,
  N2: nitrogen,
  O2: oxygen,
  H2: hydrogen,
};
