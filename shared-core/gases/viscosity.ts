import { requireWithin } from "../errors.ts";
import type { Composition, GasSymbol } from "./composition.ts";
import { gasData } from "./gas-data.ts";
import { allowedRange } from "./gerg2008.ts";

/**
 * Dilute-gas viscosity, Pa s. Pressure adds about 1 % up to 10 bar, which is left out.
 *
 * Pure gases follow the zero-density correlations named beside each; mixtures Wilke's rule.
 */
type ViscosityModel = Readonly<{
  source: string;
  /** Relative standard uncertainty in the dilute gas near room temperature. */
  relativeSigma: number;
  viscosityPaS: (temperatureK: number) => number;
}>;

/** sum a_k x^k, lowest first */
function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, a) => sum * x + a, 0);
}

/** Chapman-Enskog with the collision integral of Lemmon & Jacobsen 2004, eqs. (2) and (3). */
function lemmonJacobsen(symbol: GasSymbol, epsilonK: number, sigmaNm: number): ViscosityModel {
  const collision = [0.431, -0.4623, 0.084_06, 0.005_341, -0.003_31];
  const molarMass = 1000 * gasData[symbol].molarMassKgPerMol;
  return {
    source: "lemmon-jacobsen-2004",
    relativeSigma: 0.005,
    viscosityPaS: (temperatureK) =>
      (2.669_58e-8 * Math.sqrt(molarMass * temperatureK)) /
      (sigmaNm * sigmaNm * Math.exp(polynomial(collision, Math.log(temperatureK / epsilonK)))),
  };
}

export const viscosityModels: Readonly<Record<GasSymbol, ViscosityModel>> = {
  Ar: lemmonJacobsen("Ar", 143.2, 0.335),
  N2: lemmonJacobsen("N2", 98.94, 0.3656),
  O2: lemmonJacobsen("O2", 118.5, 0.3428),
  CO2: {
    source: "fenghour-wakeham-vesovic-1998",
    relativeSigma: 0.005,
    viscosityPaS: (temperatureK) => {
      const integral = [0.235_156, -0.491_266, 0.052_111_55, 0.053_479_06, -0.015_371_02];
      const cross = Math.exp(polynomial(integral, Math.log(temperatureK / 251.196)));
      return (1.006_97e-6 * Math.sqrt(temperatureK)) / cross;
    },
  },
  He: {
    source: "arp-mccarty-friend-1998",
    relativeSigma: 0.005,
    viscosityPaS: (temperatureK) =>
      196e-7 *
      temperatureK ** 0.719_38 *
      Math.exp(12.451 / temperatureK - 295.67 / temperatureK ** 2 - 4.1249),
  },
  H2: {
    source: "muzny-huber-kazakov-2013",
    relativeSigma: 0.005,
    viscosityPaS: (temperatureK) => {
      const integral = [0.209_63, -0.455_274, 0.143_602, -0.033_532_5, 0.002_769_81];
      const molarMass = 1000 * gasData.H2.molarMassKgPerMol;
      const cross = Math.exp(polynomial(integral, Math.log(temperatureK / 30.41)));
      return (2.1357e-8 * Math.sqrt(molarMass * temperatureK)) / (0.297 * 0.297 * cross);
    },
  },
};

/** Temperatures for which the correlations are meant here; checked from 253 to 333 K. */
export const viscosityRange = { lowK: 200, highK: 500 } as const;

/** Source of the mixing rule. */
export const mixingRuleSource = "wilke-1950";

/**
 * Viscosity of a gas at low pressure, Pa s.
 *
 * @param composition valid mole fractions
 * @param temperatureK about 200 to 500 K
 * @throws PhysicsError `PHYSICS_RANGE` outside 60 to 700 K, where no property is given
 * @returns within 1 % for pure gases; 1 to 2 % for mixtures, up to 5 % with helium or hydrogen
 */
export function viscosityPaS(composition: Composition, temperatureK: number): number {
  requireWithin("temperatureK", temperatureK, allowedRange.lowK, allowedRange.highK);
  const present = Object.entries(composition) as [GasSymbol, number][];
  const pure = present.map(([symbol]) => viscosityModels[symbol].viscosityPaS(temperatureK));
  const masses = present.map(([symbol]) => gasData[symbol].molarMassKgPerMol);
  let total = 0;
  for (let i = 0; i < present.length; i++) {
    let weight = 0;
    for (let j = 0; j < present.length; j++) {
      const ratio = Math.sqrt(pure[i] / pure[j]) * (masses[j] / masses[i]) ** 0.25;
      weight += (present[j][1] * (1 + ratio) ** 2) / Math.sqrt(8 * (1 + masses[i] / masses[j]));
    }
    total += (present[i][1] * pure[i]) / weight;
  }
  return total;
}
