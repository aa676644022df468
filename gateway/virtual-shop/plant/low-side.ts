import type { PlantConfig, PlantDrop, PlantRegulator } from "./config.ts";
import { gasConstant, type PlantGas } from "./gas.ts";
import { flowShare, restrictionFlow } from "./network.ts";
import type { DropInputs, PlantInputs } from "./plant-interface.ts";
import { Seat } from "./seat.ts";

/** Critical ratio of torch valve and gooseneck, and of a small leak. */
const torchRatio = 0.35;
const leakRatio = 0.4;
/** Share of the way from throttled gas to body temperature that the gas makes inside the body. */
const bodyExchange = 0.75;

/** Where a rising function passes 0 between `low` and `high`, by halving; leaves it evaluated there. */
function risingRoot(low: number, high: number, f: (x: number) => number): number {
  let below = low;
  let above = high;
  for (let k = 0; k < 50; k += 1) {
    const middle = 0.5 * (below + above);
    if (f(middle) > 0) above = middle;
    else below = middle;
  }
  f(below);
  return below;
}

/**
 * The low side of a supply: regulator body (with header), and for each drop a restriction, a hose
 * and a torch. Two kinds of volumes, one implicit (backward Euler) step for all of them, moles kept
 * exactly: what enters and leaves is what the books say.
 */
export class LowSide {
  readonly hosePa: Float64Array;
  readonly deviceFlow: Float64Array;
  readonly torchFlow: Float64Array;
  bodyPa: number;
  bodyK: number;
  hoseK: number;
  /** Temperature of the gas at the restriction. */
  flowK: number;
  snow = 0;
  flowing = false;
  lineLeakMolPerS = 0;
  seatLeakMolPerS = 0;
  leftMol = 0;
  private readonly gas: PlantGas;
  private readonly regulator: PlantRegulator;
  private readonly drops: PlantDrop[];
  private readonly seat: Seat;
  private readonly cp: number;
  private bodyMol = 0;
  private readonly hoseMol: Float64Array;
  /** Scratch of the Newton step: residual and slopes of each hose. */
  private readonly f: Float64Array;
  private readonly fBody: Float64Array;
  private readonly fHose: Float64Array;
  private readonly step: Float64Array;
  private slopeUp = 0;
  private slopeDown = 0;
  private deviceByBody = 0;
  private deviceByHose = 0;
  private balance = 0;
  private balanceByHose = 0;

  constructor(gas: PlantGas, config: PlantConfig, airK: number, airPa: number) {
    this.gas = gas;
    this.regulator = config.regulator;
    this.drops = config.drops;
    this.seat = new Seat(config.regulator);
    this.cp = gas.lowPressureCp;
    const n = config.drops.length;
    this.hosePa = new Float64Array(n).fill(airPa);
    this.deviceFlow = new Float64Array(n);
    this.torchFlow = new Float64Array(n);
    this.hoseMol = new Float64Array(n);
    this.f = new Float64Array(n);
    this.fBody = new Float64Array(n);
    this.fHose = new Float64Array(n);
    this.step = new Float64Array(n);
    this.bodyPa = airPa;
    this.bodyK = airK;
    this.hoseK = airK;
    this.flowK = airK;
  }

  /** Puts the whole line at rest under the regulator's lock-up pressure. */
  settle(inputs: PlantInputs, inletPa: number, airPa: number): void {
    const lock = this.seat.lockUpPa(inputs, inletPa, airPa, this.bodyK);
    this.bodyPa = Math.max(airPa, Math.min(lock, inletPa));
    this.bodyMol = this.moles(this.bodyPa, this.regulator.bodyM3, this.flowK);
    for (let i = 0; i < this.drops.length; i += 1) {
      this.hosePa[i] = this.bodyPa;
      this.hoseMol[i] = this.moles(this.bodyPa, (this.drops[i] as PlantDrop).hoseM3, this.hoseK);
    }
  }

  private moles(pressurePa: number, volumeM3: number, temperatureK: number): number {
    const density = pressurePa / (gasConstant * temperatureK);
    return volumeM3 * density * (1 - this.gas.virial(temperatureK) * density);
  }

  /** All gas on the low side, mol. */
  get contentMol(): number {
    let sum = this.bodyMol + this.snow;
    for (let i = 0; i < this.hoseMol.length; i += 1) sum += this.hoseMol[i] as number;
    return sum;
  }

