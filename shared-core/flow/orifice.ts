import { requireWithin } from "../errors.ts";
import type { Mixture } from "../gases/mixture.ts";
import { stateAtEntropy } from "../gases/state-changes.ts";
import { criticalFlow } from "./critical-flow.ts";
import { INCOMPRESSIBLE_CONTRACTION, thinPlateContraction } from "./thin-plate.ts";

/**
 * Discharge coefficient of a short cylindrical hole with a sharp inlet, 1 to about 7 diameters
 * long: 0.84, free of Reynolds number and length there (Ward-Smith 1979; number from memory).
 */
export const SHORT_HOLE_CD = 0.84;
export const shortHoleSource = "ward-smith-1979";

/** A round hole. */
export type Orifice = Readonly<{
  diameterM: number;
  /**
   * `short-hole`: constant discharge coefficient, choked below the critical ratio.
   * `thin-plate`: contraction after Jobson 1955, no sharp choking.
   */
  shape: "short-hole" | "thin-plate";
  /**
   * Discharge coefficient; for a thin plate the incompressible one. Left out: 0.84 for a short
   * hole, 0.611 for a thin plate.
   */
  dischargeCoefficient?: number;
}>;

/** Flow through an orifice and what it rests on. */
export type OrificeFlow = Readonly<{
  molPerS: number;
  kgPerS: number;
  choked: boolean;
  /** Pressure ratio below which the flow chokes (of the frictionless nozzle). */
  criticalPressureRatio: number;
  dischargeCoefficient: number;
}>;

/**
 * Real-gas flow through a round hole, from rest, by isentropic expansion to the throat.
 *
 * @param upstreamPa absolute pressure at rest upstream
 * @param downstreamPa absolute pressure downstream; at or above upstream there is no flow
 * @param upstreamK temperature at rest upstream
 * @throws PhysicsError for impossible sizes, or where the gas is no vapour
 */
export function orificeFlow(
  orifice: Orifice,
  mixture: Mixture,
  upstreamPa: number,
  downstreamPa: number,
  upstreamK: number,
): OrificeFlow {
  requireWithin("orifice.diameterM", orifice.diameterM, 1e-6, 0.1);
  requireWithin("downstreamPa", downstreamPa, 0, 70e6);
  const critical = criticalFlow(mixture, upstreamPa, upstreamK);
  const areaM2 = (Math.PI / 4) * orifice.diameterM ** 2;
  const ratio = Math.min(1, downstreamPa / upstreamPa);
  const choked = ratio <= critical.criticalPressureRatio;
  const flux = choked
    ? critical.molarFluxMolPerSM2
    : subcriticalFlux(mixture, upstreamPa, downstreamPa, upstreamK);
  const dischargeCoefficient = coefficient(orifice, mixture, upstreamPa, upstreamK, ratio);
  const molPerS = dischargeCoefficient * areaM2 * flux;
  return {
    molPerS,
    kgPerS: molPerS * mixture.molarMassKgPerMol,
    choked: choked && orifice.shape === "short-hole",
    criticalPressureRatio: critical.criticalPressureRatio,
    dischargeCoefficient,
  };
}

/**
 * Diameter of the hole that passes a molar flow, m; the flow goes with its square.
 *
 * @throws PhysicsError for a negative flow, or where no pressure drives one
 */
export function orificeDiameterM(
  orifice: Omit<Orifice, "diameterM">,
  mixture: Mixture,
  molPerS: number,
  upstreamPa: number,
  downstreamPa: number,
  upstreamK: number,
): number {
  requireWithin("molPerS", molPerS, 0, 1e3);
  requireWithin("upstreamPa", upstreamPa, downstreamPa * (1 + 1e-9), 70e6);
  const probe = orificeFlow(
    { ...orifice, diameterM: 1e-3 },
    mixture,
    upstreamPa,
    downstreamPa,
    upstreamK,
  );
  return 1e-3 * Math.sqrt(molPerS / probe.molPerS);
}

/** rho v at the downstream pressure, mol/(s m²), by isentropic expansion from rest. */
function subcriticalFlux(
  mixture: Mixture,
  upstreamPa: number,
  downstreamPa: number,
  upstreamK: number,
): number {
  if (downstreamPa >= upstreamPa) {
    return 0;
  }
  const start = mixture.densityMolPerM3(upstreamPa, upstreamK);
  const enthalpy = mixture.enthalpyJPerMol(start, upstreamK);
  const entropy = mixture.entropyJPerMolK(start, upstreamK);
  const end = stateAtEntropy(mixture, downstreamPa, entropy, upstreamK);
  const drop = enthalpy - mixture.enthalpyJPerMol(end.densityMolPerM3, end.temperatureK);
  return end.densityMolPerM3 * Math.sqrt((2 * Math.max(0, drop)) / mixture.molarMassKgPerMol);
}

function coefficient(
  orifice: Orifice,
  mixture: Mixture,
  upstreamPa: number,
  upstreamK: number,
  ratio: number,
): number {
  if (orifice.shape === "short-hole") {
    return requireWithin(
      "orifice.dischargeCoefficient",
      orifice.dischargeCoefficient ?? SHORT_HOLE_CD,
      0.1,
      1.2,
    );
  }
  const given = requireWithin(
    "orifice.dischargeCoefficient",
    orifice.dischargeCoefficient ?? INCOMPRESSIBLE_CONTRACTION,
    0.1,
    1.2,
  );
  const density = mixture.densityMolPerM3(upstreamPa, upstreamK);
  const kappa = mixture.cpJPerMolK(density, upstreamK) / mixture.cvJPerMolK(density, upstreamK);
  return (given / INCOMPRESSIBLE_CONTRACTION) * thinPlateContraction(ratio, kappa);
}
