import { PhysicsError } from "../errors.ts";
import { gasData } from "./gas-data.ts";

/**
 * Saturation of pure carbon dioxide: auxiliary equations of Span & Wagner 1996, eqs. (3.13) to
 * (3.15), and sublimation pressure, eq. (3.12). Good to 0.01 % from the triple point to 1 K
 * below the critical point; within that last kelvin the densities are steep (allow 2 %).
 */
export const saturationSource = "span-wagner-1996";

export const criticalPoint = {
  temperatureK: 304.1282,
  pressurePa: 7.3773e6,
  densityKgPerM3: 467.6,
} as const;

export const triplePoint = { temperatureK: 216.592, pressurePa: 517_950 } as const;

type Terms = readonly (readonly [a: number, exponent: number])[];

const vapourPressureTerms: Terms = [
  [-7.060_208_7, 1],
  [1.939_121_8, 1.5],
  [-1.646_359_7, 2],
  [-3.299_563_4, 4],
];
const liquidDensityTerms: Terms = [
  [1.924_510_8, 0.34],
  [-0.623_855_55, 0.5],
  [-0.327_311_27, 10 / 6],
  [0.392_451_42, 11 / 6],
];
const vapourDensityTerms: Terms = [
  [-1.707_487_9, 0.34],
  [-0.822_746_7, 0.5],
  [-4.600_854_9, 1],
  [-10.111_178, 7 / 3],
  [-29.742_252, 14 / 3],
];
const sublimationTerms: Terms = [
  [-14.740_846, 1],
  [2.432_701_5, 1.9],
  [-5.306_177_8, 2.9],
];

function sum(terms: Terms, theta: number): number {
  let total = 0;
  for (let k = 0; k < terms.length; k++) {
    total += terms[k][0] * theta ** terms[k][1];
  }
  return total;
}

/**
 * Vapour pressure over the liquid, Pa.
 *
 * @param temperatureK from the triple point (216.592 K) to the critical point (304.1282 K)
 * @throws PhysicsError `GAS_NO_SATURATION` outside: below there is dry ice, above one fluid only
 */
export function vapourPressurePa(temperatureK: number): number {
  return criticalPoint.pressurePa * Math.exp(logPressureRatio(checked(temperatureK)));
}

/** Density of the saturated liquid, kg/m³; range and errors as for `vapourPressurePa`. */
export function saturatedLiquidKgPerM3(temperatureK: number): number {
  const theta = 1 - checked(temperatureK) / criticalPoint.temperatureK;
  return criticalPoint.densityKgPerM3 * Math.exp(sum(liquidDensityTerms, theta));
}

/** Density of the saturated vapour, kg/m³; range and errors as for `vapourPressurePa`. */
export function saturatedVapourKgPerM3(temperatureK: number): number {
  const theta = 1 - checked(temperatureK) / criticalPoint.temperatureK;
  return criticalPoint.densityKgPerM3 * Math.exp(sum(vapourDensityTerms, theta));
}

/**
 * Heat of vaporization, J/kg, by Clausius-Clapeyron: T dp/dT (1/rho_vapour - 1/rho_liquid).
 * Range and errors as for `vapourPressurePa`.
 */
export function heatOfVaporizationJPerKg(temperatureK: number): number {
  const slope = vapourPressureSlopePaPerK(temperatureK);
  const swelling =
    1 / saturatedVapourKgPerM3(temperatureK) - 1 / saturatedLiquidKgPerM3(temperatureK);
  return temperatureK * slope * swelling;
}

/** dp/dT along the vapour-pressure curve, Pa/K. */
export function vapourPressureSlopePaPerK(temperatureK: number): number {
  const critical = criticalPoint.temperatureK;
  const theta = 1 - checked(temperatureK) / critical;
  let slope = 0;
  for (const [a, t] of vapourPressureTerms) {
    slope += a * t * theta ** (t - 1);
  }
  const pressure = vapourPressurePa(temperatureK);
  return -(pressure / temperatureK) * (logPressureRatio(temperatureK) + slope);
}

/** Temperature at which liquid and vapour share a pressure, K (bisection to 1e-9 K). */
export function saturationTemperatureK(pressurePa: number): number {
  if (!(pressurePa >= triplePoint.pressurePa * 0.9999 && pressurePa <= criticalPoint.pressurePa)) {
    throw new PhysicsError(
      "GAS_NO_SATURATION",
      "pressurePa",
      pressurePa,
      `CO2 boils only between ${triplePoint.pressurePa} Pa (triple point) and ${criticalPoint.pressurePa} Pa (critical point).`,
    );
  }
  let low: number = triplePoint.temperatureK;
  let high: number = criticalPoint.temperatureK;
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (vapourPressurePa(middle) < pressurePa) {
      low = middle;
    } else {
      high = middle;
    }
  }
  return (low + high) / 2;
}

/** Pressure of the vapour over dry ice, Pa, from 130 K up to the triple point. */
export function sublimationPressurePa(temperatureK: number): number {
  if (!(temperatureK >= 130 && temperatureK <= triplePoint.temperatureK)) {
    throw new PhysicsError(
      "GAS_NO_SATURATION",
      "temperatureK",
      temperatureK,
      `dry ice exists from 130 K to ${triplePoint.temperatureK} K here; use vapourPressurePa above.`,
    );
  }
  const ratio = triplePoint.temperatureK / temperatureK;
  return triplePoint.pressurePa * Math.exp(ratio * sum(sublimationTerms, 1 - 1 / ratio));
}

/** Highest pressure at which pure CO2 is a gas, Pa; infinite above the critical temperature. */
export function highestGasPressurePa(temperatureK: number): number {
  if (temperatureK >= criticalPoint.temperatureK) {
    return Number.POSITIVE_INFINITY;
  }
  if (temperatureK >= triplePoint.temperatureK) {
    return vapourPressurePa(temperatureK);
  }
  return temperatureK >= 130 ? sublimationPressurePa(temperatureK) : 0;
}

/**
 * From this part of the vapour pressure on, a pressure may be that of vapour over liquid: gauges and
 * thermometers do not tell the two apart (2 % is 0.9 K; estimate, no source).
 */
export const NEAR_SATURATION = 0.98;

/** True where pure CO2 at a pressure may lie over liquid or dry ice; its pressure tells no content. */
export function mayHoldLiquid(pressurePa: number, temperatureK: number): boolean {
  return pressurePa >= NEAR_SATURATION * highestGasPressurePa(temperatureK);
}

/** Molar mass used to turn kg into mol, kg/mol. */
export const carbonDioxideKgPerMol = gasData.CO2.molarMassKgPerMol;

function logPressureRatio(temperatureK: number): number {
  const critical = criticalPoint.temperatureK;
  return (critical / temperatureK) * sum(vapourPressureTerms, 1 - temperatureK / critical);
}

function checked(temperatureK: number): number {
  if (!(temperatureK >= triplePoint.temperatureK && temperatureK <= criticalPoint.temperatureK)) {
    throw new PhysicsError(
      "GAS_NO_SATURATION",
      "temperatureK",
      temperatureK,
      `CO2 has liquid and vapour side by side only from ${triplePoint.temperatureK} K (triple point, -56.56 °C) to ${criticalPoint.temperatureK} K (critical point, 30.98 °C).`,
    );
  }
  return temperatureK;
}
