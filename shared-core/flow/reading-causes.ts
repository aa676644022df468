import type { FlowDeviceDocument } from "../documents/hardware.ts";
import { type DevicePlan, planDevice } from "../estimation/device.ts";
import { GasModel } from "../estimation/gas-model.ts";
import type { Composition } from "../gases/composition.ts";
import { ATMOSPHERE_PA, BAR_PA, PSI_PA } from "../units/factors.ts";

/**
 * What can be behind a float, gauge or meter that shows something else than the pressures say, in
 * order of likelihood, each with the flow that it would mean. Advice for a person who goes and
 * looks; nothing else is decided by it.
 */

/** What the person saw, and what Leeward knows at that moment. */
export interface ReadingCase {
  device: FlowDeviceDocument;
  /** Gas on the label. */
  composition: Composition;
  /** In the unit of the device. */
  reading: number;
  /** What it should show, in the same unit. */
  should: number;
  /** True flow by the pressures, `metric20` L/min, with its 95 % interval. */
  flow: { lpm: number; low: number; high: number };
  /** Absolute pressure and temperature of the gas in the device. */
  tubePa: number;
  tubeK: number;
}

export type ReadingCauseName =
  | "read-at"
  | "tube"
  | "gas"
  | "tilt"
  | "stuck"
  | "leak"
  | "gauge"
  | "meter-gas"
  | "pressures";

export interface ReadingCause {
  cause: ReadingCauseName;
  /** Share of all causes weighed, 0 to 1. */
  share: number;
  /** True flow to the torch if this is the cause, `metric20` L/min. */
  lpm: number;
  /** `gas`: which one would explain it. */
  looksLike?: string;
  /** `tube`: what the tube or dial would have to be made for. */
  madeFor?: { gas?: string; gaugeBar?: number };
  /** `leak`: what is lost before the device, `metric20` L/min. */
  lostLpm?: number;
}

/** Gases that stand in welding shops (ISO 14175 designations). */
const shopGases: readonly { name: string; composition: Composition }[] = [
  { name: "I1-Ar", composition: { Ar: 1 } },
  { name: "M20-ArC-8", composition: { Ar: 0.92, CO2: 0.08 } },
  { name: "M21-ArC-18", composition: { Ar: 0.82, CO2: 0.18 } },
  { name: "M21-ArC-25", composition: { Ar: 0.75, CO2: 0.25 } },
  { name: "C1-C", composition: { CO2: 1 } },
  { name: "I3-ArHe-25", composition: { Ar: 0.75, He: 0.25 } },
  { name: "I3-ArHe-50", composition: { Ar: 0.5, He: 0.5 } },
  { name: "I2-He", composition: { He: 1 } },
  { name: "N1-N", composition: { N2: 1 } },
];

/** Where the figures below come from, unless one says otherwise. */
export const readingCausesSource = "bench-practice";

/** Pressures commonly stamped on welding tubes, psig (common practice, no source). */
const stampedPsi = [20, 25, 30, 50, 80];

/**
 * How often each is behind it before anything is compared (common practice, no source): reading
 * the wrong part of the float and a wrong tube are everyday, a wrong gas or a leak is not.
 */
const prior: Readonly<Record<ReadingCauseName, number>> = {
  "read-at": 0.3,
  tube: 0.2,
  tilt: 0.13,
  stuck: 0.12,
  gas: 0.1,
  leak: 0.1,
  gauge: 0.4,
  "meter-gas": 0.3,
  pressures: 0.05,
};

/** Half a ball is easily 1 to 2 CFH (common practice): 0.5 to 1 L/min. */
const HALF_BALL_LPM = 0.75;
const CFH_PER_LPM = 2.119;
/** Nobody hangs a tube at more than about 45°; by then its float reads 19 % high. */
const MOST_TILT = 1 / Math.sqrt(Math.cos(Math.PI / 4));
/** A ball partly feels viscosity: gas factors hold to 10 % at best, 1 sigma about 6 %. */
const FACTOR_SIGMA = 0.06;
/** How wide a scale a stuck float can stand on, as a logarithm. */
const STUCK_WIDTH = 2.3;
const LEAK_SCALE = 0.4;
const PRESSURES_SIGMA = 0.3;

/** A gas takes longer to describe than to ask, and the same ones come again and again. */
const models = new Map<string, GasModel>();

