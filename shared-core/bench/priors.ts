/**
 * What is usual for regulators and flow devices: the prior of everything that a few bench rows
 * cannot tell. Wide on purpose; a row that knows better overrules it.
 */
export interface PriorFact {
  mean: number;
  sigma: number;
  source: string;
}

const practice = "common practice, no source";
const own = "own estimate, no source";

export const benchPriors = {
  /** ln of the scale's absolute pressure around what is printed on the tube. */
  scalePressureLn: { mean: 0, sigma: 0.15, source: own },
  /** True over scaled flow, minus 1, at the scale's own gas, pressure and temperature. */
  scaleError: { mean: 0, sigma: 0.03, source: "VDI/VDE 3513 class 4 (from memory)" },
  /** Dial of an orifice gauge: gauge and hole together. */
  dialError: { mean: 0, sigma: 0.08, source: own },
  meterError: { mean: 0, sigma: 0.05, source: own },
  /** ln of the line's absolute pressure around `deliveryBar`; ISO 2503 allows 30 % of wander. */
  deliveryLn: { mean: 0, sigma: 0.2, source: "ISO 2503 irregularity 0.3 (from memory)" },
  /** The same where no delivery pressure is stated; around 3 bar gauge. */
  deliveryUnknownLn: { mean: 0, sigma: 0.4, source: `stamped tubes 1.4 to 5.5 bar, ${practice}` },
  /** Outlet rise over inlet fall, Pa/Pa; either sign. */
  supplyEffectOneStage: { mean: 0, sigma: 0.012, source: `0.003 to 0.02, ${practice}` },
  supplyEffectTwoStage: { mean: 0, sigma: 0.002, source: `0.0002 to 0.001, ${practice}` },
  /** Fall of the outlet, Pa, at 10 L/min. */
  droopPaAt10Lpm: {
    mean: 20_000,
    sigma: 12_000,
    source: `2 to 5 psi at welding flow, ${practice}`,
  },
  /** Critical ratio of needle valves and short holes, ISO 6358. */
  criticalRatio: { mean: 0.42, sigma: 0.06, source: "0.2 to 0.53 (from memory)" },
  /** Gauge pressure in the hose at welding flow, Pa. */
  backPressurePa: { mean: 35_000, sigma: 12_000, source: `3 to 8 psi, ${practice}` },
  /** Gas temperature where none was noted: 20 °C ± 5 K, as part of flow. */
  temperature: { mean: 0, sigma: 0.0085, source: own },
  /** Share of the isenthalpic temperature drop that is left in tube and restriction. */
  gasCooling: { mean: 0.25, sigma: 0.12, source: own },
  /** A line gauge of no stated class: zero and span together, Pa, and its reading. */
  plainGaugePa: { mean: 0, sigma: 10_000, source: own },
  plainGaugeReadingPa: { mean: 0, sigma: 5_000, source: own },
  /** A sensor's noise beside its class, Pa. */
  sensorReadingPa: { mean: 0, sigma: 1_500, source: own },
} as const satisfies Record<string, PriorFact>;
