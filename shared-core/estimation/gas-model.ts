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
  /** 1 sigma of the equation of state for this mixture at cylinder pressure, relative. */
  readonly modelSigma: number;

  constructor(composition: Composition) {
    this.composition = composition;
    this.mixture = createMixture(composition);
    this.standardMolPerM3 = this.mixture.densityMolPerM3(STANDARD_ATMOSPHERE_PA, 293.15);
    this.modelSigma = modelSigma(composition);
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
    return this.mixture.densityOrNaN(Math.min(pressurePa, 6e7), temperature(temperatureK), guess);
  }

  private density(densityMolPerM3: number): number {
    const most = 0.98 * this.mixture.highestDensityMolPerM3;
    return densityMolPerM3 > 0.01 ? Math.min(densityMolPerM3, most) : 0.01;
  }
}

function temperature(temperatureK: number): number {
  return Math.min(Math.max(temperatureK, 180), 420);
}

/**
 * Pure gases agree to 0.1-0.2 % between published equations, Ar/CO2 to 0.5-1 % above 100 bar, and
 * GERG-2008 has no fitted cross term for helium with argon (1 %). Taken here as limits of about
 * two sigma.
 */
function modelSigma(composition: Composition): number {
  const co2 = composition.CO2 ?? 0;
  const helium = composition.He ?? 0;
  const hydrogen = composition.H2 ?? 0;
  const mixed = (x: number): number => 4 * x * (1 - x);
  return (
    0.0008 + 0.004 * Math.min(1, 1.5 * mixed(co2)) + 0.006 * mixed(helium) + 0.003 * mixed(hydrogen)
  );
}