function modelOf(composition: Composition): GasModel {
  const key = JSON.stringify(composition);
  let model = models.get(key);
  if (!model) {
    model = new GasModel(composition);
    models.set(key, model);
  }
  return model;
}

/** Causes, the likeliest first. Empty where the device is too near what it should show to say more. */
export function readingCauses(seen: ReadingCase): ReadingCause[] {
  const { device, reading, should, flow } = seen;
  if (!(reading >= 0) || !(should > 0) || !(flow.lpm > 0)) return [];
  const measured = planDevice(device, modelOf(seen.composition), ATMOSPHERE_PA);
  const weigh = weigher(seen);
  const byReading = lpmByReading(measured, seen);
  const all: (Omit<ReadingCause, "share"> & { weight: number })[] = [];
  const add = (cause: Omit<ReadingCause, "share">, likelihood: number) => {
    all.push({ ...cause, weight: prior[cause.cause] * likelihood });
  };
  const truth = flow.lpm;
  if (device.kind === "variable-area") {
    add({ cause: "read-at", lpm: truth }, weigh.shift(HALF_BALL_LPM));
    add({ cause: "tilt", lpm: truth }, weigh.between(0, Math.log(MOST_TILT)));
    add({ cause: "stuck", lpm: truth }, 1 / STUCK_WIDTH);
    const gas = best(otherGases(seen), weigh.at);
    if (gas) add({ cause: "gas", lpm: truth, looksLike: gas.name }, gas.likelihood);
    const tube = best(otherTubes(device, seen), weigh.at);
    if (tube) add({ cause: "tube", lpm: truth, madeFor: tube.madeFor }, tube.likelihood);
  } else if (device.kind === "orifice-gauge") {
    // A dial shows a pressure: which gas passes changes nothing on it.
    add({ cause: "gauge", lpm: truth }, 1 / STUCK_WIDTH);
    const dial = best(otherDials(device, seen), weigh.at);
    if (dial) add({ cause: "tube", lpm: truth, madeFor: dial.madeFor }, dial.likelihood);
  } else {
    add({ cause: "meter-gas", lpm: truth }, 1 / STUCK_WIDTH);
  }
  if (reading < should) {
    // What leaves before the device, the device does not see: the torch gets what it shows.
    const lostLpm = Math.max(0, truth - byReading);
    add({ cause: "leak", lpm: byReading, lostLpm }, weigh.below(LEAK_SCALE));
  }
  add({ cause: "pressures", lpm: byReading }, weigh.wide(PRESSURES_SIGMA));
  const total = all.reduce((sum, { weight }) => sum + weight, 0);
  return all
    .map(({ weight, ...cause }) => ({ ...cause, share: total > 0 ? weight / total : 0 }))
    .sort((a, b) => b.share - a.share);
}

/** True flow that the device itself would mean, `metric20` L/min. */
function lpmByReading(device: DevicePlan, seen: ReadingCase): number {
  const molPerS = device.trueFlow(seen.reading, seen.tubePa, seen.tubeK);
  const should = device.trueFlow(seen.should, seen.tubePa, seen.tubeK);
  // Held against what it should show, so that only the difference counts.
  return molPerS === null || should === null || should <= 0
    ? seen.flow.lpm * (seen.reading / seen.should)
    : seen.flow.lpm * (molPerS / should);
}

interface Candidate {
  /** Reading with it over the reading that should be. */
  ratio: number;
}

function otherGases(seen: ReadingCase): (Candidate & { name: string })[] {
  const label = modelOf(seen.composition);
  const molPerS = (seen.flow.lpm / 60_000) * label.standardMolPerM3;
  const base = shown(seen.device, seen.composition, molPerS, seen);
  if (base === null) return [];
  return shopGases.flatMap(({ name, composition }) => {
    const other = shown(seen.device, composition, molPerS, seen);
    return other === null || isSame(composition, seen.composition)
      ? []
      : [{ name, ratio: other / base }];
  });
}

