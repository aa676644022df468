import type { Composition, GasSymbol } from "../gases/composition.ts";

/**
 * Whether a mixture burns in air, by the calculation of ISO 10156 for fuel gas with inert gases:
 * the inert ones are turned into the nitrogen that would inert as well, and the share of fuel in
 * that equivalent mixture is held against the highest share that does not burn.
 */
export const flammabilitySource = "iso-10156-2017";

/** Highest hydrogen in nitrogen that does not burn in air, whatever the amount of air (T_ci). */
export const HYDROGEN_IN_NITROGEN_MOST = 0.055;

/** Nitrogen that inerts as well as one part of this gas (coefficient K). */
const nitrogenEquivalent: Readonly<Partial<Record<GasSymbol, number>>> = {
  N2: 1,
  CO2: 1.5,
  He: 0.9,
  Ar: 0.55,
};

/** Below this a gas counts as an impurity, mole fraction (common practice, no source). */
export const TRACE = 0.001;

/**
 * Hydrogen in the equivalent mixture with nitrogen, mole fraction 0 to 1:
 * A / (A + sum K B). Oxygen inerts nothing and counts as none.
 */
export function equivalentHydrogen(composition: Composition): number {
  const hydrogen = composition.H2 ?? 0;
  if (hydrogen === 0) return 0;
  let inert = 0;
  for (const [gas, factor] of Object.entries(nitrogenEquivalent)) {
    inert += factor * (composition[gas as GasSymbol] ?? 0);
  }
  return hydrogen / (hydrogen + inert);
}

/** True if the mixture burns in air. */
export function isFlammable(composition: Composition): boolean {
  return equivalentHydrogen(composition) > HYDROGEN_IN_NITROGEN_MOST;
}

/**
 * Highest hydrogen that does not burn with the other gases of this mixture in their proportions,
 * mole fraction: T K / (1 - T + T K), K of the others together. Null for hydrogen alone.
 */
export function hydrogenLimit(composition: Composition): number | null {
  const others = 1 - (composition.H2 ?? 0);
  if (!(others > 0)) return null;
  let inert = 0;
  for (const [gas, factor] of Object.entries(nitrogenEquivalent)) {
    inert += (factor * (composition[gas as GasSymbol] ?? 0)) / others;
  }
  const most = HYDROGEN_IN_NITROGEN_MOST;
  return (most * inert) / (1 - most + most * inert);
}