  /** Restriction flow with its slopes by both pressures left in `slopeUp` and `slopeDown`. */
  private flowWithSlopes(c: number, b: number, upPa: number, downPa: number, root: number): number {
    const forward = upPa >= downPa;
    const high = forward ? upPa : downPa;
    const r = forward ? downPa / upPa : upPa / downPa;
    const k = c * root;
    const share = flowShare(r, b);
    let slope = 0;
    if (r > 0.995) {
      const x = (0.995 - b) / (1 - b);
      slope = -Math.sqrt(1 - x * x) / 0.005;
    } else if (r > b) {
      slope = -(r - b) / ((1 - b) * (1 - b) * share);
    }
    const byHigh = k * (share - r * slope);
    const byLow = k * slope;
    this.slopeUp = forward ? byHigh : -byLow;
    this.slopeDown = forward ? byLow : -byHigh;
    return forward ? k * high * share : -k * high * share;
  }

  /**
   * What one hose has too much after `h` seconds at these pressures, mol, left in `balance` with its
   * slope by the hose's pressure, and the device's flow with its slopes.
   *
   * @returns the device's flow, mol/s
   */
  private hoseBalance(
    h: number,
    inputs: PlantInputs,
    i: number,
    bodyPa: number,
    hosePa: number,
    airPa: number,
    flowRoot: number,
    hoseRoot: number,
  ): number {
    const drop = this.drops[i] as PlantDrop;
    const input = inputs.drops[i] as DropInputs;
    const q = this.flowWithSlopes(input.needle, drop.restrictionRatio, bodyPa, hosePa, flowRoot);
    this.deviceByBody = this.slopeUp;
    this.deviceByHose = this.slopeDown;
    this.deviceFlow[i] = q;
    let out = 0;
    let outByHose = 0;
    if (input.torchOpen) {
      const torch = drop.torchMolPerSPa * input.nozzleShare;
      out = this.flowWithSlopes(torch, torchRatio, hosePa, airPa, hoseRoot);
      outByHose = this.slopeUp;
    }
    this.torchFlow[i] = out;
    if (drop.hoseLeakMolPerSPa > 0 && hosePa > airPa) {
      out += this.flowWithSlopes(drop.hoseLeakMolPerSPa, leakRatio, hosePa, airPa, hoseRoot);
      outByHose += this.slopeUp;
    }
    const rtHose = gasConstant * this.hoseK;
    const bHose = this.gas.virial(this.hoseK) / rtHose;
    const kHose = drop.hoseM3 / rtHose;
    this.balance =
      kHose * hosePa * (1 - bHose * hosePa) - (this.hoseMol[i] as number) - h * (q - out);
    this.balanceByHose = kHose * (1 - 2 * bHose * hosePa) - h * (this.deviceByHose - outByHose);
    return q;
  }

