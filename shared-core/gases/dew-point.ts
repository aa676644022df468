import { type Result, toResult } from "../errors.ts";
import {
  carbonDioxideKgPerMol,
  criticalPoint,
  mayHoldLiquid,
  saturatedVapourKgPerM3,
  saturationTemperatureK,
  sublimationPressurePa,
  triplePoint,
} from "./co2-saturation.ts";
import { type Composition, type GasSymbol, isPure, validComposition } from "./composition.ts";
import { solveLiquidDensity } from "./density.ts";
import { ResidualHelmholtz } from "./gerg2008.ts";
import { createMixture, type Mixture } from "./mixture.ts";

/**
 * Whether a gas with CO2 in it stays a gas when cold.
 *
 * Stability test of Michelsen: a liquid-like trial phase W is improved by
 * ln W_i = ln z_i + ln phi_i(z) - ln phi_i(W); the gas condenses where sum W exceeds 1.
 * Fugacities come from the equation of state by central differences over mole numbers.
 */
export const stabilitySource = "michelsen-1982";

/** Step of the differences over mole numbers, part of the whole. */
const MOLE_STEP = 1e-4;
const MOST_STEPS = 200;
/** Temperature to which a dew point is found, K. */
const DEW_TOLERANCE_K = 0.01;

/** What a gas does at a pressure and a temperature. */
export type GasPhase = "gas" | "may-condense";

/**
 * Says whether a gas may hold liquid (below -56.6 °C, dry ice) at a state. Pure CO2 may from 2 %
 * below its vapour pressure on, which is what a cylinder with liquid in it shows.
 *
 * @param pressurePa absolute
 */
export function gasPhase(
  mixture: Mixture,
  pressurePa: number,
  temperatureK: number,
): Result<GasPhase> {
  return toResult(() => (condenses(mixture, pressurePa, temperatureK) ? "may-condense" : "gas"));
}

/**
 * The dew point at a pressure, K: the highest temperature at which liquid appears. Null where the
 * gas stays a gas down to `lowestK` (no CO2, little of it, or a pressure above its two-phase region).
 *
 * @param pressurePa absolute
 */
export function dewPointK(
  mixture: Mixture,
  pressurePa: number,
  lowestK = 190,
): Result<number | null> {
  return toResult(() => {
    if (isPure(mixture.composition, "CO2")) {
      return pressurePa >= triplePoint.pressurePa && pressurePa <= criticalPoint.pressurePa
        ? saturationTemperatureK(pressurePa)
        : null;
    }
    return highestCondensingK(() => pressurePa, mixture, lowestK);
  });
}

/**
 * The temperature down to which a closed cylinder may cool before liquid appears, K; null where it
 * stays a gas down to `lowestK`. The pressure falls with the temperature on the way.
 *
 * @param pressurePa absolute, settled at `temperatureK`
 */
export function coldLimitK(
  mixture: Mixture,
  pressurePa: number,
  temperatureK: number,
  lowestK = 190,
): Result<number | null> {
  return toResult(() => {
    const density = mixture.densityMolPerM3(pressurePa, temperatureK);
    if (isPure(mixture.composition, "CO2")) {
      return saturatedAtDensityK(density, mixture, lowestK);
    }
    return highestCondensingK(
      (K) => mixture.pressurePa(density, K),
      mixture,
      lowestK,
      // Where the pressure of this density belongs to another density too, it is no one phase.
      (pressure, K) => Math.abs(mixture.densityOrNaN(pressure, K) / density - 1) < 1e-6,
    );
  });
}

/**
 * Temperature at which CO2 vapour of a density is saturated, K. Denser than critical it turns into
 * a liquid at the critical temperature. Null where it stays vapour down to `lowestK`.
 */
function saturatedAtDensityK(
  densityMolPerM3: number,
  mixture: Mixture,
  lowestK: number,
): number | null {
  const kgPerM3 = densityMolPerM3 * carbonDioxideKgPerMol;
  const saturatedKgPerM3 = (K: number): number =>
    K >= triplePoint.temperatureK
      ? saturatedVapourKgPerM3(K)
      : mixture.densityMolPerM3(sublimationPressurePa(K), K) * carbonDioxideKgPerMol;
  let low = Math.max(130, lowestK);
  let high: number = criticalPoint.temperatureK;
  if (saturatedKgPerM3(low) > kgPerM3) {
    return null;
  }
  while (high - low > DEW_TOLERANCE_K) {
    const middle = (low + high) / 2;
    if (saturatedKgPerM3(middle) > kgPerM3) {
      high = middle;
    } else {
      low = middle;
    }
  }
  return (low + high) / 2;
}

