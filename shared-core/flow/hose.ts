import { requireWithin } from "../errors.ts";
import { GAS_CONSTANT } from "../gases/gerg2008.ts";
import type { Mixture } from "../gases/mixture.ts";
import { viscosityPaS } from "../gases/viscosity.ts";
import { type Restriction, upstreamPressurePa } from "./restriction.ts";

/** Friction factor over all regimes: Churchill 1977. Isothermal compressible pipe flow: Perry. */
export const frictionSource = "churchill-1977";
export const pipeFlowSource = "perry-2008";

export type Hose = Readonly<{ lengthM: number; boreM: number }>;

/** Darcy friction factor of a smooth bore, laminar to turbulent. */
export function darcyFrictionFactor(reynolds: number): number {
  if (reynolds < 100) {
    // Hagen-Poiseuille, to which the equation tends; its twelfth powers would overflow.
    return 64 / reynolds;
  }
  const smooth = (2.457 * Math.log((reynolds / 7) ** 0.9)) ** 16;
  const rough = (37_530 / reynolds) ** 16;
  return 8 * ((8 / reynolds) ** 12 + 1 / (smooth + rough) ** 1.5) ** (1 / 12);
}

/** Reynolds number of a molar flow in a round bore: 4 m / (pi d mu). */
export function reynoldsNumber(
  mixture: Mixture,
  molPerS: number,
  boreM: number,
  temperatureK: number,
): number {
  requireWithin("boreM", boreM, 1e-6, 10);
  const kgPerS = molPerS * mixture.molarMassKgPerMol;
  return (4 * kgPerS) / (Math.PI * boreM * viscosityPaS(mixture.composition, temperatureK));
}

/**
 * Pressure at the inlet of a hose, Pa absolute, for a flow and an outlet pressure:
 * p1² - p2² = (m/A)² R_s T (f L/d + 2 ln(p1/p2)), isothermal, ideal gas (lines below 20 bar).
 *
 * @throws PhysicsError `PHYSICS_RANGE` for an impossible bore, length, flow, pressure or temperature
 */
export function hoseInletPressurePa(
  hose: Hose,
  mixture: Mixture,
  molPerS: number,
  outletPa: number,
  temperatureK: number,
): number {
  requireWithin("hose.boreM", hose.boreM, 1e-4, 0.1);
  requireWithin("hose.lengthM", hose.lengthM, 0, 500);
  requireWithin("molPerS", molPerS, 0, 10);
  requireWithin("outletPa", outletPa, 100, 70e6);
  requireWithin("temperatureK", temperatureK, 60, 700);
  if (molPerS === 0) {
    return outletPa;
  }
  const flux = (molPerS * mixture.molarMassKgPerMol) / ((Math.PI / 4) * hose.boreM ** 2);
  const friction =
    (darcyFrictionFactor(reynoldsNumber(mixture, molPerS, hose.boreM, temperatureK)) *
      hose.lengthM) /
    hose.boreM;
  const scale = (flux * flux * GAS_CONSTANT * temperatureK) / mixture.molarMassKgPerMol;
  let inlet = Math.sqrt(outletPa * outletPa + scale * friction);
  for (let k = 0; k < 50; k++) {
    const next = Math.sqrt(
      outletPa * outletPa + scale * (friction + 2 * Math.log(inlet / outletPa)),
    );
    if (Math.abs(next - inlet) <= 1e-10 * next) {
      return next;
    }
    inlet = next;
  }
  return inlet;
}

/**
 * Back pressure at the device's outlet, Pa absolute: torch to atmosphere, then hose.
 *
 * @param torch the torch as a restriction for this gas
 */
export function backPressurePa(
  hose: Hose,
  torch: Restriction,
  mixture: Mixture,
  molPerS: number,
  atmospherePa: number,
  temperatureK: number,
): number {
  const torchPa = upstreamPressurePa(torch, molPerS, atmospherePa, temperatureK);
  return hoseInletPressurePa(hose, mixture, molPerS, torchPa, temperatureK);
}

/**
 * Standard amount that a start blows out of a hose, mol: what the hose holds at rest above what
 * it holds while gas flows (the start surge). Real gas.
 */
export function surgeMol(
  hose: Hose,
  mixture: Mixture,
  restPa: number,
  flowingPa: number,
  temperatureK: number,
): number {
  const volumeM3 = (Math.PI / 4) * hose.boreM ** 2 * hose.lengthM;
  return (
    volumeM3 *
    (mixture.densityMolPerM3(restPa, temperatureK) -
      mixture.densityMolPerM3(flowingPa, temperatureK))
  );
}
