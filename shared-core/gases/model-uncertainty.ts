import { unfittedPairs } from "./binary-pairs.ts";
import type { Composition, GasSymbol } from "./composition.ts";
import type { Mixture } from "./mixture.ts";

/**
 * How far the equation itself may be from the truth, as a relative standard uncertainty of the
 * density (and so of the content) at a pressure.
 *
 * Pure gases: Kunz & Wagner state 0.1 % for the density of the main gases in the gas region to
 * 30 MPa, but argon and oxygen use a generalised form: the reference equation of argon lies up to
 * 0.18 % away (300 bar, -15 °C). 0.2 % is read as a limit for all. Mixtures: what is uncertain
 * is the cross virial coefficient of each pair; delta Z = 2 x_i x_j delta B_ij rho.
 */
export const pureDensityLimit = { relative: 0.002, source: "kunz-wagner-2012" } as const;

/**
 * Standard uncertainty of cross virial coefficients near room temperature, m³/mol.
 *
 * Ar-He: the equation has no fitted parameters and gives 20.8 cm³/mol, a Lennard-Jones estimate
 * 17.5: the difference is taken, 1 % of the content of 75/25 at 200 bar. The other pairs without
 * fitted parameters are taken alike (estimate, no source). Ar-CO2: two models agree within 1 % at
 * 200 bar and 25 % CO2, read as a limit. Other fitted pairs: estimate, no source.
 */
export const crossVirialSigma = {
  unfitted: 3.3e-6,
  argonCarbonDioxide: 1.5e-6,
  fitted: 1e-6,
  source: "leeward-estimate",
} as const;

/**
 * Relative standard uncertainty of the equation's density, dimensionless.
 *
 * @param composition valid mole fractions
 * @param densityMolPerM3 at which it is asked
 * @param compressibility Z there
 */
export function densityRelativeSigma(
  composition: Composition,
  densityMolPerM3: number,
  compressibility: number,
): number {
  let variance = (pureDensityLimit.relative / Math.sqrt(3)) ** 2;
  const present = Object.entries(composition) as [GasSymbol, number][];
  for (let i = 0; i < present.length; i++) {
    for (let j = i + 1; j < present.length; j++) {
      const sigma = pairSigma(present[i][0], present[j][0]);
      const effect =
        (2 * present[i][1] * present[j][1] * sigma * densityMolPerM3) / compressibility;
      variance += effect * effect;
    }
  }
  return Math.sqrt(variance);
}

/** The same, for a mixture at an absolute pressure and a temperature. */
export function densityRelativeSigmaAt(
  mixture: Mixture,
  pressurePa: number,
  temperatureK: number,
): number {
  const density = mixture.densityMolPerM3(pressurePa, temperatureK);
  return densityRelativeSigma(
    mixture.composition,
    density,
    mixture.compressibility(density, temperatureK),
  );
}

function pairSigma(first: GasSymbol, second: GasSymbol): number {
  const isPair = (a: GasSymbol, b: GasSymbol): boolean =>
    (a === first && b === second) || (a === second && b === first);
  if (unfittedPairs.some(([a, b]) => isPair(a, b))) {
    return crossVirialSigma.unfitted;
  }
  return isPair("Ar", "CO2") ? crossVirialSigma.argonCarbonDioxide : crossVirialSigma.fitted;
}
