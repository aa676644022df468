import type { Mixture } from "../gases/mixture.ts";
import { molarFlowMolPerS, type Restriction } from "./restriction.ts";
import { propagate, type Uncertain, type UncertainResult } from "./uncertainty.ts";
import {
  correctionSigma,
  indicatedFlowM3PerS,
  trueFlowMolPerS,
  type VariableAreaScale,
} from "./variable-area.ts";

/**
 * Flow with its uncertainty, first order (ISO 5168, JCGM 100). Inputs are independent of each
 * other; `factor` is a pure factor of about 1 that stands for what the law itself leaves open.
 */

/** The gas in the tube, with what is not known of it. */
export type UncertainTube = Readonly<{
  mixture: Mixture;
  pressurePa: Uncertain;
  temperatureK: Uncertain;
  float: "ball" | "shaped";
}>;

/** What adds to the uncertainty of a tube's flow. */
export type TubeInput = "reading" | "pressurePa" | "temperatureK" | "factor";

/**
 * True flow behind a reading, mol/s, with its standard uncertainty and the share of each input.
 *
 * @param readingM3PerS indicated flow and its sigma: how well the float is read and the scale made
 */
export function uncertainTrueFlow(
  scale: VariableAreaScale,
  tube: UncertainTube,
  readingM3PerS: Uncertain,
): UncertainResult<TubeInput> {
  return propagate<TubeInput>(
    ({ reading, pressurePa, temperatureK, factor }) =>
      factor * trueFlowMolPerS(scale, { mixture: tube.mixture, pressurePa, temperatureK }, reading),
    tubeInputs(scale, tube, readingM3PerS),
  );
}

/**
 * Reading to dial for a target flow, m³/s of the scale, with its standard uncertainty.
 *
 * @param targetMolPerS target and its sigma (0 for a plain wish)
 */
export function uncertainDialTo(
  scale: VariableAreaScale,
  tube: UncertainTube,
  targetMolPerS: Uncertain,
): UncertainResult<TubeInput> {
  return propagate<TubeInput>(
    ({ reading, pressurePa, temperatureK, factor }) =>
      indicatedFlowM3PerS(scale, { mixture: tube.mixture, pressurePa, temperatureK }, reading) /
      factor,
    tubeInputs(scale, tube, targetMolPerS),
  );
}

/** What adds to the uncertainty of a restriction's flow. */
export type RestrictionInput =
  | "sonicConductanceM3PerSPa"
  | "upstreamPa"
  | "downstreamPa"
  | "upstreamK";

/**
 * Molar flow through a restriction, with its standard uncertainty and the share of each input.
 * Choked, it goes with conductance and upstream pressure alone.
 */
export function uncertainRestrictionFlow(
  restriction: Restriction,
  inputs: Readonly<Record<RestrictionInput, Uncertain>>,
): UncertainResult<RestrictionInput> {
  return propagate<RestrictionInput>(
    ({ sonicConductanceM3PerSPa, upstreamPa, downstreamPa, upstreamK }) =>
      molarFlowMolPerS(
        { ...restriction, sonicConductanceM3PerSPa },
        upstreamPa,
        downstreamPa,
        upstreamK,
      ),
    inputs,
  );
}

function tubeInputs(
  scale: VariableAreaScale,
  tube: UncertainTube,
  reading: Uncertain,
): Readonly<Record<TubeInput, Uncertain>> {
  const middle = {
    mixture: tube.mixture,
    pressurePa: tube.pressurePa.value,
    temperatureK: tube.temperatureK.value,
  };
  return {
    reading,
    pressurePa: tube.pressurePa,
    temperatureK: tube.temperatureK,
    factor: { value: 1, sigma: correctionSigma(scale, middle, tube.float) },
  };
}
