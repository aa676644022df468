import type { Composition, GasSymbol } from "./composition.ts";
import { gasData } from "./gas-data.ts";
import { GAS_CONSTANT } from "./gerg2008.ts";

/** Gas constant to which the ideal heat capacities were fitted, J/(mol K): Jaeschke & Schley 1995. */
const FIT_GAS_CONSTANT = 8.31451;
/** Source of that constant and of the form of the heat capacity. */
export const idealHeatCapacitySource = "jaeschke-schley-1995";

/** Enthalpy and entropy of each pure ideal gas are zero here (ISO 20765-2, annex A). */
export const idealReference = { temperatureK: 298.15, pressurePa: 101_325 } as const;

/**
 * Ideal-gas part of one composition: molar heat capacity, energy and entropy against temperature.
 * Results stay in the fields until the next `setTemperature`.
 */
export class IdealGas {
  /** Molar cv of the ideal gas, J/(mol K). */
  cv = 0;
  /** Molar enthalpy above 298.15 K, J/mol. */
  enthalpy = 0;

  // sum x_i (n3 - 1), and the terms of all gases weighted by their fractions.
  private readonly constant: number;
  private readonly sinhN: Float64Array;
  private readonly sinhTheta: Float64Array;
  private readonly coshN: Float64Array;
  private readonly coshTheta: Float64Array;
  private readonly enthalpyZero: number;
  private readonly entropyZero: number;
  private temperatureK = Number.NaN;

  /** @param composition valid mole fractions */
  constructor(composition: Composition) {
    const present = Object.entries(composition) as [GasSymbol, number][];
    const sinh: [number, number][] = [];
    const cosh: [number, number][] = [];
    let constant = 0;
    let mixing = 0;
    for (const [symbol, x] of present) {
      const data = gasData[symbol].idealHeatCapacity;
      constant += x * (data.constant - 1);
      sinh.push(...data.sinhTerms.map(([n, theta]): [number, number] => [x * n, theta]));
      cosh.push(...data.coshTerms.map(([n, theta]): [number, number] => [x * n, theta]));
      mixing -= GAS_CONSTANT * x * Math.log(x);
    }
    this.constant = constant;
    this.sinhN = Float64Array.from(sinh, ([n]) => n);
    this.sinhTheta = Float64Array.from(sinh, ([, theta]) => theta);
    this.coshN = Float64Array.from(cosh, ([n]) => n);
    this.coshTheta = Float64Array.from(cosh, ([, theta]) => theta);
    this.enthalpyZero = 0;
    this.entropyZero = 0;
    this.setTemperature(idealReference.temperatureK);
    this.enthalpyZero = this.enthalpy;
    this.entropyZero = this.entropyJPerMolK(idealReference.temperatureK) - mixing;
    this.temperatureK = Number.NaN;
  }

  /** Sets the fields for a temperature in K; free when it has not changed. */
  setTemperature(temperatureK: number): void {
    if (temperatureK === this.temperatureK) {
      return;
    }
    this.temperatureK = temperatureK;
    // With y = theta/T the integrals of the two kinds of term over T are
    // theta coth y and -theta tanh y.
    let heat = this.constant;
    let energy = this.constant * temperatureK;
    for (let k = 0; k < this.sinhN.length; k++) {
      const n = this.sinhN[k];
      const theta = this.sinhTheta[k];
      const y = theta / temperatureK;
      // e = exp(-2y) stays small where sinh y and cosh y would overflow.
      const e = Math.exp(-2 * y);
      const coth = (1 + e) / (1 - e);
      heat += n * y * y * (coth * coth - 1);
      energy += n * theta * coth;
    }
    for (let k = 0; k < this.coshN.length; k++) {
      const n = this.coshN[k];
      const theta = this.coshTheta[k];
      const y = theta / temperatureK;
      const e = Math.exp(-2 * y);
      const tanh = (1 - e) / (1 + e);
      heat += n * y * y * (1 - tanh * tanh);
      energy -= n * theta * tanh;
    }
    this.cv = FIT_GAS_CONSTANT * heat;
    this.enthalpy = FIT_GAS_CONSTANT * energy + GAS_CONSTANT * temperatureK - this.enthalpyZero;
  }

  /** Molar entropy at 101.325 kPa, above 298.15 K, with the entropy of mixing, J/(mol K). */
  entropyJPerMolK(temperatureK: number): number {
    // The integrals of cv/T: y coth y - ln sinh y and -(y tanh y - ln cosh y).
    let entropy = this.constant * Math.log(temperatureK);
    for (let k = 0; k < this.sinhN.length; k++) {
      const y = this.sinhTheta[k] / temperatureK;
      const e = Math.exp(-2 * y);
      entropy += this.sinhN[k] * ((y * (1 + e)) / (1 - e) - (y + Math.log((1 - e) / 2)));
    }
    for (let k = 0; k < this.coshN.length; k++) {
      const y = this.coshTheta[k] / temperatureK;
      const e = Math.exp(-2 * y);
      entropy -= this.coshN[k] * ((y * (1 - e)) / (1 + e) - (y + Math.log((1 + e) / 2)));
    }
    return FIT_GAS_CONSTANT * entropy + GAS_CONSTANT * Math.log(temperatureK) - this.entropyZero;
  }
}
