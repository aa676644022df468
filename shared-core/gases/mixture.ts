import { PhysicsError, type Result, toResult } from "../errors.ts";
import { highestGasPressurePa } from "./co2-saturation.ts";
import { type Composition, type GasSymbol, isPure, validComposition } from "./composition.ts";
import { isSupercooled, solveDensity } from "./density.ts";
import { gasData } from "./gas-data.ts";
import { allowedRange, GAS_CONSTANT, publishedRange, ResidualHelmholtz } from "./gerg2008.ts";
import { IdealGas, idealReference } from "./ideal-gas.ts";
import { densityRelativeSigma } from "./model-uncertainty.ts";

/** Pure CO2 counts as vapour up to this much above its vapour pressure: two equations meet. */
const SATURATION_SLACK = 1.002;

/** Highest reduced density at which the equation is used; above any liquid in its range. */
const HIGHEST_DELTA = 3.2;

/** All properties of one homogeneous state, SI, molar where not said otherwise. */
export type GasState = Readonly<{
  pressurePa: number;
  temperatureK: number;
  densityMolPerM3: number;
  densityKgPerM3: number;
  /** Z = p / (rho R T) */
  compressibility: number;
  internalEnergyJPerMol: number;
  /** Zero: the pure ideal gases at 298.15 K and 101.325 kPa. Only differences are physical. */
  enthalpyJPerMol: number;
  /** Zero as for enthalpy, and with the entropy of mixing. */
  entropyJPerMolK: number;
  cvJPerMolK: number;
  cpJPerMolK: number;
  speedOfSoundMPerS: number;
  /** (dT/dp) at constant enthalpy */
  jouleThomsonKPerPa: number;
  /** How far the equation's density may be off, relative, 1 sigma; see model-uncertainty.ts. */
  densityRelativeSigma: number;
  /** False in the extended range (below 90 K, above 450 K or 35 MPa), where it is less certain. */
  withinPublishedRange: boolean;
}>;

/**
 * Real-gas properties of one composition after GERG-2008 (ISO 20765-2).
 *
 * Two ways to ask:
 * - `state` and `stateAtDensity` return everything as a `Result` and never throw on bad numbers;
 * - the single-property methods are the fast path. They allocate nothing, take a bounded number
 *   of steps, and return a finite number or throw a `PhysicsError` when an input is outside the
 *   range (temperature 60 to 700 K, pressure up to 70 MPa, density up to 3.2 times the reducing
 *   density, nothing negative, no NaN). `densityOrNaN` is the one that answers NaN instead.
 *
 * Repeated questions at the same density and temperature are answered from the last evaluation,
 * so asking for pressure, both derivatives and cv costs one pass through the equation.
 *
 * The equation makes no statement about phase. Density from pressure is that of the vapour (or
 * the dense fluid above the highest temperature at which the equation has a loop); where there
 * is no vapour it fails with `GAS_NOT_VAPOUR`. For a pure gas that is so above its vapour
 * pressure; a mixture may part into vapour and a liquid of another composition well before. See
 * co2-saturation.ts and dew-point.ts.
 */
export class Mixture {
  readonly composition: Composition;
  readonly molarMassKgPerMol: number;
  /** Highest density the equation is asked for, mol/m³. */
  readonly highestDensityMolPerM3: number;
  private readonly residual: ResidualHelmholtz;
  private readonly ideal: IdealGas;
  private readonly reducingDensity: number;
  private readonly pureCarbonDioxide: boolean;
  private loopK: number | null = null;

  // The (density, temperature) for which the residual part is current, and how deep.
  private density = Number.NaN;
  private temperature = Number.NaN;
  private thermal = false;

  /** Use `createMixture` or `checkMixture`. @param composition valid mole fractions */
  constructor(composition: Composition) {
    this.composition = composition;
    this.residual = new ResidualHelmholtz(composition);
    this.ideal = new IdealGas(composition);
    this.reducingDensity = this.residual.reducingDensityMolPerM3;
    this.pureCarbonDioxide = isPure(composition, "CO2");
    this.highestDensityMolPerM3 = HIGHEST_DELTA * this.reducingDensity;
    let molarMass = 0;
    for (const [symbol, fraction] of Object.entries(composition) as [GasSymbol, number][]) {
      molarMass += fraction * gasData[symbol].molarMassKgPerMol;
    }
    this.molarMassKgPerMol = molarMass;
  }

