import { type Result, requireWithin, toResult } from "../errors.ts";
import { reynoldsNumber } from "../flow/hose.ts";
import type { Mixture } from "../gases/mixture.ts";

/** Pipe flow turns turbulent above about Re 2300: textbook limit for a long smooth pipe. */
export const REYNOLDS_LIMIT = 2300;
export const reynoldsLimitSource = "perry-2008";

/** Gas leaving an empty, cold nozzle. */
export type NozzleExit = Readonly<{
  /** Mean velocity over the bore, m/s. */
  velocityMPerS: number;
  /** 4 m / (pi d mu) */
  reynolds: number;
  /** Density of the gas at the exit, kg/m³. */
  densityKgPerM3: number;
  /** Above the textbook limit: a warning, not an alarm. A gas lens shifts it up, obstructions down. */
  turbulentBore: boolean;
}>;

/**
 * Mean exit velocity and Reynolds number at the nozzle.
 *
 * @param boreM inside diameter of cup or nozzle
 * @param atmospherePa absolute pressure outside
 * @param temperatureK of the gas at the exit; cold gas, as no arc is modelled
 */
export function nozzleExit(
  mixture: Mixture,
  molPerS: number,
  boreM: number,
  atmospherePa: number,
  temperatureK: number,
): Result<NozzleExit> {
  return toResult(() => {
    requireWithin("boreM", boreM, 1e-3, 0.1);
    requireWithin("molPerS", molPerS, 0, 10);
    const density = mixture.densityMolPerM3(atmospherePa, temperatureK);
    const areaM2 = (Math.PI / 4) * boreM * boreM;
    const reynolds = reynoldsNumber(mixture, molPerS, boreM, temperatureK);
    return {
      velocityMPerS: molPerS / (density * areaM2),
      reynolds,
      densityKgPerM3: density * mixture.molarMassKgPerMol,
      turbulentBore: reynolds > REYNOLDS_LIMIT,
    };
  });
}

/** Molar flow at which the bore reaches a Reynolds number, mol/s. */
export function molPerSAtReynolds(
  mixture: Mixture,
  reynolds: number,
  boreM: number,
  temperatureK: number,
): number {
  return reynolds / reynoldsNumber(mixture, 1, boreM, temperatureK);
}
