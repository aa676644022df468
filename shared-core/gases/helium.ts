import type { GasData } from "./gas-data.ts";

/** Helium. Form of the terms and meaning of the fields: gas-data.ts. */
export const helium: GasData = {
  symbol: "He",
  name: "helium",
  molarMassKgPerMol: 0.004002602,
  criticalDensityMolPerM3: 17399.0,
  criticalTemperatureK: 5.1953,
  residualTerms: [
    [-0.45579024006737, 1, 0, 0],
    [1.2516390754925, 1, 0.125, 0],
    [-1.5438231650621, 1, 0.75, 0],
    [0.020467489707221, 4, 1, 0],
    [-0.34476212380781, 1, 0.75, 1],
    [-0.020858459512787, 3, 2.625, 1],
    [0.016227414711778, 5, 0.125, 1],
    [-0.057471818200892, 5, 1.25, 1],
    [0.019462416430715, 5, 2, 1],
    [-0.03329568012302, 2, 1, 2],
    [-0.010863577372367, 1, 4.5, 3],
    [-0.022173365245954, 2, 5, 3],
  ],
  residualSource: "kunz-wagner-2012",
  idealHeatCapacity: {
    constant: 2.5,
    sinhTerms: [],
    coshTerms: [],
  },
  idealHeatCapacitySource: "jaeschke-schley-1995",
};
