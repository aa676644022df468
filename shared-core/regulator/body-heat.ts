import { type Result, requireWithin, toResult } from "../errors.ts";
import type { Mixture } from "../gases/mixture.ts";
import { deliveredEnthalpyJPerMol, stateOfEnthalpy, throttle } from "./throttling.ts";

/**
 * Heat balance of a regulator body, one lump of metal:
 *
 *   C dT/dt = G_air (T_air - T) + G_valve (T_cylinder - T) + heater
 *             - n effectiveness [h(p_line, T) - h(p_cylinder, T_cylinder)]
 *
 * The gas leaves the seat with the enthalpy it had in the cylinder and takes up a part of what it
 * would need to reach the body's temperature, liquid and dry ice included. Textbook lumped
 * capacity and heat-exchanger effectiveness (Incropera, DeWitt).
 */
export const bodyHeatSource = "incropera-dewitt";

/** Thermal data of a body. Defaults in `ordinaryBody` are estimates, to be replaced by learnt ones. */
export type RegulatorBody = Readonly<{
  /** J/K */
  heatCapacityJPerK: number;
  /** Body to room air, W/K. */
  airConductanceWPerK: number;
  /** Body to cylinder valve and neck, W/K. */
  valveConductanceWPerK: number;
  /** Part of the enthalpy to the body's temperature that the gas takes up, 0 to 1. */
  effectiveness: number;
  /** Electric heater, W. */
  heaterW: number;
}>;

/**
 * A brass body of about 1.2 kg (380 J/(kg K)): 460 J/K; 0.04 m² at 10 W/(m² K) to the air; brass
 * stem of 3 cm² over 4 cm to the valve (110 W/(m K)). Estimates from handbook properties, no source.
 */
export const ordinaryBody: RegulatorBody = {
  heatCapacityJPerK: 460,
  airConductanceWPerK: 0.4,
  valveConductanceWPerK: 0.8,
  effectiveness: 0.9,
  heaterW: 0,
};

/** What surrounds the body and what flows through it. Pressures absolute. */
export type BodyConditions = Readonly<{
  molPerS: number;
  cylinderPa: number;
  cylinderK: number;
  linePa: number;
  airK: number;
}>;

/** Where a body's temperature is heading. */
export type BodyHeat = Readonly<{
  /** Steady body temperature, K. */
  settledK: number;
  /** Time constant of the approach, s. */
  timeConstantS: number;
  /** Temperature of the gas that leaves when settled, K. */
  outletK: number;
  /** True where liquid or dry ice is left in the gas that leaves when settled. */
  outletWet: boolean;
  /** Temperature of the gas right after the seat, K. */
  seatK: number;
  /** Liquid or dry ice forms at the seat before the body warms the gas. */
  seatWet: boolean;
  /** Heat that the gas takes from the body when settled, W. */
  heatToGasW: number;
}>;

/**
 * Settled temperature and time constant of a body at constant conditions.
 *
 * @returns a failed result where the gas in the cylinder is no vapour at its conditions
 */