  /**
   * One step of `h` seconds. Returns the moles taken through the seat.
   * @param sourceMol what the source holds
   */
  advance(
    h: number,
    inputs: PlantInputs,
    inletPa: number,
    airPa: number,
    airK: number,
    sunK: number,
    sunBodyK: number,
    inletEnthalpy: number,
    sourceMol: number,
  ): number {
    const regulator = this.regulator;
    const seat = this.seat;
    const lastFlow = seat.flow;
    this.advanceTemperatures(h, inletEnthalpy, lastFlow, airK, sunK, sunBodyK);
    const lock = seat.lockUpPa(inputs, inletPa, airPa, this.bodyK);
    // Half of what lies above the outlet's pressure: no step draws the source below the line.
    const above = inletPa > this.bodyPa ? 1 - this.bodyPa / inletPa : 0;
    const mostMolPerS = (0.5 * sourceMol * above) / h;

    const rtBody = gasConstant * this.flowK;
    const bBody = this.gas.virial(this.flowK) / rtBody;
    const kBody = regulator.bodyM3 / rtBody;
    const flowRoot = Math.sqrt(293.15 / this.flowK);
    const hoseRoot = Math.sqrt(293.15 / this.hoseK);
    const sublimed = this.sublime(h);
    const reliefPa = airPa + regulator.reliefPa;
    const drops = this.drops;
    const { hosePa, f, fBody, fHose, step } = this;

    let pb = this.bodyPa;
    let relief = 0;
    for (let iteration = 0; iteration < 25; iteration += 1) {
      seat.evaluate(pb, lock, inletPa, mostMolPerS, inputs.screwBackedOff);
      relief = pb > reliefPa ? (pb - reliefPa) * 1e-7 : 0;
      let fb = kBody * pb * (1 - bBody * pb) - this.bodyMol - sublimed - h * (seat.flow - relief);
      let slope = kBody * (1 - 2 * bBody * pb) - h * (seat.slope - (pb > reliefPa ? 1e-7 : 0));
      for (let i = 0; i < drops.length; i += 1) {
        const ph = hosePa[i] as number;
        const q = this.hoseBalance(h, inputs, i, pb, ph, airPa, flowRoot, hoseRoot);
        const qByBody = this.deviceByBody;
        const qByHose = this.deviceByHose;
        fBody[i] = -h * qByBody;
        fHose[i] = this.balanceByHose;
        f[i] = this.balance;
        fb += h * q;
        // Schur complement: the hose's own step is eliminated from the body's equation.
        slope += h * qByBody - (h * qByHose * (fBody[i] as number)) / (fHose[i] as number);
        step[i] = h * qByHose;
        fb -= ((step[i] as number) * (f[i] as number)) / (fHose[i] as number);
      }
      let db = -fb / slope;
      if (db > pb) db = pb;
      else if (db < -0.5 * pb) db = -0.5 * pb;
      let largest = Math.abs(db) / pb;
      for (let i = 0; i < drops.length; i += 1) {
        const ph = hosePa[i] as number;
        let dh = -((f[i] as number) + (fBody[i] as number) * db) / (fHose[i] as number);
        if (dh > ph) dh = ph;
        else if (dh < -0.5 * ph) dh = -0.5 * ph;
        const moved = Math.abs(dh) / ph;
        if (moved > largest) largest = moved;
        hosePa[i] = ph + dh;
      }
      pb += db;
      if (largest < 1e-8) {
        this.bodyPa = pb;
        return this.book(h, inputs, airPa, relief, sublimed, hoseRoot);
      }
    }
    // Where the line fills up to an inlet that is lower than lock-up, Newton's steps swing to and fro.
    const most = Math.max(this.bodyPa, inletPa, ...hosePa);
    this.bodyPa = risingRoot(0.01 * airPa, most, (body) => {
      seat.evaluate(body, lock, inletPa, mostMolPerS, inputs.screwBackedOff);
      relief = body > reliefPa ? (body - reliefPa) * 1e-7 : 0;
      let out = relief - seat.flow;
      for (let i = 0; i < drops.length; i += 1) {
        hosePa[i] = risingRoot(0.01 * airPa, most, (hose) => {
          this.hoseBalance(h, inputs, i, body, hose, airPa, flowRoot, hoseRoot);
          return this.balance;
        });
        out += this.deviceFlow[i] as number;
      }
      return kBody * body * (1 - bBody * body) - this.bodyMol - sublimed + h * out;
    });
    return this.book(h, inputs, airPa, relief, sublimed, hoseRoot);
  }

  /** Books the step's flows: moles move, none is made. */
  private book(
    h: number,
    inputs: PlantInputs,
    airPa: number,
    relief: number,
    sublimed: number,
    hoseRoot: number,
  ): number {
    const seat = this.seat;
    const snowed = this.snowFrom(h, seat.flow);
    this.snow += snowed - sublimed;
    this.bodyMol += h * (seat.flow - relief) + sublimed - snowed;
    this.leftMol += h * relief;
    this.lineLeakMolPerS = 0;
    let busy = seat.flow - seat.leak > 3e-5;
    for (let i = 0; i < this.drops.length; i += 1) {
      const drop = this.drops[i] as PlantDrop;
      const ph = this.hosePa[i] as number;
      const leak =
        drop.hoseLeakMolPerSPa > 0 && ph > airPa
          ? drop.hoseLeakMolPerSPa * hoseRoot * ph * flowShare(airPa / ph, leakRatio)
          : 0;
      const q = this.deviceFlow[i] as number;
      const out = (this.torchFlow[i] as number) + leak;
      this.lineLeakMolPerS += leak;
      this.bodyMol -= h * q;
      this.hoseMol[i] = (this.hoseMol[i] as number) + h * (q - out);
      this.leftMol += h * out;
      if ((inputs.drops[i] as DropInputs).torchOpen) busy = true;
    }
    this.seatLeakMolPerS = seat.leak;
    this.flowing = busy;
    return h * seat.flow;
  }