function otherTubes(
  device: Extract<FlowDeviceDocument, { kind: "variable-area" }>,
  seen: ReadingCase,
): (Candidate & { madeFor: NonNullable<ReadingCause["madeFor"]> })[] {
  const molPerS = (seen.flow.lpm / 60_000) * modelOf(seen.composition).standardMolPerM3;
  const base = shown(device, seen.composition, molPerS, seen);
  if (base === null) return [];
  const found: (Candidate & { madeFor: NonNullable<ReadingCause["madeFor"]> })[] = [];
  const add = (other: FlowDeviceDocument, madeFor: NonNullable<ReadingCause["madeFor"]>) => {
    const reading = shown(other, seen.composition, molPerS, seen);
    if (reading !== null) found.push({ madeFor, ratio: reading / base });
  };
  for (const psi of stampedPsi) {
    const gaugeBar = (psi * PSI_PA) / BAR_PA;
    if (Math.abs(gaugeBar - device.scaleBar) > 0.1) {
      add({ ...device, scaleBar: gaugeBar }, { gaugeBar });
    }
  }
  for (const { name, composition } of shopGases) {
    if (isSame(composition, device.scaleGas)) continue;
    add({ ...device, scaleGas: composition }, { gas: name });
  }
  return found;
}

function otherDials(
  device: Extract<FlowDeviceDocument, { kind: "orifice-gauge" }>,
  seen: ReadingCase,
): (Candidate & { madeFor: NonNullable<ReadingCause["madeFor"]> })[] {
  const molPerS = (seen.flow.lpm / 60_000) * modelOf(seen.composition).standardMolPerM3;
  // Only a hole of a known size ties a dial's print to its gas.
  if (device.orificeMm === undefined) return [];
  const base = shown(device, seen.composition, molPerS, seen);
  if (base === null) return [];
  return shopGases.flatMap(({ name, composition }) => {
    if (isSame(composition, device.scaleGas)) return [];
    const other = shown({ ...device, scaleGas: composition }, seen.composition, molPerS, seen);
    return other === null ? [] : [{ madeFor: { gas: name }, ratio: other / base }];
  });
}

function shown(
  device: FlowDeviceDocument,
  gas: Composition,
  molPerS: number,
  seen: ReadingCase,
): number | null {
  const plan = planDevice(device, modelOf(gas), ATMOSPHERE_PA);
  const reading = plan.indicated(molPerS, seen.tubePa, seen.tubeK);
  return reading !== null && reading > 0 && Number.isFinite(reading) ? reading : null;
}

function isSame(a: Composition, b: Composition): boolean {
  const symbols = new Set([...Object.keys(a), ...Object.keys(b)] as (keyof Composition)[]);
  return [...symbols].every((symbol) => Math.abs((a[symbol] ?? 0) - (b[symbol] ?? 0)) < 0.02);
}

function best<T extends Candidate>(
  candidates: readonly T[],
  likelihoodAt: (ratio: number) => number,
): (T & { likelihood: number }) | null {
  let found: (T & { likelihood: number }) | null = null;
  for (const candidate of candidates) {
    const likelihood = likelihoodAt(candidate.ratio);
    if (!found || likelihood > found.likelihood) found = { ...candidate, likelihood };
  }
  return found;
}

/** Densities over the logarithm of reading over should, given what neither is known better than. */
function weigher(seen: ReadingCase) {
  const { reading, should, flow, device } = seen;
  const half = (device.readingUnit === "CFH" ? CFH_PER_LPM : 1) * 0.25;
  const floor = 0.02 * should;
  const x = Math.log(Math.max(reading, floor) / should);
  const flowSigma = (flow.high - flow.low) / (2 * 1.96 * flow.lpm);
  const sigma = Math.hypot(flowSigma, half / should, FACTOR_SIGMA);
  const normal = (gap: number, s: number) =>
    Math.exp(-(gap ** 2) / (2 * s ** 2)) / (s * Math.sqrt(2 * Math.PI));
  return {
    at: (ratio: number) => normal(x - Math.log(ratio), sigma),
    /** Off by so much in litres a minute, up or down. */
    shift: (lpm: number) => {
      const by = lpm * (device.readingUnit === "CFH" ? CFH_PER_LPM : 1);
      const up = Math.log((should + by) / should);
      const down = Math.log(Math.max(should - by, floor) / should);
      const s = Math.hypot(flowSigma, half / should);
      return 0.5 * (normal(x - up, s) + normal(x - down, s));
    },
    between: (low: number, high: number) =>
      (phi((x - low) / sigma) - phi((x - high) / sigma)) / (high - low),
    below: (scale: number) => Math.exp(Math.min(0, x) / scale) / scale,
    wide: (s: number) => normal(x, Math.hypot(s, sigma)),
  };
}

/** Standard normal distribution function, by the logistic approximation good to 1 in 100. */
function phi(z: number): number {
  return 1 / (1 + Math.exp(-1.702 * z));
}
