import type { PlantRegulator } from "./config.ts";
import { flowShare } from "./network.ts";
import type { PlantInputs } from "./plant-interface.ts";

/** Critical ratio of the open seat. */
const seatRatio = 0.3;

/** Linear part of the closing tail: it ends within half a minute. */
const softShare = 0.05;

/**
 * The regulator's seat: flow against outlet pressure. Falls off quadratically in the last part
 * before lock-up (the closing tail), and never passes more than the open seat can.
 */
export class Seat {
  /** Flow through the seat, leak included, mol/s, and its slope by outlet pressure. */
  flow = 0;
  slope = 0;
  leak = 0;
  private readonly regulator: PlantRegulator;

  constructor(regulator: PlantRegulator) {
    this.regulator = regulator;
  }

  /** Width of the closing tail, Pa. Reckoned each time: a regulator may be replaced. */
  private get width(): number {
    return Math.max(1, this.regulator.closingTail * this.regulator.lockUpPa);
  }

  private gain(width: number): number {
    const { lockUpPa: x, ratedMolPerS } = this.regulator;
    return (ratedMolPerS * (x + width)) / (x * (x + softShare * width));
  }

  /** Absolute outlet pressure at which the seat closes, Pa. */
  lockUpPa(inputs: PlantInputs, inletPa: number, airPa: number, bodyK: number): number {
    const r = this.regulator;
    const emptying = inletPa < r.sagFromPa ? 1 - inletPa / r.sagFromPa : 0;
    const cold = r.icingBelowC + 273.15 - bodyK;
    const ice = cold > 0 ? Math.max(0.3, 1 - r.icingPerK * cold) : 1;
    const gauge =
      (inputs.deliveryPa +
        r.lockUpPa +
        r.supplyEffect * (inletPa - r.ratedInletPa) -
        r.sagPa * emptying * emptying) *
      ice;
    return airPa + Math.max(0, gauge);
  }

  /** Inlet pressure at which the wide-open seat passes this flow (mol/s) into `outletPa`, Pa. */
  inletFor(flow: number, outletPa: number): number {
    let low = outletPa;
    let high = outletPa + (2 * flow) / this.regulator.seatMolPerSPa + 1e6;
    for (let k = 0; k < 60; k += 1) {
      const middle = 0.5 * (low + high);
      const most = this.regulator.seatMolPerSPa * middle * flowShare(outletPa / middle, seatRatio);
      if (most < flow) low = middle;
      else high = middle;
    }
    return 0.5 * (low + high);
  }

  /** Flow at this outlet pressure; `mostMolPerS` caps it. Leaves `flow`, `slope` and `leak`. */
  evaluate(
    outletPa: number,
    lockUpPa: number,
    inletPa: number,
    mostMolPerS: number,
    backedOff: boolean,
  ): void {
    const r = this.regulator;
    const ratio = outletPa / inletPa;
    if (!(ratio < 1)) {
      this.flow = 0;
      this.slope = 0;
      this.leak = 0;
      return;
    }
    const share = flowShare(ratio, seatRatio);
    let shareSlope = 0;
    if (ratio > 0.995) shareSlope = -share / (1 - ratio) / inletPa;
    else if (ratio > seatRatio)
      shareSlope = -(ratio - seatRatio) / ((1 - seatRatio) * (1 - seatRatio) * share) / inletPa;
    this.leak = r.seatLeakMolPerSPa * inletPa * share;
    this.flow = this.leak;
    this.slope = r.seatLeakMolPerSPa * inletPa * shareSlope;
    const x = lockUpPa - outletPa;
    if (x > 0 && !backedOff) {
      const w = this.width;
      const c = softShare * w;
      const gain = this.gain(w);
      const f = (gain * x * (x + c)) / (x + w);
      const fSlope = (-gain * (x * x + 2 * x * w + c * w)) / ((x + w) * (x + w));
      let m = r.seatMolPerSPa * inletPa * share;
      let mSlope = r.seatMolPerSPa * inletPa * shareSlope;
      if (m > mostMolPerS) {
        m = mostMolPerS;
        mSlope = 0;
      }
      const root = Math.sqrt(f * f + m * m);
      const cube = root * root * root;
      this.flow += (f * m) / root;
      this.slope += (m * m * m * fSlope + f * f * f * mSlope) / cube;
    }
  }
}
