import type { GasSymbol } from "./composition.ts";

/** One term n delta^d tau^t exp(-eta (delta - epsilon)^2 - beta (delta - gamma)) of a departure function. */
export type DepartureTerm = readonly [
  n: number,
  d: number,
  t: number,
  eta: number,
  epsilon: number,
  beta: number,
  gamma: number,
];

/** Parameters of the reducing functions of one pair; `beta` is not symmetric, so the order counts. */
export type BinaryPair = Readonly<{
  first: GasSymbol;
  second: GasSymbol;
  betaV: number;
  gammaV: number;
  betaT: number;
  gammaT: number;
  departure: readonly DepartureTerm[] | null;
}>;

/** Departure function of N2-CO2: Kunz & Wagner 2012, tables A6 and A7. */
const nitrogenCarbonDioxideDeparture: readonly DepartureTerm[] = [
  [0.28661625028399, 2, 1.85, 0, 0, 0, 0],
  [-0.10919833861247, 3, 1.4, 0, 0, 0, 0],
  [-1.137403208227, 1, 3.2, 0.25, 0.5, 0.75, 0.5],
  [0.76580544237358, 1, 2.5, 0.25, 0.5, 1, 0.5],
  [0.0042638000926819, 1, 8, 0, 0.5, 2, 0.5],
  [0.17673538204534, 2, 3.75, 0, 0.5, 3, 0.5],
];

/** Kunz & Wagner 2012, table A8 (ISO 20765-2, annex B). */
export const binaryPairs: readonly BinaryPair[] = [
  {
    first: "CO2",
    second: "Ar",
    betaV: 1.008392428,
    gammaV: 1.029205465,
    betaT: 0.996512863,
    gammaT: 1.050971635,
    departure: null,
  },
  {
    first: "N2",
    second: "Ar",
    betaV: 1.004166412,
    gammaV: 1.002212182,
    betaT: 0.999069843,
    gammaT: 0.990034831,
    departure: null,
  },
  {
    first: "O2",
    second: "Ar",
    betaV: 0.999746847,
    gammaV: 0.993907223,
    betaT: 1.000023103,
    gammaT: 0.990430423,
    departure: null,
  },
  {
    first: "CO2",
    second: "He",
    betaV: 0.846647561,
    gammaV: 0.864141549,
    betaT: 0.76837763,
    gammaT: 3.207456948,
    departure: null,
  },
  {
    first: "N2",
    second: "CO2",
    betaV: 0.977794634,
    gammaV: 1.047578256,
    betaT: 1.005894529,
    gammaT: 1.107654104,
    departure: nitrogenCarbonDioxideDeparture,
  },
  {
    first: "CO2",
    second: "H2",
    betaV: 0.904142159,
    gammaV: 1.15279255,
    betaT: 0.942320195,
    gammaT: 1.782924792,
    departure: null,
  },
  {
    first: "N2",
    second: "He",
    betaV: 0.969501055,
    gammaV: 0.932629867,
    betaT: 0.692868765,
    gammaT: 1.47183158,
    departure: null,
  },
  {
    first: "N2",
    second: "O2",
    betaV: 0.99952177,
    gammaV: 0.997082328,
    betaT: 0.997190589,
    gammaT: 0.995157044,
    departure: null,
  },
  {
    first: "N2",
    second: "H2",
    betaV: 0.972532065,
    gammaV: 0.970115357,
    betaT: 0.946134337,
    gammaT: 1.175696583,
    departure: null,
  },
];
/** Source of all pair parameters and of the departure function. */
export const binaryPairsSource = "kunz-wagner-2012";

/**
 * Pairs for which the equation has no fitted parameters: all four are 1 (linear and quadratic
 * mixing of the critical points), so the content of such a mixture is less certain.
 */
export const unfittedPairs: readonly (readonly [GasSymbol, GasSymbol])[] = [
  ["He", "Ar"],
  ["H2", "Ar"],
  ["CO2", "O2"],
  ["O2", "He"],
  ["H2", "He"],
  ["H2", "O2"],
];