  /** p(rho, T), Pa. */
  pressurePa(densityMolPerM3: number, temperatureK: number): number {
    this.at(densityMolPerM3, temperatureK);
    return densityMolPerM3 * GAS_CONSTANT * temperatureK * (1 + this.residual.deltaFirst);
  }

  /** (dp/drho) at constant temperature, Pa m³/mol. Negative inside an unstable loop. */
  dPressureDDensity(densityMolPerM3: number, temperatureK: number): number {
    this.at(densityMolPerM3, temperatureK);
    const { deltaFirst, deltaSecond } = this.residual;
    return GAS_CONSTANT * temperatureK * (1 + 2 * deltaFirst + deltaSecond);
  }

  /** (dp/dT) at constant density, Pa/K. */
  dPressureDTemperature(densityMolPerM3: number, temperatureK: number): number {
    this.atThermal(densityMolPerM3, temperatureK);
    const { deltaFirst, deltaTau } = this.residual;
    return densityMolPerM3 * GAS_CONSTANT * (1 + deltaFirst - deltaTau);
  }

  /** Z = p / (rho R T). */
  compressibility(densityMolPerM3: number, temperatureK: number): number {
    this.at(densityMolPerM3, temperatureK);
    return 1 + this.residual.deltaFirst;
  }

  /** Molar internal energy, J/mol. */
  internalEnergyJPerMol(densityMolPerM3: number, temperatureK: number): number {
    this.atThermal(densityMolPerM3, temperatureK);
    this.ideal.setTemperature(temperatureK);
    const scale = GAS_CONSTANT * temperatureK;
    return this.ideal.enthalpy + scale * (this.residual.tauFirst - 1);
  }

  /** Molar enthalpy, J/mol. */
  enthalpyJPerMol(densityMolPerM3: number, temperatureK: number): number {
    this.atThermal(densityMolPerM3, temperatureK);
    this.ideal.setTemperature(temperatureK);
    const { tauFirst, deltaFirst } = this.residual;
    return this.ideal.enthalpy + GAS_CONSTANT * temperatureK * (tauFirst + deltaFirst);
  }

  /** Molar entropy, J/(mol K); the density must be above 0. */
  entropyJPerMolK(densityMolPerM3: number, temperatureK: number): number {
    this.atThermal(densityMolPerM3, temperatureK);
    const { tauFirst, alpha } = this.residual;
    const idealPressurePa = densityMolPerM3 * GAS_CONSTANT * temperatureK;
    const compression = Math.log(idealPressurePa / idealReference.pressurePa);
    return (
      this.ideal.entropyJPerMolK(temperatureK) + GAS_CONSTANT * (tauFirst - alpha - compression)
    );
  }

  /** Molar heat capacity at constant volume, J/(mol K). */
  cvJPerMolK(densityMolPerM3: number, temperatureK: number): number {
    this.atThermal(densityMolPerM3, temperatureK);
    this.ideal.setTemperature(temperatureK);
    return this.ideal.cv - GAS_CONSTANT * this.residual.tauSecond;
  }

  /** Molar heat capacity at constant pressure, J/(mol K). Infinite or negative inside a loop. */
  cpJPerMolK(densityMolPerM3: number, temperatureK: number): number {
    const cv = this.cvJPerMolK(densityMolPerM3, temperatureK);
    const { deltaFirst, deltaSecond, deltaTau } = this.residual;
    const heat = 1 + deltaFirst - deltaTau;
    return cv + (GAS_CONSTANT * heat * heat) / (1 + 2 * deltaFirst + deltaSecond);
  }

  /** Speed of sound, m/s; NaN inside a loop, where there is none. */
  speedOfSoundMPerS(densityMolPerM3: number, temperatureK: number): number {
    const cp = this.cpJPerMolK(densityMolPerM3, temperatureK);
    const cv = this.cvJPerMolK(densityMolPerM3, temperatureK);
    const slope = this.dPressureDDensity(densityMolPerM3, temperatureK);
    return Math.sqrt(((cp / cv) * slope) / this.molarMassKgPerMol);
  }

  /** Joule-Thomson coefficient (dT/dp) at constant enthalpy, K/Pa; the density must be above 0. */
  jouleThomsonKPerPa(densityMolPerM3: number, temperatureK: number): number {
    const cp = this.cpJPerMolK(densityMolPerM3, temperatureK);
    const { deltaFirst, deltaSecond, deltaTau } = this.residual;
    const excess = (1 + deltaFirst - deltaTau) / (1 + 2 * deltaFirst + deltaSecond) - 1;
    return excess / (densityMolPerM3 * cp);
  }

