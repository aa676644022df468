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

/** Nodes of the table: absolute pressures up to any line's, temperatures of any shop's. */
const tablePressuresPa = [0.5e5, 5e5, 12e5, 21e5];
const TABLE_LOWEST_K = 233.15;
const TABLE_HIGHEST_K = 333.15;

/**
 * The critical flow function as a cheap, smooth function of pressure and temperature, for loops:
 * a bicubic through sixteen exact values over 0.5 to 21 bar absolute and 233 to 333 K (CO2: from
 * 258 K, where it is still a gas at 21 bar). Outside it is held at the edge. Within 2e-4 of
 * `criticalFlow` inside.
 *
 * @returns C*(absolute pressure in Pa, temperature in K), dimensionless; allocates nothing
 */
export function tabulateCriticalFlow(
  mixture: Mixture,
): (pressurePa: number, temperatureK: number) => number {
  const highestPa = within(tablePressuresPa, Number.POSITIVE_INFINITY);
  let lowestK = TABLE_LOWEST_K;
  while (Number.isNaN(mixture.densityOrNaN(highestPa, lowestK))) {
    lowestK += 5;
  }
  const tableTemperaturesK = [0, 0.25, 0.6, 1].map(
    (part) => lowestK + part * (TABLE_HIGHEST_K - lowestK),
  );
  const values = tablePressuresPa.map((pressurePa) =>
    tableTemperaturesK.map(
      (temperatureK) => criticalFlow(mixture, pressurePa, temperatureK).criticalFlowFunction,
    ),
  );
  return (pressurePa, temperatureK) => {
    const p = within(tablePressuresPa, pressurePa);
    const T = within(tableTemperaturesK, temperatureK);
    let total = 0;
    for (let i = 0; i < tablePressuresPa.length; i++) {
      let row = 0;
      for (let j = 0; j < tableTemperaturesK.length; j++) {
        row += values[i][j] * lagrange(tableTemperaturesK, j, T);
      }
      total += row * lagrange(tablePressuresPa, i, p);
    }
    return total;
  };
}

function within(nodes: readonly number[], x: number): number {
  return Math.min(Math.max(x, nodes[0]), nodes[nodes.length - 1]);
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
