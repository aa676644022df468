import { PhysicsError } from "../errors.ts";
import type { Mixture } from "./mixture.ts";

const MOST_STEPS = 60;
/** Largest temperature step of the search, K: keeps it inside the vapour. */
const LARGEST_STEP_K = 40;

/** Density and temperature of a state found by a search. */
export type FoundState = Readonly<{ densityMolPerM3: number; temperatureK: number }>;

/**
 * The state at a pressure that has a given enthalpy: where throttling ends (isenthalpic).
 *
 * @param guessK a temperature near the answer, at which the gas is vapour
 * @throws PhysicsError `GAS_NOT_VAPOUR` where the gas would condense or freeze on the way
 */
export function stateAtEnthalpy(
  mixture: Mixture,
  pressurePa: number,
  enthalpyJPerMol: number,
  guessK: number,
): FoundState {
  return search(mixture, pressurePa, guessK, (density, temperatureK) => {
    const excess = mixture.enthalpyJPerMol(density, temperatureK) - enthalpyJPerMol;
    return excess / mixture.cpJPerMolK(density, temperatureK);
  });
}

/** The state at a pressure that has a given entropy: where an ideal nozzle ends (isentropic). */
export function stateAtEntropy(
  mixture: Mixture,
  pressurePa: number,
  entropyJPerMolK: number,
  guessK: number,
): FoundState {
  return search(mixture, pressurePa, guessK, (density, temperatureK) => {
    const excess = mixture.entropyJPerMolK(density, temperatureK) - entropyJPerMolK;
    return (excess * temperatureK) / mixture.cpJPerMolK(density, temperatureK);
  });
}

/** Newton's method in temperature; `stepK` is how far the temperature lies too high. */
function search(
  mixture: Mixture,
  pressurePa: number,
  guessK: number,
  stepK: (densityMolPerM3: number, temperatureK: number) => number,
): FoundState {
  let temperatureK = guessK;
  let density = mixture.densityMolPerM3(pressurePa, temperatureK);
  for (let k = 0; k < MOST_STEPS; k++) {
    const wanted = stepK(density, temperatureK);
    if (Math.abs(wanted) <= 1e-10 * temperatureK) {
      return { densityMolPerM3: density, temperatureK };
    }
    const step = Math.max(-LARGEST_STEP_K, Math.min(LARGEST_STEP_K, wanted));
    temperatureK -= step;
    density = mixture.densityMolPerM3(pressurePa, temperatureK, density);
  }
  throw new PhysicsError(
    "GAS_NO_CONVERGENCE",
    "pressurePa",
    pressurePa,
    `no state with the wanted energy was found near ${guessK} K; check the starting state.`,
  );
}
