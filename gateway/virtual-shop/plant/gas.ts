import { readFileSync } from "node:fs";

/** Molar gas constant, J/(mol K): exact by the definition of the SI. */
export const gasConstant = 8.314462618;

export type PlantGasName = "Ar" | "ArC8" | "ArC18" | "ArC25" | "ArHe25" | "CO2";

/** Mole fractions of the gases that have a table. */
export const plantGasComposition: Record<PlantGasName, Record<string, number>> = {
  Ar: { Ar: 1 },
  ArC8: { Ar: 0.92, CO2: 0.08 },
  ArC18: { Ar: 0.82, CO2: 0.18 },
  ArC25: { Ar: 0.75, CO2: 0.25 },
  ArHe25: { Ar: 0.75, He: 0.25 },
  CO2: { CO2: 1 },
};

/** Ratio of ideal-gas heat capacities at 20 °C, from the composition's cv (monatomic 1.5 R; CO2 3.44 R). */
const gammaOf = (name: PlantGasName): number => {
  const co2 = plantGasComposition[name].CO2 ?? 0;
  const cv = 1.5 * (1 - co2) + 3.44 * co2;
  return (cv + 1) / cv;
};

interface GasTable {
  M: number;
  T0: number;
  dT: number;
  nT: number;
  dr: number;
  nr: number;
  Z: number[][];
  u: number[][];
  sat?: number[][];
}

/** Where a state of given density and energy lies. Reused by its caller: nothing is allocated. */
export interface GasState {
  temperatureK: number;
  pressurePa: number;
  /** Enthalpy of the gas that leaves through the valve, J/mol: vapour, where there is liquid. */
  outletEnthalpy: number;
  /** Moles of liquid per mole of content; 0 where all is gas. */
  liquidShare: number;
  /** Density of the gas phase, mol/m³. */
  gasDensity: number;
}

export function emptyGasState(): GasState {
  return {
    temperatureK: 293.15,
    pressurePa: 0,
    outletEnthalpy: 0,
    liquidShare: 0,
    gasDensity: 0,
  };
}

/**
 * A gas of the plant: bilinear interpolation in the tables of `gas-tables/`, which come from other
 * equations than the estimator's. Densities are mol/m³, energies J/mol.
 */
export class PlantGas {
  readonly name: PlantGasName;
  readonly molarMassKg: number;
  readonly gamma: number;
  /** Density at 20 °C and 101.325 kPa, mol/m³: what a `metric20` litre holds. */
  readonly metric20Density: number;
  private readonly z: Float64Array;
  private readonly u: Float64Array;
  private readonly nr: number;
  private readonly nT: number;
  private readonly t0: number;
  private readonly dT: number;
  private readonly dr: number;
  /** Saturation columns (T, p, liquid and vapour density, liquid and vapour energy), CO2 only. */
  private readonly sat: Float64Array[] | null;

  constructor(name: PlantGasName, table: GasTable) {
    this.name = name;
    this.molarMassKg = table.M;
    this.gamma = gammaOf(name);
    this.nr = table.nr;
    this.nT = table.nT;
    this.t0 = table.T0;
    this.dT = table.dT;
    this.dr = table.dr * 1000;
    this.z = Float64Array.from(table.Z.flat());
    this.u = Float64Array.from(table.u.flat());
    const columns = table.sat;
    this.sat = columns
      ? [0, 1, 2, 3, 4, 5].map((c) =>
          Float64Array.from(
            columns.map((row) => (row[c] as number) * (c === 2 || c === 3 ? 1000 : 1)),
          ),
        )
      : null;
    this.metric20Density = this.densityAt(293.15, 101325);
  }

  private interpolate(field: Float64Array, temperatureK: number, density: number): number {
    let i = Math.floor((temperatureK - this.t0) / this.dT);
    i = i < 0 ? 0 : Math.min(i, this.nT - 2);
    let j = Math.floor(density / this.dr);
    j = j < 0 ? 0 : Math.min(j, this.nr - 2);
    const ft = (temperatureK - this.t0) / this.dT - i;
    const fr = density / this.dr - j;
    const k = i * this.nr + j;
    const a = field[k] as number;
    const b = field[k + 1] as number;
    const c = field[k + this.nr] as number;
    const d = field[k + this.nr + 1] as number;
    return (a + (b - a) * fr) * (1 - ft) + (c + (d - c) * fr) * ft;
  }

