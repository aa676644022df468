import type { PrintedFlowUnit } from "./flow-units.ts";
import type { SourceKey } from "./sources.ts";

/** A flow as its source prints it; a single figure has `low` equal to `high`. */
export interface PrintedFlow {
  low: number;
  high: number;
  unit: PrintedFlowUnit;
  source: SourceKey;
}

export interface CupRow extends PrintedFlow {
  /** GTAW cup numbers (sixteenths of an inch) that the row covers. */
  cupFrom: number;
  cupTo: number;
}

/** GTAW, argon, plain collet body, by cup. */
export const gtawByCup: readonly CupRow[] = [
  { cupFrom: 4, cupTo: 5, low: 8, high: 12, unit: "CFH", source: "common-practice" },
  { cupFrom: 6, cupTo: 6, low: 10, high: 15, unit: "CFH", source: "common-practice" },
  { cupFrom: 7, cupTo: 8, low: 14, high: 20, unit: "CFH", source: "common-practice" },
  { cupFrom: 10, cupTo: 10, low: 20, high: 25, unit: "CFH", source: "common-practice" },
  { cupFrom: 12, cupTo: 12, low: 25, high: 35, unit: "CFH", source: "common-practice" },
];

export type MaterialFamily = "carbon-steel" | "stainless" | "aluminium" | "titanium" | "other";

export interface ThicknessRow extends PrintedFlow {
  material: MaterialFamily;
  /** The row holds up to this thickness. */
  toMm: number;
  /** Helium fraction of the gas that the row was printed for; argon or an argon mix where absent. */
  heliumFraction?: number;
}

/** GTAW fillets by thickness, argon. */
export const gtawByThickness: readonly ThicknessRow[] = [
  { material: "stainless", toMm: 6, low: 5, high: 7, unit: "L/min", source: "supplier-handbook" },
  {
    material: "carbon-steel",
    toMm: 6,
    low: 5,
    high: 7,
    unit: "L/min",
    source: "supplier-handbook",
  },
  { material: "aluminium", toMm: 1.6, low: 5, high: 5, unit: "L/min", source: "supplier-handbook" },
  { material: "aluminium", toMm: 3.2, low: 6, high: 6, unit: "L/min", source: "supplier-handbook" },
  { material: "aluminium", toMm: 4.8, low: 7, high: 7, unit: "L/min", source: "supplier-handbook" },
  { material: "aluminium", toMm: 6, low: 10, high: 10, unit: "L/min", source: "supplier-handbook" },
];

const IN = 25.4;

/** GMAW and FCAW-G by thickness, flat and horizontal. */
export const gmawByThickness: readonly ThicknessRow[] = [
  row("carbon-steel", IN / 8, 25),
  row("carbon-steel", IN / 4, 30),
  row("carbon-steel", (3 * IN) / 8, 35),
  row("carbon-steel", (3 * IN) / 4, 50),
  row("aluminium", IN / 16, 25),
  row("aluminium", IN / 4, 35),
  row("aluminium", (3 * IN) / 8, 40),
  { ...row("aluminium", (3 * IN) / 4, 90), heliumFraction: 0.75 },
  row("stainless", IN / 16, 30),
];

function row(material: MaterialFamily, toMm: number, cfh: number): ThicknessRow {
  return { material, toMm, low: cfh, high: cfh, unit: "CFH", source: "modern-welding-2020" };
}

export type ArcMode = "short-circuit" | "spray" | "pulsed" | "FCAW-G";

export interface ModeRow extends PrintedFlow {
  mode: ArcMode;
}

/** GMAW and FCAW-G by the way the metal crosses the arc. */
export const gmawByMode: readonly ModeRow[] = [
  { mode: "short-circuit", low: 20, high: 30, unit: "CFH", source: "common-practice" },
  { mode: "spray", low: 35, high: 50, unit: "CFH", source: "common-practice" },
  { mode: "pulsed", low: 35, high: 50, unit: "CFH", source: "common-practice" },
  { mode: "FCAW-G", low: 30, high: 50, unit: "CFH", source: "common-practice" },
];

/** Rules of thumb: flow = `perUnit` times the quantity. They are shown, and fill gaps. */
export const rulesOfThumb = {
  /** GTAW: twice the cup number. */
  cup: { perUnit: 2, unit: "CFH", source: "common-practice" },
  /** GMAW short arc: ten times the wire, mm. */
  wireMm: { perUnit: 10, unit: "L/min", source: "common-practice" },
  /** GMAW: the nozzle bore, mm. */
  boreMm: { perUnit: 1, unit: "L/min", source: "common-practice" },
} as const satisfies Record<string, { perUnit: number; unit: PrintedFlowUnit; source: SourceKey }>;

