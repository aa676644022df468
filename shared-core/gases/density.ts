import { GAS_CONSTANT, type ResidualHelmholtz } from "./gerg2008.ts";

/** Steps after which the search gives up; halving alone needs about 50. */
const MOST_STEPS = 100;
/** Relative error of the density at which the search ends; ten times below what is promised. */
const ERROR_ALLOWED = 1e-11;
/** Step of the walk that looks for a loop below a candidate, as a part of the reducing density. */
const WALK_DELTA = 0.04;

/**
 * Density of the vapour or dense gas at a pressure, by Newton's method kept inside a bracket.
 *
 * Above `loopTemperatureK` pressure rises with density everywhere, so the one root is found
 * whatever the guess. Below it, a root counts only if pressure rises all the way up to it from
 * zero density: that makes it the vapour's, and never a spurious root inside the loop. Whether
 * that vapour is stable is another question: `isSupercooled`.
 *
 * @param residual with the temperature already set
 * @returns mol/m³, or NaN where there is no vapour at this pressure. Allocates nothing.
 */
export function solveDensity(
  residual: ResidualHelmholtz,
  pressurePa: number,
  temperatureK: number,
  guessMolPerM3: number,
  highestMolPerM3: number,
  loopTemperatureK: number,
): number {
  if (temperatureK > loopTemperatureK) {
    return newton(residual, pressurePa, temperatureK, guessMolPerM3, highestMolPerM3);
  }
  const limit = highestVapourMolPerM3(residual, pressurePa, temperatureK, highestMolPerM3);
  return newton(residual, pressurePa, temperatureK, Math.min(guessMolPerM3, limit), limit);
}

/**
 * True if a vapour would condense whole: a liquid of the same composition has the lower Gibbs
 * energy, Z - 1 - ln Z + alpha_r. Only below the loop's temperature; allocates nothing.
 */
export function isSupercooled(
  residual: ResidualHelmholtz,
  vapourMolPerM3: number,
  pressurePa: number,
  temperatureK: number,
  highestMolPerM3: number,
): boolean {
  const liquid = solveLiquidDensity(residual, pressurePa, temperatureK, highestMolPerM3);
  return (
    liquid > vapourMolPerM3 * 1.001 &&
    gibbs(residual, liquid) < gibbs(residual, vapourMolPerM3) - 1e-6
  );
}

function gibbs(residual: ResidualHelmholtz, densityMolPerM3: number): number {
  residual.evaluate(densityMolPerM3 / residual.reducingDensityMolPerM3);
  return residual.alpha + residual.deltaFirst - Math.log1p(residual.deltaFirst);
}

function newton(
  residual: ResidualHelmholtz,
  pressurePa: number,
  temperatureK: number,
  guessMolPerM3: number,
  highestMolPerM3: number,
): number {
  const scale = GAS_CONSTANT * temperatureK;
  const reducing = residual.reducingDensityMolPerM3;
  let low = 0;
  let high = highestMolPerM3;
  let density = guessMolPerM3 > 0 ? guessMolPerM3 : pressurePa / scale;
  if (!(density < high)) {
    density = high / 2;
  }
  let lastStep = 1;
  for (let k = 0; k < MOST_STEPS; k++) {
    residual.evaluate(density / reducing);
    const { deltaFirst, deltaSecond } = residual;
    const excess = density * scale * (1 + deltaFirst) - pressurePa;
    const slope = scale * (1 + 2 * deltaFirst + deltaSecond);
    if (excess > 0) {
      high = density;
    } else {
      low = density;
    }
    const step = excess / slope;
    const next = density - step;
    if (!(slope > 0) || next < low || next > high) {
      // Newton leads out of the bracket: halve it instead.
      if (high - low <= 1e-13 * high) {
        return closed(residual, density, pressurePa, scale);
      }
      density = (low + high) / 2;
      lastStep = 1;
      continue;
    }
    density = next;
    // The relative error after a Newton step is c step^2, and c shows in the step before:
    // step = c lastStep^2. A lucky step must not pass for a straight curve, so c counts as 1 at least.
    const size = Math.abs(step) / density;
    const curvature = Math.max(1, size / (lastStep * lastStep));
    if (curvature * size * size <= ERROR_ALLOWED) {
      return density;
    }
    lastStep = size;
  }
  return closed(residual, density, pressurePa, scale);
}

/** The density if it reproduces the pressure, else NaN: no wrong root is returned in silence. */
function closed(
  residual: ResidualHelmholtz,
  densityMolPerM3: number,
  pressurePa: number,
  scale: number,
): number {
  residual.evaluate(densityMolPerM3 / residual.reducingDensityMolPerM3);
  const pressure = densityMolPerM3 * scale * (1 + residual.deltaFirst);
  return Math.abs(pressure - pressurePa) <= 1e-9 * pressurePa ? densityMolPerM3 : Number.NaN;
}

/**
 * Density of the liquid (or dense fluid) at a pressure: the highest root, by a walk down from the
 * highest density and halving. For phase equilibrium; not fast.
 *
 * @param residual with the temperature already set
 * @returns mol/m³, or NaN where there is no liquid at this pressure
 */
export function solveLiquidDensity(
  residual: ResidualHelmholtz,
  pressurePa: number,
  temperatureK: number,
  highestMolPerM3: number,
): number {
  const reducing = residual.reducingDensityMolPerM3;
  const scale = GAS_CONSTANT * temperatureK;
  let high = highestMolPerM3;
  let low = high - WALK_DELTA * reducing;
  for (; low > 0; high = low, low -= WALK_DELTA * reducing) {
    residual.evaluate(low / reducing);
    if (low * scale * (1 + residual.deltaFirst) < pressurePa) {
      break;
    }
    if (1 + 2 * residual.deltaFirst + residual.deltaSecond <= 0) {
      return Number.NaN;
    }
  }
  for (let k = 0; k < 80 && high - low > 1e-13 * high; k++) {
    const middle = (low + high) / 2;
    residual.evaluate(middle / reducing);
    if (middle * scale * (1 + residual.deltaFirst) < pressurePa) {
      low = middle;
    } else {
      high = middle;
    }
  }
  return closed(residual, (low + high) / 2, pressurePa, scale);
}

/** Walks up from zero density to where the pressure is reached or stops rising. */
function highestVapourMolPerM3(
  residual: ResidualHelmholtz,
  pressurePa: number,
  temperatureK: number,
  highestMolPerM3: number,
): number {
  const reducing = residual.reducingDensityMolPerM3;
  const scale = GAS_CONSTANT * temperatureK;
  let low = 0;
  for (let density = WALK_DELTA * reducing; density < highestMolPerM3; ) {
    residual.evaluate(density / reducing);
    if (1 + 2 * residual.deltaFirst + residual.deltaSecond <= 0) {
      return spinodal(residual, low, density);
    }
    if (density * scale * (1 + residual.deltaFirst) >= pressurePa) {
      return density;
    }
    low = density;
    density += WALK_DELTA * reducing;
  }
  return highestMolPerM3;
}

/** The density between `low` (stable) and `high` (not) where dp/drho passes zero. */
function spinodal(residual: ResidualHelmholtz, low: number, high: number): number {
  const reducing = residual.reducingDensityMolPerM3;
  let stable = low;
  let unstable = high;
  for (let k = 0; k < 50 && unstable - stable > 1e-12 * unstable; k++) {
    const middle = (stable + unstable) / 2;
    residual.evaluate(middle / reducing);
    if (1 + 2 * residual.deltaFirst + residual.deltaSecond > 0) {
      stable = middle;
    } else {
      unstable = middle;
    }
  }
  return stable;
}