  /** Pressure factor of the single phase at temperature (K) and density (mol/m³). */
  compressibility(temperatureK: number, density: number): number {
    return this.interpolate(this.z, temperatureK, density);
  }

  /** Energy of the single phase, J/mol. */
  energy(temperatureK: number, density: number): number {
    return this.interpolate(this.u, temperatureK, density);
  }

  /** Second virial coefficient, m³/mol, from the table's first step of density. */
  virial(temperatureK: number): number {
    return (this.interpolate(this.z, temperatureK, this.dr) - 1) / this.dr;
  }

  /** Density of the gas phase at temperature and absolute pressure, mol/m³; secant steps, bounded. */
  densityAt(temperatureK: number, pressurePa: number): number {
    const rt = gasConstant * temperatureK;
    let density = pressurePa / rt;
    for (let k = 0; k < 60; k += 1) {
      const z = this.compressibility(temperatureK, density);
      const next = pressurePa / (rt * Math.max(z, 0.2));
      if (Math.abs(next - density) < 1e-10 * next) return next;
      density += 0.7 * (next - density);
    }
    return density;
  }

  private satIndex(column: Float64Array, value: number, rising: boolean): number {
    let low = 0;
    let high = column.length - 2;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      const v = column[middle] as number;
      if (rising ? v <= value : v >= value) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  private satValue(column: number, i: number, f: number): number {
    const values = (this.sat as Float64Array[])[column] as Float64Array;
    const a = values[i] as number;
    return a + f * ((values[i + 1] as number) - a);
  }

  /** Energy of a two-phase content of this density between saturation rows, J/mol. */
  private twoPhaseEnergy(density: number, i: number, f: number): number {
    const vLiquid = 1 / this.satValue(2, i, f);
    const vVapour = 1 / this.satValue(3, i, f);
    const x = (1 / density - vLiquid) / (vVapour - vLiquid);
    return (1 - x) * this.satValue(4, i, f) + x * this.satValue(5, i, f);
  }

  /** Temperature (K) at which a content of this density stops or starts to hold two phases; 0 if never. */
  private saturationK(density: number): number {
    if (!this.sat) return 0;
    const [t, , liquid, vapour] = this.sat as [
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    const last = t.length - 1;
    if (density >= (liquid[0] as number) || density <= (vapour[0] as number)) return 0;
    const dense = density > (liquid[last] as number);
    if (!dense && density >= (vapour[last] as number)) return t[last] as number;
    const column = dense ? liquid : vapour;
    const i = this.satIndex(column, density, !dense);
    const a = column[i] as number;
    const f = (density - a) / ((column[i + 1] as number) - a);
    return this.satValue(0, i, f);
  }

  /** Temperature, pressure and phase of a content known by density (mol/m³) and energy (J/mol). */
  solve(density: number, energy: number, out: GasState): void {
    if (this.sat) {
      const limitK = this.saturationK(density);
      if (limitK > 0) {
        const t = this.sat[0] as Float64Array;
        const top = this.satIndex(t, limitK, true);
        const step = (t[top + 1] as number) - (t[top] as number);
        const topF = (limitK - (t[top] as number)) / step;
        if (energy < this.twoPhaseEnergy(density, top, topF)) {
          this.solveTwoPhase(density, energy, top + topF, out);
          return;
        }
      }
    }
    let i = Math.floor((out.temperatureK - this.t0) / this.dT);
    i = i < 0 ? 0 : Math.min(i, this.nT - 2);
    let j = Math.floor(density / this.dr);
    j = j < 0 ? 0 : Math.min(j, this.nr - 2);
    const fr = density / this.dr - j;
    let low = 0;
    let high = 0;
    for (let guard = 0; guard < this.nT; guard += 1) {
      const k = i * this.nr + j;
      const a = this.u[k] as number;
      const c = this.u[k + this.nr] as number;
      low = a + ((this.u[k + 1] as number) - a) * fr;
      high = c + ((this.u[k + this.nr + 1] as number) - c) * fr;
      if (energy < low && i > 0) i -= 1;
      else if (energy > high && i < this.nT - 2) i += 1;
      else break;
    }
    const temperatureK = this.t0 + this.dT * (i + (energy - low) / (high - low));
    const pressurePa =
      this.compressibility(temperatureK, density) * density * gasConstant * temperatureK;
    out.temperatureK = temperatureK;
    out.pressurePa = pressurePa;
    out.outletEnthalpy = energy + (density > 0 ? pressurePa / density : gasConstant * temperatureK);
    out.liquidShare = 0;
    out.gasDensity = density;
  }

  private solveTwoPhase(density: number, energy: number, topAt: number, out: GasState): void {
    let low = 0;
    let high = topAt;
    for (let k = 0; k < 50; k += 1) {
      const middle = 0.5 * (low + high);
      const i = Math.floor(middle);
      if (this.twoPhaseEnergy(density, i, middle - i) > energy) high = middle;
      else low = middle;
      if (high - low < 1e-9) break;
    }
    const i = Math.floor(low);
    const f = low - i;
    const vLiquid = 1 / this.satValue(2, i, f);
    const vVapour = 1 / this.satValue(3, i, f);
    const pressurePa = this.satValue(1, i, f);
    out.temperatureK = this.satValue(0, i, f);
    out.pressurePa = pressurePa;
    out.outletEnthalpy = this.satValue(5, i, f) + pressurePa * vVapour;
    out.liquidShare = 1 - (1 / density - vLiquid) / (vVapour - vLiquid);
    out.gasDensity = 1 / vVapour;
  }

  /** Energy at temperature and overall density, two phases included, J/mol. */
  energyAt(temperatureK: number, density: number): number {
    if (this.sat && temperatureK < this.saturationK(density)) {
      const t = this.sat[0] as Float64Array;
      const i = this.satIndex(t, temperatureK, true);
      const f = (temperatureK - (t[i] as number)) / ((t[i + 1] as number) - (t[i] as number));
      return this.twoPhaseEnergy(density, i, f);
    }
    return this.energy(temperatureK, density);
  }

  /**
   * Temperature after throttling to a low pressure at this enthalpy, K, taken as a nearly ideal gas;
   * not below the frost point of CO2 (195 K) where the gas is pure CO2.
   */
  throttledK(enthalpy: number, pressurePa: number): number {
    let temperatureK = 270;
    for (let k = 0; k < 3; k += 1) {
      const density = pressurePa / (gasConstant * temperatureK);
      const h =
        this.energy(temperatureK, density) +
        gasConstant * temperatureK * this.compressibility(temperatureK, density);
      const cp =
        gasConstant +
        (this.energy(temperatureK + 2.5, density) - this.energy(temperatureK - 2.5, density)) / 5;
      temperatureK += (enthalpy - h) / cp;
      if (temperatureK < 150) temperatureK = 150;
    }
    return this.sat && temperatureK < 195 ? 195 : temperatureK;
  }

  /** Ideal-gas heat capacity at constant pressure near room temperature, J/(mol K). */
  get lowPressureCp(): number {
    return gasConstant + (this.energy(298, 0) - this.energy(288, 0)) / 10;
  }
}

const loaded = new Map<PlantGasName, PlantGas>();

/** The gas of that name; its table is read once. Throws where the file is missing. */
export function plantGas(name: PlantGasName): PlantGas {
  let gas = loaded.get(name);
  if (!gas) {
    const file = new URL(`./gas-tables/${name}.json`, import.meta.url);
    gas = new PlantGas(name, JSON.parse(readFileSync(file, "utf8")) as GasTable);
    loaded.set(name, gas);
  }
  return gas;
}