  /**
   * Density from pressure and temperature, mol/m³, to better than 1e-10 relative.
   *
   * @param guessMolPerM3 a density near the answer (that of the last sample), for speed only
   * @throws PhysicsError outside the range, or `GAS_NOT_VAPOUR`, or `GAS_NO_CONVERGENCE`
   */
  densityMolPerM3(pressurePa: number, temperatureK: number, guessMolPerM3 = 0): number {
    const density = this.densityOrNaN(pressurePa, temperatureK, guessMolPerM3);
    if (Number.isNaN(density)) {
      throw this.densityFailure(pressurePa, temperatureK);
    }
    return density;
  }

  /** As `densityMolPerM3`, with NaN where that throws: for inner loops. */
  densityOrNaN(pressurePa: number, temperatureK: number, guessMolPerM3 = 0): number {
    if (!inTemperatureRange(temperatureK) || !inPressureRange(pressurePa)) {
      return Number.NaN;
    }
    if (
      this.pureCarbonDioxide &&
      pressurePa > SATURATION_SLACK * highestGasPressurePa(temperatureK)
    ) {
      return Number.NaN;
    }
    const loopTemperatureK = this.loopTemperatureK;
    this.density = Number.NaN;
    this.residual.setTemperature(temperatureK);
    const density = solveDensity(
      this.residual,
      pressurePa,
      temperatureK,
      guessMolPerM3,
      this.highestDensityMolPerM3,
      loopTemperatureK,
    );
    // Pure CO2 has been judged above, by its own vapour pressure.
    return temperatureK <= loopTemperatureK &&
      !this.pureCarbonDioxide &&
      isSupercooled(this.residual, density, pressurePa, temperatureK, this.highestDensityMolPerM3)
      ? Number.NaN
      : density;
  }

  /** Everything at an absolute pressure and a temperature. */
  state(pressurePa: number, temperatureK: number): Result<GasState> {
    return toResult(() =>
      this.properties(this.densityMolPerM3(pressurePa, temperatureK), temperatureK),
    );
  }

  /** Everything at a density and a temperature; the caller vouches for one phase. */
  stateAtDensity(densityMolPerM3: number, temperatureK: number): Result<GasState> {
    return toResult(() => this.properties(densityMolPerM3, temperatureK));
  }

  /**
   * The highest temperature at which the equation has a loop (dp/drho < 0 somewhere). Above it
   * every pressure has exactly one density.
   */
  get loopTemperatureK(): number {
    if (this.loopK === null) {
      this.loopK = findLoopTemperatureK(this.residual);
      this.density = Number.NaN;
    }
    return this.loopK;
  }

  private properties(densityMolPerM3: number, temperatureK: number): GasState {
    const pressurePa = this.pressurePa(densityMolPerM3, temperatureK);
    const compressibility = this.compressibility(densityMolPerM3, temperatureK);
    return {
      pressurePa,
      temperatureK,
      densityMolPerM3,
      densityKgPerM3: densityMolPerM3 * this.molarMassKgPerMol,
      compressibility,
      internalEnergyJPerMol: this.internalEnergyJPerMol(densityMolPerM3, temperatureK),
      enthalpyJPerMol: this.enthalpyJPerMol(densityMolPerM3, temperatureK),
      entropyJPerMolK: this.entropyJPerMolK(densityMolPerM3, temperatureK),
      cvJPerMolK: this.cvJPerMolK(densityMolPerM3, temperatureK),
      cpJPerMolK: this.cpJPerMolK(densityMolPerM3, temperatureK),
      speedOfSoundMPerS: this.speedOfSoundMPerS(densityMolPerM3, temperatureK),
      jouleThomsonKPerPa: this.jouleThomsonKPerPa(densityMolPerM3, temperatureK),
      densityRelativeSigma: densityRelativeSigma(
        this.composition,
        densityMolPerM3,
        compressibility,
      ),
      withinPublishedRange:
        temperatureK >= publishedRange.lowK &&
        temperatureK <= publishedRange.highK &&
        pressurePa <= publishedRange.highPa,
    };
  }

