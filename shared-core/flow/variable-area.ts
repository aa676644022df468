import { requireWithin } from "../errors.ts";
import { isSameGas } from "../gases/composition.ts";
import type { Mixture } from "../gases/mixture.ts";
import { type ReferenceName, standardDensityMolPerM3 } from "../units/reference-conditions.ts";

/**
 * Variable-area flowmeter (tube and float), in the range where the float feels density, not
 * viscosity: force balance on the float, VDI/VDE 3513.
 *
 *   mass flow = k sqrt(rho (rho_float - rho)),  k set by the float's height alone
 *
 * so a scale made for one gas state reads another by the root of the densities. Balls are partly
 * viscosity dependent: see `FACTOR_SIGMA`.
 */
export const variableAreaSource = "vdi-vde-3513";

/** What the scale on the tube was made for. */
export type VariableAreaScale = Readonly<{
  mixture: Mixture;
  /** Absolute pressure in the tube for which the scale is right. */
  pressurePa: number;
  temperatureK: number;
  /** Reference of the standard volume that the scale counts. */
  reference: ReferenceName;
  /** Density of the float, kg/m³; left out, the gas's own buoyancy is neglected (below 0.5 %). */
  floatDensityKgPerM3?: number;
}>;

/** The gas that really is in the tube. */
export type TubeState = Readonly<{
  mixture: Mixture;
  /** Absolute: delivery pressure with the valve after the tube, near hose pressure with it before. */
  pressurePa: number;
  temperatureK: number;
}>;

/**
 * Relative standard uncertainty of the density correction itself. A ball is partly viscosity
 * dependent: one maker holds gas factors good to 10 % and not at all for balls; 10 % as a limit
 * gives 6 % for a change of gas; where only pressure and temperature change, 1 % is taken.
 * Common practice, no closer source.
 */
export const FACTOR_SIGMA = { sameGas: 0.01, otherGas: { ball: 0.06, shaped: 0.03 } } as const;

/** Where the tube's pressure comes from. */
export type ValvePosition = "after-tube" | "before-tube";

/**
 * Absolute pressure in the tube for a valve position.
 *
 * @param deliveryPa absolute pressure after the regulator
 * @param hosePa absolute pressure in the hose while gas flows
 */
export function tubePressurePa(valve: ValvePosition, deliveryPa: number, hosePa: number): number {
  return valve === "after-tube" ? deliveryPa : hosePa;
}

/**
 * Mass flow for one float height, over the mass flow that the scale was made for.
 * The whole correction; everything else is a change of unit.
 */
export function massFlowFactor(scale: VariableAreaScale, tube: TubeState): number {
  const scaleDensity = kgPerM3(scale.mixture, scale.pressurePa, scale.temperatureK);
  const density = kgPerM3(tube.mixture, tube.pressurePa, tube.temperatureK);
  const float = scale.floatDensityKgPerM3;
  const lift =
    float === undefined
      ? 1
      : (requireWithin("floatDensityKgPerM3", float, 2 * density, 25_000) - density) /
        (float - scaleDensity);
  return Math.sqrt((density / scaleDensity) * lift);
}

/**
 * True molar flow behind a reading, mol/s.
 *
 * @param indicatedM3PerS what the scale shows: standard volume of the scale's gas at its reference
 */
export function trueFlowMolPerS(
  scale: VariableAreaScale,
  tube: TubeState,
  indicatedM3PerS: number,
): number {
  const scaleKgPerS =
    indicatedM3PerS *
    standardDensityMolPerM3(scale.mixture, scale.reference) *
    scale.mixture.molarMassKgPerMol;
  return (scaleKgPerS * massFlowFactor(scale, tube)) / tube.mixture.molarMassKgPerMol;
}

/**
 * Reading that a true molar flow gives, in the scale's standard volume, m³/s: what the float
 * should show, and, for a target flow, the reading to dial.
 */
export function indicatedFlowM3PerS(
  scale: VariableAreaScale,
  tube: TubeState,
  molPerS: number,
): number {
  const kgPerS = molPerS * tube.mixture.molarMassKgPerMol;
  const scaleKgPerS = kgPerS / massFlowFactor(scale, tube);
  return (
    scaleKgPerS /
    (standardDensityMolPerM3(scale.mixture, scale.reference) * scale.mixture.molarMassKgPerMol)
  );
}

/**
 * True standard flow over indicated, both at the scale's reference: the trade's correction
 * factor, sqrt(rho/rho_scale) · rho_std,scale-gas / rho_std,gas.
 */
export function correctionFactor(scale: VariableAreaScale, tube: TubeState): number {
  return trueFlowMolPerS(scale, tube, 1) / standardDensityMolPerM3(tube.mixture, scale.reference);
}

/** Relative standard uncertainty of the correction between two gases. */
export function correctionSigma(
  scale: VariableAreaScale,
  tube: TubeState,
  float: "ball" | "shaped",
): number {
  const sameGas = isSameGas(scale.mixture.composition, tube.mixture.composition);
  return sameGas ? FACTOR_SIGMA.sameGas : FACTOR_SIGMA.otherGas[float];
}

function kgPerM3(mixture: Mixture, pressurePa: number, temperatureK: number): number {
  return mixture.densityMolPerM3(pressurePa, temperatureK) * mixture.molarMassKgPerMol;
}