/** Lowest flows found sound in still air; shown beside the window, they never lower it. */
export const stillAirStudies = {
  pureArgonGmaw: { low: 9, high: 9, unit: "L/min", source: "bitharas-2018" },
  mixedGasGmaw: { low: 5, high: 5, unit: "L/min", source: "bitharas-2018" },
  productionGmaw: { low: 12, high: 12, unit: "L/min", source: "beyer-2013" },
} as const satisfies Record<string, PrintedFlow>;

/** Everything that moves a window, with its source. Factors apply to [minimum, target, maximum]. */
export const allowances = {
  /** Pulsed GMAW on aluminium wants at least this. */
  pulsedAluminiumLeast: { low: 35, high: 35, unit: "CFH", source: "common-practice" },
  /** GMAW and FCAW-G out of position: added to the flow. */
  outOfPosition: { low: 10, high: 20, unit: "CFH", source: "modern-welding-2020" },
  /** Same cup with a gas lens: 10 to 20 % less; the upper limit stays. */
  gasLens: { factors: [0.8, 0.85, 1], source: "common-practice" },
  /** Pure helium against argon; mixtures in proportion to the helium fraction. */
  helium: { factors: [2, 2.5, 3], source: "helium-memory" },
  /** Draught: nothing up to calm, then the minimum rises in proportion, to `most` at the limit. */
  draught: { calmMs: 0.25, most: 0.4, source: "own-estimate" },
  /** Edge and outside-corner joints: target moves this part of the way to the maximum. */
  openJoint: { share: 0.5, source: "own-estimate" },
  /** Gas-cooled GTAW torch above this current: target rises by `perAmp` of itself an ampere. */
  torchCooling: { aboveAmps: 200, source: "common-practice" },
  torchCoolingStep: { perAmp: 0.002, source: "own-estimate" },
  /** What stands in for a table's limit that the procedure's own target contradicts. */
  aroundTarget: { factors: [0.8, 1, 1.5], source: "aws-d1.1-essential-flow" },
} as const satisfies Record<string, { source: SourceKey } & Record<string, unknown>>;

/** Draught above which the answer is a screen, not gas, m/s. */
export const draughtLimits = {
  GTAW: { mostMs: 1, source: "common-practice" },
  GMAW: { mostMs: 2.2, source: "aws-d1.1-draught" },
} as const satisfies Record<string, { mostMs: number; source: SourceKey }>;

/** The nozzle: bore of a cup, limit of a laminar pipe, how far a bare cup's calm core reaches. */
export const nozzleFacts = {
  cupStepMm: { value: 25.4 / 16, source: "cup-numbers" },
  laminarReynolds: { value: 2300, source: "round-pipe" },
  bareCupCoreMm: { value: (3 / 8) * 25.4, source: "common-practice" },
  /** With a gas lens the electrode may stick out 2 to 3 times as far. */
  lensReach: { value: 2, source: "common-practice" },
} as const satisfies Record<string, { value: number; source: SourceKey }>;

/** Seconds of gas before and after the arc. */
export const gasTimes = {
  preflow: { lowS: 0.2, highS: 1, source: "common-practice" },
  /** GTAW: 1 s for each 10 A, at least 8 s. */
  postflowGtaw: { secondsPerAmp: 0.1, leastS: 8, source: "common-practice" },
  /** GTAW above `torchCooling`: up to this many times as long. */
  postflowHotTorch: { factor: 1.5, source: "own-estimate" },
  postflowGmaw: { lowS: 0.5, highS: 1, source: "common-practice" },
  titaniumColdC: { value: 425, source: "titanium-memory" },
} as const satisfies Record<string, { source: SourceKey } & Record<string, unknown>>;

/** Oxygen wanted behind the root (ppm) and what people purge by habit (volumes). */
export const purgeTargets = {
  stainless: { low: 50, high: 100, source: "common-practice" },
  titanium: { low: 20, high: 50, source: "common-practice" },
  limit: { low: 5000, high: 5000, source: "api-rp-582" },
  practiceVolumes: { low: 5, high: 10, source: "common-practice" },
  airPpm: { low: 209_460, high: 209_460, source: "well-mixed" },
} as const satisfies Record<string, { low: number; high: number; source: SourceKey }>;

/** Every table above, for the test that no number stands without a source. */
export const demandTables: Readonly<Record<string, unknown>> = {
  gtawByCup,
  gtawByThickness,
  gmawByThickness,
  gmawByMode,
  rulesOfThumb,
  stillAirStudies,
  allowances,
  draughtLimits,
  nozzleFacts,
  gasTimes,
  purgeTargets,
};
