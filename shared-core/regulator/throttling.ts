import { PhysicsError, type Result, toResult } from "../errors.ts";
import {
  carbonDioxideKgPerMol,
  criticalPoint,
  heatOfVaporizationJPerKg,
  highestGasPressurePa,
  saturationTemperatureK,
  sublimationPressurePa,
  triplePoint,
} from "../gases/co2-saturation.ts";
import { isPure } from "../gases/composition.ts";
import type { Mixture } from "../gases/mixture.ts";
import { stateAtEnthalpy } from "../gases/state-changes.ts";

/** What comes out of a seat without any heat from the body. */
export type ThrottledGas = Readonly<{
  /** For a mixture `with-dry-ice`: where dry ice begins; the gas may end some kelvin below. */
  temperatureK: number;
  /** `vapour` or, with CO2, `with-liquid` or `with-dry-ice`. */
  phase: "vapour" | "with-liquid" | "with-dry-ice";
}>;

/**
 * Isenthalpic expansion from cylinder to line: temperature at the seat without heat intake. Real
 * bodies stay warmer because of heat intake; see `body-heat.ts`.
 *
 * @param inletPa cylinder pressure, absolute
 * @param inletK gas temperature in the cylinder
 * @param outletPa line pressure, absolute
 */
export function throttle(
  mixture: Mixture,
  inletPa: number,
  inletK: number,
  outletPa: number,
): Result<ThrottledGas> {
  return toResult(() => {
    const enthalpy = deliveredEnthalpyJPerMol(mixture, inletPa, inletK);
    return stateOfEnthalpy(mixture, outletPa, enthalpy, Math.max(220, inletK - 10));
  });
}

/**
 * Enthalpy of the gas that leaves a cylinder, J/mol. Pure CO2 at or above its vapour pressure lies
 * over liquid and leaves as saturated vapour, whatever noise or lag the two sensors have.
 */
export function deliveredEnthalpyJPerMol(
  mixture: Mixture,
  cylinderPa: number,
  cylinderK: number,
): number {
  const pressurePa = isPure(mixture.composition, "CO2")
    ? Math.min(cylinderPa, highestGasPressurePa(cylinderK))
    : cylinderPa;
  const density = mixture.densityMolPerM3(pressurePa, cylinderK);
  return mixture.enthalpyJPerMol(density, cylinderK);
}

/**
 * Temperature and phase of a gas with a given enthalpy at a pressure.
 *
 * @param guessK a temperature at which it is vapour, near the answer
 * @throws PhysicsError `GAS_NOT_VAPOUR` where a mixture would condense to a liquid
 */
export function stateOfEnthalpy(
  mixture: Mixture,
  pressurePa: number,
  enthalpyJPerMol: number,
  guessK: number,
): ThrottledGas {
  const condensed = isPure(mixture.composition, "CO2")
    ? condensing(mixture, enthalpyJPerMol, pressurePa)
    : freezing(mixture, enthalpyJPerMol, pressurePa);
  if (condensed !== null) {
    return condensed;
  }
  const { temperatureK } = stateAtEnthalpy(mixture, pressurePa, enthalpyJPerMol, guessK);
  return { temperatureK, phase: "vapour" };
}

/** Pure CO2 whose enthalpy is below that of its saturated vapour at the outlet pressure. */
function condensing(mixture: Mixture, enthalpy: number, outletPa: number): ThrottledGas | null {
  if (outletPa >= criticalPoint.pressurePa) {
    return null;
  }
  const wet = outletPa >= triplePoint.pressurePa;
  const temperatureK = wet ? saturationTemperatureK(outletPa) : frostTemperatureK(outletPa);
  const vapour = mixture.densityMolPerM3(outletPa, temperatureK);
  if (enthalpy >= mixture.enthalpyJPerMol(vapour, temperatureK)) {
    return null;
  }
  return { temperatureK, phase: wet ? "with-liquid" : "with-dry-ice" };
}

/** A mixture whose enthalpy is below that of its gas at the temperature where dry ice begins. */
function freezing(mixture: Mixture, enthalpy: number, outletPa: number): ThrottledGas | null {
  const temperatureK = dryIceLimitK(mixture, outletPa);
  if (temperatureK === null) {
    return null;
  }
  const density = mixture.densityOrNaN(outletPa, temperatureK);
  return !Number.isNaN(density) && enthalpy < mixture.enthalpyJPerMol(density, temperatureK)
    ? { temperatureK, phase: "with-dry-ice" }
    : null;
}

/** Temperature at which dry ice and its vapour share a pressure below the triple point's, K. */
export function frostTemperatureK(pressurePa: number): number {
  let low = 130;
  let high: number = triplePoint.temperatureK;
  if (!(pressurePa >= sublimationPressurePa(low) && pressurePa <= triplePoint.pressurePa)) {
    throw new PhysicsError(
      "GAS_NO_SATURATION",
      "pressurePa",
      pressurePa,
      `dry ice meets its vapour only below ${triplePoint.pressurePa} Pa.`,
    );
  }
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (sublimationPressurePa(middle) < pressurePa) {
      low = middle;
    } else {
      high = middle;
    }
  }
  return (low + high) / 2;
}

/**
 * Temperature at which dry ice can form in the line from a gas with CO2 in it, K: where its
 * partial pressure meets the sublimation pressure. Null where there is no CO2 or, at this
 * partial pressure, liquid would form first.
 */
export function dryIceLimitK(mixture: Mixture, outletPa: number): number | null {
  const partialPa = (mixture.composition.CO2 ?? 0) * outletPa;
  if (!(partialPa > sublimationPressurePa(130)) || partialPa > triplePoint.pressurePa) {
    return null;
  }
  return frostTemperatureK(partialPa);
}

/**
 * Heat that one mol needs on its way from the cylinder's vapour to the line to leave at a
 * temperature, J/mol. Times the molar flow: the power that body, heater and room must supply.
 */
export function heatToDeliverJPerMol(
  mixture: Mixture,
  inletPa: number,
  inletK: number,
  outletPa: number,
  outletK: number,
): number {
  const outlet = mixture.densityMolPerM3(outletPa, outletK);
  return (
    mixture.enthalpyJPerMol(outlet, outletK) - deliveredEnthalpyJPerMol(mixture, inletPa, inletK)
  );
}

/** Heat that evaporating liquid CO2 takes from the cylinder wall, J/mol. */
export function evaporationHeatJPerMol(temperatureK: number): number {
  return heatOfVaporizationJPerKg(temperatureK) * carbonDioxideKgPerMol;
}
