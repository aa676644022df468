import type { GasData } from "./gas-data.ts";

/** Argon. Form of the terms and meaning of the fields: gas-data.ts. */
export const argon: GasData = {
  symbol: "Ar",
  name: "argon",
  molarMassKgPerMol: 0.039948,
  criticalDensityMolPerM3: 13407.429659,
  criticalTemperatureK: 150.687,
  residualTerms: [
    [0.85095714803969, 1, 0.25, 0],
    [-2.400322294348, 1, 1.125, 0],
    [0.54127841476466, 1, 1.5, 0],
    [0.016919770692538, 2, 1.375, 0],
    [0.068825965019035, 3, 0.25, 0],
    [0.00021428032815338, 7, 0.875, 0],
    [0.17429895321992, 2, 0.625, 1],
    [-0.033654495604194, 5, 1.75, 1],
    [-0.13526799857691, 1, 3.625, 2],
    [-0.016387350791552, 4, 3.625, 2],
    [-0.024987666851475, 3, 14.5, 3],
    [0.0088769204815709, 4, 12, 3],
  ],
  residualSource: "kunz-wagner-2012",
  idealHeatCapacity: {
    constant: 2.5,
    sinhTerms: [],
    coshTerms: [],
  },
  idealHeatCapacitySource: "jaeschke-schley-1995",
};