  private at(densityMolPerM3: number, temperatureK: number): void {
    if (densityMolPerM3 === this.density && temperatureK === this.temperature) {
      return;
    }
    if (!inTemperatureRange(temperatureK)) {
      throw temperatureFailure(temperatureK);
    }
    if (!(densityMolPerM3 >= 0 && densityMolPerM3 <= this.highestDensityMolPerM3)) {
      throw new PhysicsError(
        "GAS_DENSITY_RANGE",
        "densityMolPerM3",
        densityMolPerM3,
        `it must lie between 0 and ${this.highestDensityMolPerM3.toFixed(0)} for this gas.`,
      );
    }
    this.density = densityMolPerM3;
    this.temperature = temperatureK;
    this.thermal = false;
    this.residual.setTemperature(temperatureK);
    this.residual.evaluate(densityMolPerM3 / this.reducingDensity);
  }

  private atThermal(densityMolPerM3: number, temperatureK: number): void {
    this.at(densityMolPerM3, temperatureK);
    if (!this.thermal) {
      this.residual.evaluateThermal();
      this.thermal = true;
    }
  }

  private densityFailure(pressurePa: number, temperatureK: number): PhysicsError {
    if (!inTemperatureRange(temperatureK)) {
      return temperatureFailure(temperatureK);
    }
    if (!inPressureRange(pressurePa)) {
      return new PhysicsError(
        "GAS_PRESSURE_RANGE",
        "pressurePa",
        pressurePa,
        `it must be absolute, above 0 and at most ${allowedRange.highPa} Pa.`,
      );
    }
    if (temperatureK <= this.loopTemperatureK) {
      const limitPa = this.pureCarbonDioxide ? highestGasPressurePa(temperatureK) : null;
      return new PhysicsError(
        "GAS_NOT_VAPOUR",
        "pressurePa",
        pressurePa,
        limitPa === null
          ? `at ${temperatureK.toFixed(2)} K there is no vapour at this pressure; the content is liquid or two-phase.`
          : `at ${temperatureK.toFixed(2)} K CO2 is a gas only up to ${limitPa.toPrecision(5)} Pa; above that it is liquid or dry ice, whose content pressure does not tell.`,
      );
    }
    return new PhysicsError(
      "GAS_NO_CONVERGENCE",
      "pressurePa",
      pressurePa,
      `no density was found at ${temperatureK} K; check pressure and temperature.`,
    );
  }
}

/**
 * A mixture ready for use. Make it once for each composition: it folds the equation's terms.
 *
 * @param composition mole fractions that add up to 1
 * @throws PhysicsError for a composition that is not valid
 */
export function createMixture(composition: Composition): Mixture {
  return new Mixture(validComposition(composition));
}

/** As `createMixture`, as a result instead of a throw. */
export function checkMixture(composition: Composition): Result<Mixture> {
  return toResult(() => createMixture(composition));
}

function inTemperatureRange(temperatureK: number): boolean {
  return temperatureK >= allowedRange.lowK && temperatureK <= allowedRange.highK;
}

function inPressureRange(pressurePa: number): boolean {
  return pressurePa > 0 && pressurePa <= allowedRange.highPa;
}

function temperatureFailure(temperatureK: number): PhysicsError {
  return new PhysicsError(
    "GAS_TEMPERATURE_RANGE",
    "temperatureK",
    temperatureK,
    `it must lie between ${allowedRange.lowK} and ${allowedRange.highK} K (GERG-2008, extended range).`,
  );
}

/** Scan from above for the first temperature with a loop, then halve. */
function findLoopTemperatureK(residual: ResidualHelmholtz): number {
  const STEPS = 40;
  const ratio = (allowedRange.lowK / allowedRange.highK) ** (1 / STEPS);
  let above: number = allowedRange.highK;
  let below = above;
  for (let k = 0; k < STEPS && !hasLoop(residual, below); k++) {
    above = below;
    below *= ratio;
  }
  if (!hasLoop(residual, below)) {
    return 0;
  }
  while (above - below > 1e-4 * above) {
    const middle = (above + below) / 2;
    if (hasLoop(residual, middle)) {
      below = middle;
    } else {
      above = middle;
    }
  }
  return above;
}

function hasLoop(residual: ResidualHelmholtz, temperatureK: number): boolean {
  residual.setTemperature(temperatureK);
  for (let delta = 0.02; delta < HIGHEST_DELTA; delta += 0.02) {
    residual.evaluate(delta);
    if (1 + 2 * residual.deltaFirst + residual.deltaSecond <= 0) {
      return true;
    }
  }
  return false;
}