  private advanceTemperatures(
    h: number,
    inletEnthalpy: number,
    flow: number,
    airK: number,
    sunK: number,
    sunBodyK: number,
  ): void {
    const regulator = this.regulator;
    let heatW = 0;
    let targetK = this.bodyK;
    if (flow > 1e-6) {
      const throttledK = this.gas.throttledK(inletEnthalpy, this.bodyPa);
      heatW = flow * this.cp * bodyExchange * (this.bodyK - throttledK);
      targetK = Math.max(195, throttledK + bodyExchange * (this.bodyK - throttledK));
    }
    const heater = regulator.heaterW > 0 && this.bodyK < 308 ? regulator.heaterW : 0;
    const pull = regulator.bodyToAirWPerK * (airK + sunBodyK - this.bodyK) + heater - heatW;
    this.bodyK += (h * pull) / (regulator.bodyHeatJPerK + h * regulator.bodyToAirWPerK);
    if (this.bodyK < 190) this.bodyK = 190;
    // The gas in the narrow passages follows within seconds; the hose's wall takes a minute.
    this.flowK += (targetK - this.flowK) * (h / (h + 4));
    const hoseTargetK = airK + sunK + (flow > 1e-6 ? 0.15 * (this.flowK - airK) : 0);
    this.hoseK += (hoseTargetK - this.hoseK) * (h / (h + 60));
  }

  private snowFrom(h: number, flow: number): number {
    const room = this.regulator.snowMol - this.snow;
    if (room <= 0 || flow < 1e-5 || this.flowK > 240) return 0;
    return Math.min(room, 0.1 * flow * h, 0.2 * this.bodyMol);
  }

  private sublime(h: number): number {
    if (this.snow <= 0 || this.bodyK < 205) return 0;
    return this.snow * (1 - Math.exp((-h * (this.bodyK - 205)) / 20000));
  }

  /** Absolute outlet pressure that the regulator holds at this flow, Pa. */
  outletAt(flow: number, inputs: PlantInputs, inletPa: number, airPa: number): number {
    const lock = this.seat.lockUpPa(inputs, inletPa, airPa, this.bodyK);
    const kept = this.seat.flow;
    let low = 1000;
    let high = Math.max(lock, 1001);
    for (let k = 0; k < 60; k += 1) {
      const middle = 0.5 * (low + high);
      this.seat.evaluate(middle, lock, inletPa, Number.POSITIVE_INFINITY, false);
      if (this.seat.flow > flow) low = middle;
      else high = middle;
    }
    this.seat.flow = kept;
    return 0.5 * (low + high);
  }

  /** Absolute hose pressure that drives this flow out of the torch, Pa. */
  hoseAt(drop: number, flow: number, airPa: number): number {
    const c = (this.drops[drop] as PlantDrop).torchMolPerSPa;
    let low = airPa;
    let high = airPa + flow / c + 1e6;
    for (let k = 0; k < 60; k += 1) {
      const middle = 0.5 * (low + high);
      if (restrictionFlow(c, torchRatio, middle, airPa, this.hoseK) < flow) low = middle;
      else high = middle;
    }
    return 0.5 * (low + high);
  }

  /** Conductance that passes `flow` between these pressures, mol/s per Pa. */
  conductanceFor(drop: number, flow: number, bodyPa: number, hosePa: number): number {
    const b = (this.drops[drop] as PlantDrop).restrictionRatio;
    const share = hosePa < bodyPa ? flowShare(hosePa / bodyPa, b) : 0;
    return flow / (bodyPa * Math.max(share, 1e-3) * Math.sqrt(293.15 / this.flowK));
  }

  deviceOf(drop: number): PlantDrop["device"] {
    return (this.drops[drop] as PlantDrop).device;
  }

  /** Steady flow through one drop from this body pressure, mol/s. */
  flowAt(drop: number, bodyPa: number, needle: number, airPa: number): number {
    const b = (this.drops[drop] as PlantDrop).restrictionRatio;
    let low = 0;
    let high = restrictionFlow(needle, b, bodyPa, 0, this.flowK);
    for (let k = 0; k < 60; k += 1) {
      const middle = 0.5 * (low + high);
      const hosePa = this.hoseAt(drop, middle, airPa);
      if (restrictionFlow(needle, b, bodyPa, hosePa, this.flowK) > middle) low = middle;
      else high = middle;
    }
    return 0.5 * (low + high);
  }

  /** Inlet pressure at which the seat, wide open, passes this flow into `bodyPa`, Pa. */
  inletFor(flow: number, bodyPa: number): number {
    return this.seat.inletFor(flow, bodyPa);
  }

  /** Body pressure at which one drop passes this flow, Pa. */
  bodyFor(drop: number, flow: number, needle: number, airPa: number): number {
    let low = airPa;
    let high = 4e6;
    for (let k = 0; k < 60; k += 1) {
      const middle = 0.5 * (low + high);
      if (this.flowAt(drop, middle, needle, airPa) < flow) low = middle;
      else high = middle;
    }
    return 0.5 * (low + high);
  }
}
