import type { GasData } from "./gas-data.ts";

/** Oxygen. Form of the terms and meaning of the fields: gas-data.ts. */
export const oxygen: GasData = {
  symbol: "O2",
  name: "oxygen",
  molarMassKgPerMol: 0.0319988,
  criticalDensityMolPerM3: 13630.0,
  criticalTemperatureK: 154.595,
  residualTerms: [
    [0.88878286369701, 1, 0.25, 0],
    [-2.4879433312148, 1, 1.125, 0],
    [0.59750190775886, 1, 1.5, 0],
    [0.0096501817061881, 2, 1.375, 0],
    [0.07197042871277, 3, 0.25, 0],
    [0.00022337443000195, 7, 0.875, 0],
    [0.18558686391474, 2, 0.625, 1],
    [-0.03812936803576, 5, 1.75, 1],
    [-0.15352245383006, 1, 3.625, 2],
    [-0.026726814910919, 4, 3.625, 2],
    [-0.025675298677127, 3, 14.5, 3],
    [0.0095714302123668, 4, 12, 3],
  ],
  residualSource: "kunz-wagner-2012",
  idealHeatCapacity: {
    constant: 3.50146,
    sinhTerms: [[1.07558, 2235.71]],
    coshTerms: [[1.01334, 1116.69]],
  },
  idealHeatCapacitySource: "jaeschke-schley-1995",
};
