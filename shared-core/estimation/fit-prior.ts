import { FIRST_DROP, type FilterState, setVariance, variance } from "./cylinder-filter.ts";
import type { SupplySetup } from "./engine.ts";
import type { FlowEstimate } from "./estimate.ts";
import { modelShare } from "./flow-figure.ts";
import { planSupply, type SupplyPlan } from "./plan.ts";

/** What a bench test's fit brings to a station: at once, and in the width of its interval. */

/** Gas-on for which the model's share is taken, s. */
const USED_S = 300;
/**
 * How well the cylinder alone tells a conductance after that (relative 1 sigma; from simulated stations,
 * `npm run accuracy`). A fit hides what the cylinder has taught besides: at least this is taken.
 */
const TAUGHT_SIGMA = 0.1;

/** A new fit differs from what was learnt by more sigma than this: the device was turned since. */
const SAME_DEVICE_SIGMA = 3;

/** Takes in the fits that came with a new description: each is a measurement of its conductance. */
export function takeFits(before: SupplyPlan, next: SupplyPlan, filter: FilterState): void {
  next.drops.forEach((drop, i) => {
    const old = before.drops[i]!.device.document?.fit;
    const { fit } = drop.device;
    if (fit === null || JSON.stringify(old) === JSON.stringify(drop.device.document?.fit)) return;
    const own = variance(filter, FIRST_DROP + i);
    const spread = own + drop.priorSigma ** 2;
    const away = drop.priorLogFlow - filter.x[FIRST_DROP + i]!;
    if (away * away > SAME_DEVICE_SIGMA ** 2 * spread) return;
    filter.x[FIRST_DROP + i] = filter.x[FIRST_DROP + i]! + (own / spread) * away;
    setVariance(filter, FIRST_DROP + i, (own / spread) * drop.priorSigma ** 2);
  });
}

/** A drop's description without its bench test. */
function withoutFit(setup: SupplySetup): SupplySetup {
  return {
    ...setup,
    stations: setup.stations.map((station) => {
      if (station.flowDevice?.fit === undefined) return station;
      const { fit: _fit, ...flowDevice } = station.flowDevice;
      return { ...station, flowDevice };
    }),
  };
}

export interface FitGain {
  /** The 95 % interval as it would be without the bench test, `metric20` L/min. */
  low: number;
  high: number;
  /** Width with the test over width without: 0.4 means that the interval shrank to 40 %. */
  widthRatio: number;
}

/**
 * By how much a bench test has narrowed the present flow's interval. What the fit brought is taken
 * out again as information (1/sigma²), and what would be believed without it put in its place.
 *
 * @returns null where the station has no fit, or its flow is not known or 0
 */
export function fitGain(setup: SupplySetup, station: string, flow: FlowEstimate): FitGain | null {
  const { lpm, low, high } = flow;
  if (lpm === null || low == null || high == null || !(low > 0) || !(high > low)) {
    return null;
  }
  const plan = planSupply(setup);
  const drop = plan.drops.find((one) => one.station.station === station);
  if (drop === undefined || drop.device.fit === null) return null;
  const plain = planSupply(withoutFit(setup)).drops[drop.index]!;
  const sigma = Math.log(high / low) / 3.92;
  // Water volume, line noise and settling are no part of the conductance.
  const other = plan.volumeSigma ** 2 + 0.004 ** 2;
  const share = modelShare(plan.drops.length, drop.station.sensors?.line ? USED_S : null);
  const own = Math.max((sigma ** 2 - other) / share, 1e-8);
  // Wider than the fit left it: a turned float made an end of what the test knew.
  const learnt = Math.max(1 / own - 1 / drop.priorSigma ** 2, 1 / TAUGHT_SIGMA ** 2);
  const ended = own > drop.priorSigma ** 2 * 1.2;
  const without = ended ? own : 1 / (learnt + 1 / plain.priorSigma ** 2);
  const wide = Math.max(Math.sqrt(share * without + other), sigma);
  return {
    low: lpm * Math.exp(-1.96 * wide),
    high: lpm * Math.exp(1.96 * wide),
    widthRatio: (high - low) / (lpm * (Math.exp(1.96 * wide) - Math.exp(-1.96 * wide))),
  };
}