function highestCondensingK(
  pressureAt: (temperatureK: number) => number,
  mixture: Mixture,
  lowestK: number,
  isOnePhase: (pressurePa: number, temperatureK: number) => boolean = () => true,
): number | null {
  if ((mixture.composition.CO2 ?? 0) === 0) {
    return null;
  }
  const STEP_K = 8;
  const condensesAt = (K: number): boolean => {
    const pressurePa = pressureAt(K);
    // A negative pressure is one of the equation's loop: the gas has condensed long before.
    return !(pressurePa > 0 && isOnePhase(pressurePa, K)) || condenses(mixture, pressurePa, K);
  };
  let above: number = criticalPoint.temperatureK;
  let below = above - STEP_K;
  while (!condensesAt(below)) {
    if (below <= lowestK) {
      return null;
    }
    above = below;
    below = Math.max(lowestK, below - STEP_K);
  }
  while (above - below > DEW_TOLERANCE_K) {
    const middle = (above + below) / 2;
    if (condensesAt(middle)) {
      below = middle;
    } else {
      above = middle;
    }
  }
  return (above + below) / 2;
}

function condenses(mixture: Mixture, pressurePa: number, temperatureK: number): boolean {
  const carbonDioxide = mixture.composition.CO2 ?? 0;
  if (carbonDioxide === 0 || temperatureK >= criticalPoint.temperatureK) {
    // The other gases' critical points lie below 155 K; CO2 is the one that condenses in a shop.
    return false;
  }
  const gasDensity = mixture.densityOrNaN(pressurePa, temperatureK);
  if (Number.isNaN(gasDensity)) {
    return true;
  }
  if (carbonDioxide === 1) {
    return mayHoldLiquid(pressurePa, temperatureK);
  }
  const symbols = Object.keys(mixture.composition) as GasSymbol[];
  const gas = logFugacityCoefficients(mixture.composition, symbols, temperatureK, () => gasDensity);
  const feed = symbols.map((symbol, k) => Math.log(mixture.composition[symbol] ?? 0) + gas[k]);

  // Start from CO2 with a little of the rest in the proportions of the gas.
  let trial = symbols.map((symbol) =>
    symbol === "CO2" ? 0.95 : (0.05 * (mixture.composition[symbol] ?? 0)) / (1 - carbonDioxide),
  );
  for (let k = 0; k < MOST_STEPS; k++) {
    const sum = trial.reduce((total, x) => total + x, 0);
    const liquid = Object.fromEntries(symbols.map((symbol, i) => [symbol, trial[i] / sum]));
    const phi = logFugacityCoefficients(liquid, symbols, temperatureK, (residual, highest) =>
      solveLiquidDensity(residual, pressurePa, temperatureK, highest),
    );
    if (phi.some(Number.isNaN)) {
      // No liquid of this composition exists here.
      return false;
    }
    const next = feed.map((value, i) => Math.exp(value - phi[i]));
    const change = Math.max(...next.map((x, i) => Math.abs(Math.log(x / trial[i]))));
    trial = next;
    if (change < 1e-8) {
      break;
    }
  }
  const sum = trial.reduce((total, x) => total + x, 0);
  const distance = symbols.reduce(
    (total, symbol, i) => total + Math.abs(trial[i] / sum - (mixture.composition[symbol] ?? 0)),
    0,
  );
  // A trial that has crept back to the gas itself is no second phase.
  return sum > 1 + 1e-7 && distance > 1e-3;
}

/**
 * ln phi_i = d(n alpha_r)/dn_i at constant T and V, minus ln Z; Kunz & Wagner 2012, section 4.
 */
function logFugacityCoefficients(
  composition: Composition,
  symbols: readonly GasSymbol[],
  temperatureK: number,
  densityOf: (residual: ResidualHelmholtz, highestMolPerM3: number) => number,
): number[] {
  const mixture = createMixture(composition);
  const residual = new ResidualHelmholtz(mixture.composition);
  residual.setTemperature(temperatureK);
  const density = densityOf(residual, mixture.highestDensityMolPerM3);
  if (Number.isNaN(density)) {
    return symbols.map(() => Number.NaN);
  }
  const Z = mixture.compressibility(density, temperatureK);
  return symbols.map((symbol) => {
    const step = MOLE_STEP * (mixture.composition[symbol] ?? 0);
    const above = energyWith(mixture.composition, symbol, step, density, temperatureK);
    const below = energyWith(mixture.composition, symbol, -step, density, temperatureK);
    return (above - below) / (2 * step) - Math.log(Z);
  });
}

/** n alpha_r after adding `step` mol of one gas to one mol of mixture in the same volume. */
function energyWith(
  composition: Composition,
  symbol: GasSymbol,
  step: number,
  density: number,
  temperatureK: number,
): number {
  const total = 1 + step;
  const changed = Object.fromEntries(
    (Object.entries(composition) as [GasSymbol, number][]).map(([other, x]) => [
      other,
      (x + (other === symbol ? step : 0)) / total,
    ]),
  );
  const residual = new ResidualHelmholtz(validComposition(changed));
  residual.setTemperature(temperatureK);
  residual.evaluate((density * total) / residual.reducingDensityMolPerM3);
  return total * residual.alpha;
}
