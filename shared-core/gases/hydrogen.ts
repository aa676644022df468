import type { GasData } from "./gas-data.ts";

/** Hydrogen. Form of the terms and meaning of the fields: gas-data.ts. */
export const hydrogen: GasData = {
  symbol: "H2",
  name: "hydrogen",
  molarMassKgPerMol: 0.00201588,
  criticalDensityMolPerM3: 14940.0,
  criticalTemperatureK: 33.19,
  residualTerms: [
    [5.3579928451252, 1, 0.5, 0],
    [-6.2050252530595, 1, 0.625, 0],
    [0.13830241327086, 2, 0.375, 0],
    [-0.071397954896129, 2, 0.625, 0],
    [0.015474053959733, 4, 1.125, 0],
    [-0.14976806405771, 1, 2.625, 1],
    [-0.026368723988451, 5, 0, 1],
    [0.056681303156066, 5, 0.25, 1],
    [-0.060063958030436, 5, 1.375, 1],
    [-0.45043942027132, 1, 4, 2],
    [0.424788402445, 1, 4.25, 2],
    [-0.021997640827139, 2, 5, 3],
    [-0.01049952137453, 5, 8, 3],
    [-0.0028955902866816, 1, 8, 5],
  ],
  residualSource: "kunz-wagner-2012",
  idealHeatCapacity: {
    constant: 2.47906,
    sinhTerms: [
      [0.95806, 228.734],
      [1.56039, 1651.71],
    ],
    coshTerms: [
      [0.45444, 326.843],
      [-1.3756, 1671.69],
    ],
  },
  idealHeatCapacitySource: "jaeschke-schley-1995",
};
