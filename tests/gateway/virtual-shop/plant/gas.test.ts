import {
  emptyGasState,
  type PlantGasName,
  plantGas,
} from "@leeward/gateway/virtual-shop/plant/gas.ts";
import {
  criticalRatio,
  orificeConductance,
  restrictionFlow,
} from "@leeward/gateway/virtual-shop/plant/network.ts";
import { describe, expect, it } from "vitest";

const kelvin = (c: number) => c + 273.15;
const gaugePa = (bar: number) => bar * 1e5 + 101325;
const psi = 6894.757293;

/** Litres at 15 °C and 1 bar that 50 L hold at 200 bar and 15 °C: trade facts, worked B (full equations of state). */
const contents: [PlantGasName, number, number][] = [
  ["Ar", 10.72, 17.89],
  ["ArC18", 11.76, 19.99],
];

describe("gas tables of the plant", () => {
  it("holds 10,770 L of argon (20 °C, 101.325 kPa) in 50 L at 200 bar and 15 °C", () => {
    // Source: check value in the tables' own README (CoolProp 8.0).
    const gas = plantGas("Ar");
    const moles = gas.densityAt(kelvin(15), gaugePa(200)) * 0.05;
    const litres = (moles * 1000) / gas.metric20Density;
    expect(Math.abs(litres / 10770 - 1)).toBeLessThan(1e-3);
  });

  it.each(contents)("holds %s as the trade's tables say", (name, _m3, kg) => {
    const gas = plantGas(name);
    const mass = gas.densityAt(kelvin(15), gaugePa(200)) * 0.05 * gas.molarMassKg;
    expect(Math.abs(mass / kg - 1)).toBeLessThan(2e-3);
  });

  it.each([
    // A closed 200 bar argon cylinder filled at 15 °C: trade facts, section 2.
    [-20, 162.0],
    [0, 183.8],
    [30, 216.2],
    [40, 226.9],
  ])("shows argon at %d °C as %d bar", (c, bar) => {
    const gas = plantGas("Ar");
    const density = gas.densityAt(kelvin(15), gaugePa(200));
    const state = emptyGasState();
    gas.solve(density, gas.energyAt(kelvin(c), density), state);
    expect(Math.abs((state.pressurePa - 101325) / 1e5 - bar)).toBeLessThan(0.25);
  });

  it.each([
    // CO2 saturation, bar absolute: trade facts, section 6 (Span & Wagner).
    [-17.8, 21.1],
    [0, 34.85],
    [10, 45.0],
    [20, 57.29],
  ])("holds liquid CO2 at %d °C under %d bar", (c, bar) => {
    const gas = plantGas("CO2");
    const density = 8000;
    const state = emptyGasState();
    gas.solve(density, gas.energyAt(kelvin(c), density), state);
    expect(state.liquidShare).toBeGreaterThan(0.3);
    expect(Math.abs(state.pressurePa / 1e5 / bar - 1)).toBeLessThan(2e-3);
    expect(Math.abs(state.temperatureK - kelvin(c))).toBeLessThan(0.01);
  });

  it.each([
    // Share of a 0.68 fill left when the last liquid is gone: trade facts, section 6.
    [0, 0.14],
    [10, 0.2],
    [21, 0.3],
  ])("loses its last liquid at %d °C with %d of the fill left", (c, share) => {
    const gas = plantGas("CO2");
    const full = 680 / gas.molarMassKg;
    const state = emptyGasState();
    let least = 0;
    let most = 1;
    for (let k = 0; k < 40; k += 1) {
      const middle = (least + most) / 2;
      gas.solve(full * middle, gas.energyAt(kelvin(c), full * middle), state);
      if (state.liquidShare > 0) most = middle;
      else least = middle;
    }
    expect(Math.abs(least - share)).toBeLessThan(0.01);
  });

  it.each([
    // Throttled from 70 °F to 50 psig without heat intake: trade facts, section 6.
    ["Ar", 2640, -38],
    ["Ar", 2216, -30],
    ["Ar", 1000, -3],
    ["ArC25", 2640, -70],
  ] as [PlantGasName, number, number][])("throttles %s from %d psig to %d °C", (name, psig, c) => {
    const gas = plantGas(name);
    const pressure = psig * psi + 101325;
    const density = gas.densityAt(294.26, pressure);
    const enthalpy = gas.energy(294.26, density) + pressure / density;
    expect(Math.abs(gas.throttledK(enthalpy, 50 * psi + 101325) - kelvin(c))).toBeLessThan(1.5);
  });

  it("passes 16.58 CFH of argon through 0.50 mm at 50 psig, and 6.18 at 10 psig", () => {
    // Worked example C of the trade facts: Cd 0.84, 70 °F, atmosphere outside.
    const gas = plantGas("Ar");
    const c = orificeConductance(gas, 0.5e-3, 0.84);
    const molPerCfh = (0.028316846592 / 3600) * (101325.35 / (8.314462618 * 294.2611));
    const cfh = (psig: number) =>
      restrictionFlow(c, criticalRatio(gas), psig * psi + 101325, 101325, 294.2611) / molPerCfh;
    expect(Math.abs(cfh(50) / 16.58 - 1)).toBeLessThan(0.004);
    expect(Math.abs(cfh(10) / 6.18 - 1)).toBeLessThan(0.006);
  });

  it("finds the temperature again for every density and energy of a cylinder's life", () => {
    const state = emptyGasState();
    for (const name of ["Ar", "ArC8", "ArC18", "ArC25", "ArHe25", "CO2"] as PlantGasName[]) {
      const gas = plantGas(name);
      for (let density = 40; density < 12000; density *= 1.7) {
        for (let t = 250; t < 325; t += 7.3) {
          gas.solve(density, gas.energyAt(t, density), state);
          expect(Math.abs(state.temperatureK - t)).toBeLessThan(0.02);
        }
      }
    }
  });
});
