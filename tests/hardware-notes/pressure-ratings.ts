import { GasModel } from "@leeward/shared-core/estimation/gas-model.ts";
import { markdownTable } from "./table.ts";

/** What the cylinder sensor sees when a full cylinder grows hot: constant density, GERG-2008. */

const airPa = 101_325;
const barPa = 1e5;
const zeroK = 273.15;

/** Gauge pressure at `celsius` of a cylinder that was filled to `filledBar` at `filledC`. */
export function gaugeBarAt(
  composition: Record<string, number>,
  filledBar: number,
  filledC: number,
  celsius: number,
): number {
  const gas = new GasModel(composition);
  const density = gas.densityAt(filledBar * barPa + airPa, filledC + zeroK);
  return (gas.pressurePa(density, celsius + zeroK) - airPa) / barPa;
}

const gases: [string, Record<string, number>][] = [
  ["argon (I1-Ar)", { Ar: 1 }],
  ["nitrogen (N1-N)", { N2: 1 }],
  ["helium (I2-He)", { He: 1 }],
  ["argon with 30 % helium", { Ar: 0.7, He: 0.3 }],
  ["argon with 8 % CO2 (M20-ArC-8)", { Ar: 0.92, CO2: 0.08 }],
  ["argon with 18 % CO2 (M21-ArC-18)", { Ar: 0.82, CO2: 0.18 }],
  ["argon with 25 % CO2 (M21-ArC-25)", { Ar: 0.75, CO2: 0.25 }],
  ["argon with 2 % O2 (M13-ArO-2)", { Ar: 0.98, O2: 0.02 }],
  ["argon with 5 % H2 (R1-ArH-5)", { Ar: 0.95, H2: 0.05 }],
];

/** Highest gauge pressure of a full cylinder by gas, and the sensor range that takes it. */
export function pressureTable(): string {
  const rows = gases.map(([name, composition]) => {
    const at200 = gaugeBarAt(composition, 200, 15, 55);
    const at300 = gaugeBarAt(composition, 300, 15, 55);
    const range = (bar: number) => [250, 400, 600].find((one) => one >= bar) ?? 600;
    return [
      name,
      `${Math.round(at200)} bar → 0 … ${range(at200)}`,
      `${Math.round(at300)} bar → 0 … ${range(at300)}`,
    ];
  });
  return markdownTable(["gas", "filled to 200 bar at 15 °C", "filled to 300 bar at 15 °C"], rows);
}
