import type { Composition } from "../gases/composition.ts";
import { createMixture, type Mixture } from "../gases/mixture.ts";

/** Kelvin at 0 °C. */
export const ZERO_C = 273.15;
/** Standard atmosphere at sea level, Pa. */
export const STANDARD_ATMOSPHERE_PA = 101_325;
/** Weather around the standard atmosphere: ±15 hPa as a limit, 1 sigma in Pa. */
export const WEATHER_SIGMA_PA = 1500 / Math.sqrt(3);
/** Gas constant, J/(mol K). */
export const MOLAR_GAS_CONSTANT = 8.314462618;

/**
 * What the filters ask of the gas in a cylinder, in one place. Densities in mol/m³, temperatures
 * in K, pressures absolute in Pa. States outside the equation's range are clamped to it, so that
 * a filter driven by nonsense stays finite.
 */
export class GasModel {
  readonly composition: Composition;
  readonly mixture: Mixture;
  /** Molar density at 20 °C and 101.325 kPa: one `metric20` litre holds this times 0.001 mol. */
  readonly standardMolPerM3: number;
  readonly #errors: ModelErrors;
  /** Answers densities, so that `mixture` still knows the state that the filter asks of next. */
  #inverse: Mixture | null = null;

  constructor(composition: Composition) {
    this.composition = composition;
    this.mixture = createMixture(composition);
    this.standardMolPerM3 = this.mixture.densityMolPerM3(STANDARD_ATMOSPHERE_PA, 293.15);
    this.#errors = modelErrors(composition);
  }

  /** 1 sigma of the equation of state for this mixture at a density, relative. */
  modelSigma(densityMolPerM3: number): number {
    const { pure, square, linear } = this.#errors;
    const dense = Math.min(Math.max(densityMolPerM3, 0) / DENSE_MOL_PER_M3, 1.5);
    return pure + square * dense * dense + linear * dense;
  }

  /** 1 sigma of the equation of state in the moles that a fall of pressure means at a density, relative. */
  fallSigma(densityMolPerM3: number): number {
    const { pure, square, linear } = this.#errors;
    const dense = Math.min(Math.max(densityMolPerM3, 0) / DENSE_MOL_PER_M3, 1.5);
    // Of an error e(rho) of the content rho V, d(rho e)/drho.
    return pure + 3 * square * dense * dense + 2 * linear * dense;
  }

  pressurePa(densityMolPerM3: number, temperatureK: number): number {
    return this.mixture.pressurePa(this.density(densityMolPerM3), temperature(temperatureK));
  }

  /** (dp/drho)_T, kept above a small positive value so that gains stay bounded. */
  slope(densityMolPerM3: number, temperatureK: number): number {
    const t = temperature(temperatureK);
    const slope = this.mixture.dPressureDDensity(this.density(densityMolPerM3), t);
    return Math.max(slope, 0.05 * MOLAR_GAS_CONSTANT * t);
  }

  /** (dp/dT)_rho, Pa/K. */
  heating(densityMolPerM3: number, temperatureK: number): number {
    return this.mixture.dPressureDTemperature(
      this.density(densityMolPerM3),
      temperature(temperatureK),
    );
  }

  cv(densityMolPerM3: number, temperatureK: number): number {
    return this.mixture.cvJPerMolK(this.density(densityMolPerM3), temperature(temperatureK));
  }

  /** Density at an absolute pressure; 0 below 1 Pa. NaN where there is no gas phase at all. */
  densityAt(pressurePa: number, temperatureK: number, guess = 0): number {
    if (!(pressurePa > 1)) return 0;
    this.#inverse ??= createMixture(this.composition);
    return this.#inverse.densityOrNaN(Math.min(pressurePa, 6e7), temperature(temperatureK), guess);
  }

  private density(densityMolPerM3: number): number {
    const most = 0.98 * this.mixture.highestDensityMolPerM3;
    return densityMolPerM3 > 0.01 ? Math.min(densityMolPerM3, most) : 0.01;
  }
}

function temperature(temperatureK: number): number {
  return Math.min(Math.max(temperatureK, 180), 420);
}

/** About the density of a shielding gas at 200 bar, where the errors below are stated. */
const DENSE_MOL_PER_M3 = 9500;

/** What published equations of state differ by at `DENSE_MOL_PER_M3`: parts of 1 sigma, relative. */
interface ModelErrors {
  pure: number;
  /** Grows with the square of the density. */
  square: number;
  /** Grows with the density. */
  linear: number;
}

/**
 * Pure gases agree to 0.1-0.2 % between published equations, Ar/CO2 to 0.5-1 % above 100 bar: against
 * the multi-fluid model of CoolProp 25 % CO2 differ by 0.57 % at 200 bar, 0.34 % at 150, 0.11 % at
 * 100 and 0.01 % at 60, with the square of the density or steeper. GERG-2008 has no fitted cross term
 * for helium with argon (1 % at 200 bar): an error of the second virial coefficient, linear in
 * density. Taken here as limits of about two sigma.
 */
function modelErrors(composition: Composition): ModelErrors {
  const mixed = (x: number): number => 4 * x * (1 - x);
  return {
    pure: 0.0008,
    square: 0.004 * Math.min(1, 1.5 * mixed(composition.CO2 ?? 0)),
    linear: 0.006 * mixed(composition.He ?? 0) + 0.003 * mixed(composition.H2 ?? 0),
  };
}
