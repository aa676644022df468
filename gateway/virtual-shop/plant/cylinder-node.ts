import type { PlantCylinder, PlantFill } from "./config.ts";
import { emptyGasState, type GasState, gasConstant, type PlantGas } from "./gas.ts";

/** Steel, J/(kg K). */
const steelHeat = 470;
/** Outside of a standing cylinder of 50 L, m², and still air against it, W/(m² K). */
const areaOf50L = 1.05;
const stillAir = 8.5;
/** Natural convection inside at 1 K and 6 kmol/m³, W/(m² K): gas follows the wall with about 70 s at 150 bar. */
const inside = 85;

/**
 * Gas and wall of a cylinder or manifold, two nodes: the gas by its energy balance on tabulated u
 * and Z, the steel between gas, air and sun. What leaves takes its enthalpy along.
 */
export class CylinderNode {
  readonly state: GasState = emptyGasState();
  /** Content, mol. */
  n = 0;
  wallK: number;
  volumeM3: number;
  private readonly gas: PlantGas;
  private readonly count: number;
  private steelJPerK: number;
  private airWPerK: number;
  private wallWPerK: number;
  private energy = 0;

  constructor(gas: PlantGas, cylinder: PlantCylinder, airK: number) {
    this.gas = gas;
    this.count = cylinder.count;
    this.volumeM3 = cylinder.waterVolumeM3 * cylinder.count;
    this.steelJPerK = cylinder.steelKg * cylinder.count * steelHeat;
    const areaM2 = areaOf50L * (cylinder.waterVolumeM3 / 0.05) ** (2 / 3) * cylinder.count;
    this.airWPerK = stillAir * areaM2;
    this.wallWPerK = (inside * areaM2) / cylinder.thermalLag;
    this.wallK = airK;
  }

  /** Another content, all at air temperature. */
  fill(fill: PlantFill, airK: number): void {
    if ("waterVolumeM3" in fill && fill.waterVolumeM3 !== undefined)
      this.resize(fill.waterVolumeM3);
    this.n =
      "massKg" in fill
        ? fill.massKg / this.gas.molarMassKg
        : this.gas.densityAt(fill.temperatureK, fill.gaugePa + 101325) * this.volumeM3;
    this.energy = this.n * this.gas.energyAt(airK, this.n / this.volumeM3);
    this.wallK = airK;
    this.state.temperatureK = airK;
    this.solve();
  }

  /** Another size of the same build: steel goes with the volume, surfaces with its power 2/3. */
  private resize(waterVolumeM3: number): void {
    const ratio = (waterVolumeM3 * this.count) / this.volumeM3;
    this.volumeM3 *= ratio;
    this.steelJPerK *= ratio;
    this.airWPerK *= ratio ** (2 / 3);
    this.wallWPerK *= ratio ** (2 / 3);
  }

  private solve(): void {
    this.gas.solve(this.n / this.volumeM3, this.energy / this.n, this.state);
  }

  /** Takes out what the closing valve traps beyond it, at temperature `k`; its own state stays. */
  trap(volumeM3: number, k: number): number {
    const density =
      this.state.liquidShare > 0
        ? this.state.gasDensity
        : this.gas.densityAt(k, this.state.pressurePa);
    const moles = density * volumeM3;
    this.energy -= (moles * this.energy) / this.n;
    this.n -= moles;
    return moles;
  }

  /** Takes back what stood beyond the valve, at temperature `k`. */
  join(moles: number, k: number): void {
    this.n += moles;
    this.energy += moles * this.gas.energyAt(k, 100);
  }

  /** One step: `out` mol leave through the valve, heat comes from the wall. */
  advance(h: number, out: number, airK: number, sunW: number): void {
    const { state } = this;
    const gasJPerK = Math.max(this.n, 1) * 14;
    const dense = state.gasDensity / 6000;
    const apart = this.wallK - state.temperatureK;
    // Turbulent natural convection: h ~ (density² |dT|)^(1/3), over a floor of conduction.
    const wPerK =
      this.wallWPerK *
      (0.04 + Math.cbrt(dense * dense * (Math.abs(apart) + 0.05)) * (1 + 2 * state.liquidShare));
    const heatW = (wPerK * apart) / (1 + (wPerK * h) / gasJPerK);
    this.wallK +=
      (h * (this.airWPerK * (airK - this.wallK) + sunW * this.count - heatW)) / this.steelJPerK;
    this.energy += heatW * h - out * state.outletEnthalpy;
    this.n -= out;
    this.solve();
  }
}

/** Pressure of a small closed volume of gas, Pa. */
export function closedPressure(gas: PlantGas, moles: number, volumeM3: number, k: number): number {
  const density = moles / volumeM3;
  const z = gas.compressibility(k, density);
  return Math.max(0, Math.max(z, 0.3) * density * gasConstant * k);
}
