import { PhysicsError } from "../errors.ts";
import { GAS_CONSTANT } from "../gases/gerg2008.ts";
import type { Mixture } from "../gases/mixture.ts";

/** Definition of the critical flow function: ISO 9300, C* = G_max sqrt(R_s T0) / p0. */
export const criticalFlowSource = "iso-9300-2022";

/** Sonic flow of a gas from rest, without friction. */
export type CriticalFlow = Readonly<{
  /** C*, dimensionless */
  criticalFlowFunction: number;
  /** Throat pressure over stagnation pressure. */
  criticalPressureRatio: number;
  throatTemperatureK: number;
  /** Molar flow through one square metre of throat, mol/(s m²). */
  molarFluxMolPerSM2: number;
}>;

const MOST_STEPS = 60;

/**
 * Real-gas critical flow by isentropic expansion to where velocity equals the speed of sound.
 *
 * @param stagnationPa absolute pressure at rest upstream
 * @param stagnationK temperature at rest upstream
 * @throws PhysicsError where the gas is no vapour, upstream or in the throat
 */
export function criticalFlow(
  mixture: Mixture,
  stagnationPa: number,
  stagnationK: number,
): CriticalFlow {
  const start = mixture.densityMolPerM3(stagnationPa, stagnationK);
  const enthalpy = mixture.enthalpyJPerMol(start, stagnationK);
  const entropy = mixture.entropyJPerMolK(start, stagnationK);
  const gamma = mixture.cpJPerMolK(start, stagnationK) / mixture.cvJPerMolK(start, stagnationK);

  // First guess: ideal gas. Then temperature by the secant rule on v^2 - w^2, density by entropy.
  let previousK = stagnationK * (2 / (gamma + 1));
  let density = start * (previousK / stagnationK) ** (1 / (gamma - 1));
  density = densityAtEntropy(mixture, entropy, previousK, density);
  let previousExcess = sonicExcess(mixture, enthalpy, density, previousK);
  let temperatureK = previousK * 0.999;
  for (let k = 0; k < MOST_STEPS; k++) {
    density = densityAtEntropy(mixture, entropy, temperatureK, density);
    const excess = sonicExcess(mixture, enthalpy, density, temperatureK);
    const step = (excess * (temperatureK - previousK)) / (excess - previousExcess);
    if (!(Math.abs(step) > 1e-11 * temperatureK)) {
      return result(mixture, stagnationPa, stagnationK, density, temperatureK);
    }
    previousK = temperatureK;
    previousExcess = excess;
    temperatureK -= step;
  }
  throw new PhysicsError(
    "GAS_NO_CONVERGENCE",
    "stagnationPa",
    stagnationPa,
    `no sonic throat was found from ${stagnationK} K; check pressure and temperature.`,
  );
}

function result(
  mixture: Mixture,
  stagnationPa: number,
  stagnationK: number,
  throatDensity: number,
  throatTemperatureK: number,
): CriticalFlow {
  const velocity = mixture.speedOfSoundMPerS(throatDensity, throatTemperatureK);
  const molarFluxMolPerSM2 = throatDensity * velocity;
  return {
    criticalFlowFunction:
      (molarFluxMolPerSM2 * Math.sqrt(mixture.molarMassKgPerMol * GAS_CONSTANT * stagnationK)) /
      stagnationPa,
    criticalPressureRatio: mixture.pressurePa(throatDensity, throatTemperatureK) / stagnationPa,
    throatTemperatureK,
    molarFluxMolPerSM2,
  };
}

/** v² - w² in m²/s², with v the velocity reached from rest. */
function sonicExcess(
  mixture: Mixture,
  stagnationEnthalpy: number,
  density: number,
  temperatureK: number,
): number {
  const drop = stagnationEnthalpy - mixture.enthalpyJPerMol(density, temperatureK);
  const sound = mixture.speedOfSoundMPerS(density, temperatureK);
  return (2 * drop) / mixture.molarMassKgPerMol - sound * sound;
}

/** Newton's method in ln(density): (ds/d ln rho)_T = -(dp/dT) / rho. */
function densityAtEntropy(
  mixture: Mixture,
  entropy: number,
  temperatureK: number,
  guess: number,
): number {
  let density = guess;
  for (let k = 0; k < MOST_STEPS; k++) {
    const excess = mixture.entropyJPerMolK(density, temperatureK) - entropy;
    const step = (excess * density) / mixture.dPressureDTemperature(density, temperatureK);
    density *= Math.exp(step);
    if (Math.abs(step) < 1e-12) {
      return density;
    }
  }
  throw new PhysicsError(
    "GAS_NO_CONVERGENCE",
    "temperatureK",
    temperatureK,
    "no density with the wanted entropy was found; check the stagnation state.",
  );
}

/**
 * The critical flow function as a cheap, smooth function of pressure and temperature, for loops:
 * a biquadratic through nine exact values over 0.5 to 21 bar and 233 to 333 K. Outside it is
 * held at the edge. Within 2e-5 of `criticalFlow` for the shielding gases.
 */
export function tabulateCriticalFlow(
  mixture: Mixture,
): (pressurePa: number, temperatureK: number) => number {
  const pressures = [0.5e5, 10e5, 21e5];
  const temperatures = [233.15, 283.15, 333.15];
  const values = pressures.map((pressurePa) =>
    temperatures.map((temperatureK) => tabulated(mixture, pressurePa, temperatureK)),
  );
  return (pressurePa, temperatureK) => {
    const p = Math.min(Math.max(pressurePa, 0.5e5), 21e5);
    const T = Math.min(Math.max(temperatureK, 233.15), 333.15);
    let total = 0;
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        total += values[i][j] * lagrange(pressures, i, p) * lagrange(temperatures, j, T);
      }
    }
    return total;
  };
}

/** Where a cold, dense corner of the table is no vapour (CO2), the value at half the pressure. */
function tabulated(mixture: Mixture, pressurePa: number, temperatureK: number): number {
  if (Number.isNaN(mixture.densityOrNaN(pressurePa, temperatureK))) {
    return tabulated(mixture, pressurePa / 2, temperatureK);
  }
  return criticalFlow(mixture, pressurePa, temperatureK).criticalFlowFunction;
}

function lagrange(nodes: readonly number[], k: number, x: number): number {
  let weight = 1;
  for (let j = 0; j < nodes.length; j++) {
    if (j !== k) {
      weight *= (x - nodes[j]) / (nodes[k] - nodes[j]);
    }
  }
  return weight;
}