export function bodyHeat(
  body: RegulatorBody,
  mixture: Mixture,
  conditions: BodyConditions,
): Result<BodyHeat> {
  return toResult(() => {
    requireWithin("effectiveness", body.effectiveness, 0, 1);
    requireWithin("molPerS", conditions.molPerS, 0, 10);
    requireWithin("heatCapacityJPerK", body.heatCapacityJPerK, 1, 1e6);
    requireWithin("heaterW", body.heaterW, 0, 1e4);
    requireWithin("airConductanceWPerK", body.airConductanceWPerK, 0, 1e4);
    requireWithin("valveConductanceWPerK", body.valveConductanceWPerK, 0, 1e4);
    requireWithin("airK", conditions.airK, 150, 450);
    const intake = body.airConductanceWPerK + body.valveConductanceWPerK;
    requireWithin("conductance to air and valve, W/K", intake, 1e-6, 1e4);
    const seat = throttle(mixture, conditions.cylinderPa, conditions.cylinderK, conditions.linePa);
    if (!seat.ok) {
      throw seat.error;
    }
    const seatK = seat.value.temperatureK;
    const seatWet = seat.value.phase !== "vapour";
    const enthalpyIn = deliveredEnthalpyJPerMol(
      mixture,
      conditions.cylinderPa,
      conditions.cylinderK,
    );
    const taken = (bodyK: number): number =>
      body.effectiveness * (enthalpy(mixture, conditions.linePa, bodyK) - enthalpyIn);
    const balance = (bodyK: number): number =>
      body.airConductanceWPerK * (conditions.airK - bodyK) +
      body.valveConductanceWPerK * (conditions.cylinderK - bodyK) +
      body.heaterW -
      conditions.molPerS * taken(bodyK);
    // The balance falls with body temperature: halve between the coldest gas and the warmest side.
    // A body that cannot supply the heat of evaporation settles at the temperature of the wet gas.
    const coldest = Math.min(seatK, conditions.airK, conditions.cylinderK);
    let low = seatWet ? Math.min(coldest, seatK) + 1e-3 : coldest - 1;
    let high = Math.max(seatK, conditions.airK, conditions.cylinderK) + body.heaterW / intake + 1;
    while (high - low > 1e-6) {
      const middle = (low + high) / 2;
      if (balance(middle) > 0) {
        low = middle;
      } else {
        high = middle;
      }
    }
    const settledK = (low + high) / 2;
    const slope = (balance(settledK) - balance(settledK + 0.5)) / 0.5;
    const gain = taken(settledK);
    const outlet = stateOfEnthalpy(mixture, conditions.linePa, enthalpyIn + gain, settledK);
    return {
      settledK,
      timeConstantS: body.heatCapacityJPerK / slope,
      outletK: outlet.temperatureK,
      outletWet: outlet.phase !== "vapour",
      seatK,
      seatWet,
      heatToGasW: conditions.molPerS * gain,
    };
  });
}

/** Body temperature after a time at constant conditions, K: exponential approach. */
export function bodyTemperatureK(startK: number, heat: BodyHeat, elapsedS: number): number {
  return heat.settledK + (startK - heat.settledK) * Math.exp(-elapsedS / heat.timeConstantS);
}

/**
 * Time until a body that cools towards `heat.settledK` passes a limit, s; null if it never does.
 */
export function secondsUntil(startK: number, limitK: number, heat: BodyHeat): number | null {
  if (startK <= limitK) {
    return 0;
  }
  if (heat.settledK >= limitK) {
    return null;
  }
  return heat.timeConstantS * Math.log((startK - heat.settledK) / (limitK - heat.settledK));
}

/**
 * The greatest flow at which the settled body stays above a limit, mol/s: what a regulator can
 * deliver for ever without icing. Infinite where even `highestMolPerS` does not cool it that far
 * (helium warms).
 *
 * @param limitK 273.15 K for frost on the outside
 */
export function highestFlowAboveK(
  body: RegulatorBody,
  mixture: Mixture,
  conditions: Omit<BodyConditions, "molPerS">,
  limitK: number,
  highestMolPerS = 0.1,
): Result<number> {
  return toResult(() => {
    const settledK = (molPerS: number): number => {
      const heat = bodyHeat(body, mixture, { ...conditions, molPerS });
      if (!heat.ok) {
        throw heat.error;
      }
      return heat.value.settledK;
    };
    if (settledK(highestMolPerS) >= limitK) {
      return Number.POSITIVE_INFINITY;
    }
    let low = 0;
    let high = highestMolPerS;
    while (high - low > 1e-6 * highestMolPerS) {
      const middle = (low + high) / 2;
      if (settledK(middle) >= limitK) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return low;
  });
}

function enthalpy(mixture: Mixture, pressurePa: number, temperatureK: number): number {
  const density = mixture.densityMolPerM3(pressurePa, temperatureK);
  return mixture.enthalpyJPerMol(density, temperatureK);
}
