import type { PlantConfig, PressureSensorConfig, TemperatureSensorConfig } from "./config.ts";
import type { LowSide } from "./low-side.ts";
import { createRandom, type Random } from "./random.ts";

/** Injected sensor faults. */
export type SensorFault = "open" | "short" | "stuck" | "noisy" | "fallen-off" | null;

/** Fault codes in readings: 0 none, 1 open circuit, 2 short circuit, 3 no answer. */
export interface SensorReadings {
  /** Gauge Pa; meaningless where its fault code is not 0, NaN where none is fitted. */
  cylinderPa: number;
  cylinderFault: number;
  linePa: number;
  lineFault: number;
  /** °C; NaN where none is fitted. */
  wallC: number;
  wallFault: number;
  bodyC: number;
  airC: number;
  arc: boolean;
}

/** A pressure transducer: lag, offset and span within its class, drift, hysteresis, noise, steps. */
export class PressureChannel {
  readonly config: PressureSensorConfig;
  fault: SensorFault = null;
  /** Fixed error at zero and at full range, Pa. Settable, for sensors at the edge of their class. */
  zeroErrorPa: number;
  spanErrorPa: number;
  private lagged = 0;
  private loop = 0;
  private bodyC = 20;
  private frozen = Number.NaN;
  private readonly random: Random;

  constructor(config: PressureSensorConfig, random: Random) {
    this.config = config;
    this.random = random;
    // 0.85: the class also covers drift and hysteresis.
    const limit = 0.85 * config.classLimit * config.rangePa;
    this.zeroErrorPa = limit * (config.zeroShare ?? random.between(-1, 1));
    this.spanErrorPa = limit * (config.spanShare ?? random.between(-1, 1));
  }

  settle(pressurePa: number, bodyC: number): void {
    this.lagged = pressurePa;
    this.loop = pressurePa;
    this.bodyC = bodyC;
  }

  advance(h: number, pressurePa: number, bodyC: number): void {
    this.lagged += (pressurePa - this.lagged) * (h / (h + this.config.lagS));
    this.bodyC = bodyC;
    const half = this.config.hysteresis * this.config.rangePa;
    if (this.lagged > this.loop + half) this.loop = this.lagged - half;
    else if (this.lagged < this.loop - half) this.loop = this.lagged + half;
  }

  /** Gauge Pa with all errors; `code` is left in `faultCode`. */
  read(): number {
    const c = this.config;
    const share = this.loop / c.rangePa;
    const fixed = this.zeroErrorPa * (1 - share) + this.spanErrorPa * share;
    const drift = c.driftPerK * c.rangePa * (this.bodyC - 20);
    const noise = c.noisePa * (this.fault === "noisy" ? 15 : 1) * this.random.normal();
    let value = this.loop + fixed + drift + noise;
    if (c.stepPa > 0) value = Math.round(value / c.stepPa) * c.stepPa;
    if (this.fault === "stuck") {
      if (Number.isNaN(this.frozen)) this.frozen = value;
      return this.frozen;
    }
    this.frozen = Number.NaN;
    return value;
  }

  get faultCode(): number {
    return this.fault === "open" ? 1 : this.fault === "short" ? 2 : 0;
  }
}

/** A digital temperature probe on steel: lag, offset, sixteenths of a degree. */
export class TemperatureChannel {
  readonly config: TemperatureSensorConfig;
  fault: SensorFault = null;
  offsetK: number;
  private lagged = 20;
  private frozen = Number.NaN;
  private agedS = 0;
  private readonly random: Random;

  constructor(config: TemperatureSensorConfig, random: Random) {
    this.config = config;
    this.random = random;
    this.offsetK = config.offsetK ?? random.between(-0.5, 0.5);
  }

  settle(steelC: number, airC: number): void {
    this.lagged = airC + this.config.contact * (steelC - airC);
  }

  advance(h: number, steelC: number, airC: number): void {
    const contact = this.fault === "fallen-off" ? 0 : this.config.contact;
    const target = airC + contact * (steelC - airC);
    this.lagged += (target - this.lagged) * (h / (h + this.config.lagS));
    this.agedS += h;
  }

  read(): number {
    const c = this.config;
    // Where it starts in its turn hangs on its own offset, so that no two probes swing together.
    const turns = this.agedS / (c.draughtPeriodS ?? 5000) + 7 * this.offsetK;
    const draught = (c.draughtK ?? 0) * Math.sin(2 * Math.PI * turns);
    const value = this.lagged + draught + this.offsetK + c.noiseK * this.random.normal();
    const stepped = c.stepK > 0 ? Math.round(value / c.stepK) * c.stepK : value;
    if (this.fault === "stuck") {
      if (Number.isNaN(this.frozen)) this.frozen = stepped;
      return this.frozen;
    }
    this.frozen = Number.NaN;
    return stepped;
  }
}

/** All sensors of a supply and its drops. */
export class PlantSensorSet {
  readonly cylinder: PressureChannel;
  /** One a drop; null where none is fitted. */
  readonly lines: (PressureChannel | null)[];
  readonly wall: TemperatureChannel | null;
  readonly body: TemperatureChannel | null;
  readonly air: TemperatureChannel | null;
  private readonly taps: boolean[];
  private readonly out: SensorReadings;

  constructor(config: PlantConfig, seed: number) {
    const sensors = config.sensors;
    this.cylinder = new PressureChannel(sensors.cylinder, createRandom(seed, 1));
    const line = sensors.line;
    this.lines = config.drops.map((_, i) =>
      line ? new PressureChannel(line, createRandom(seed, 10 + i)) : null,
    );
    const probe = (c: TemperatureSensorConfig | null, stream: number) =>
      c ? new TemperatureChannel(c, createRandom(seed, stream)) : null;
    this.wall = probe(sensors.wall, 2);
    this.body = probe(sensors.body, 3);
    this.air = probe(sensors.air, 4);
    this.taps = config.drops.map((drop) => drop.tap === "hose");
    this.out = {
      cylinderPa: 0,
      cylinderFault: 0,
      linePa: 0,
      lineFault: 0,
      wallC: 0,
      wallFault: 0,
      bodyC: 0,
      airC: 0,
      arc: false,
    };
  }

  private tapPa(drop: number, low: LowSide): number {
    return this.taps[drop] ? (low.hosePa[drop] as number) : low.bodyPa;
  }

  settle(highGaugePa: number, low: LowSide, airPa: number, wallK: number, airK: number): void {
    const bodyC = low.bodyK - 273.15;
    this.cylinder.settle(highGaugePa, bodyC);
    for (let i = 0; i < this.lines.length; i += 1)
      this.lines[i]?.settle(this.tapPa(i, low) - airPa, bodyC);
    this.wall?.settle(wallK - 273.15, airK - 273.15);
    this.body?.settle(bodyC, airK - 273.15);
    this.air?.settle(low.hoseK - 273.15, airK - 273.15);
  }

  advance(
    h: number,
    highGaugePa: number,
    low: LowSide,
    airPa: number,
    wallK: number,
    airK: number,
  ): void {
    const bodyC = low.bodyK - 273.15;
    const air = airK - 273.15;
    this.cylinder.advance(h, highGaugePa, bodyC);
    for (let i = 0; i < this.lines.length; i += 1)
      this.lines[i]?.advance(h, this.tapPa(i, low) - airPa, bodyC);
    this.wall?.advance(h, wallK - 273.15, air);
    this.body?.advance(h, bodyC, air);
    this.air?.advance(h, low.hoseK - 273.15, air);
  }

  read(drop: number, _tS: number, arc: boolean): SensorReadings {
    const out = this.out;
    const line = this.lines[drop] ?? null;
    out.cylinderPa = this.cylinder.read();
    out.cylinderFault = this.cylinder.faultCode;
    out.linePa = line ? line.read() : Number.NaN;
    out.lineFault = line ? line.faultCode : 0;
    out.wallC = this.wall ? this.wall.read() : Number.NaN;
    out.wallFault = this.wall && this.wall.fault === "open" ? 3 : 0;
    out.bodyC = this.body ? this.body.read() : Number.NaN;
    out.airC = this.air ? this.air.read() : Number.NaN;
    out.arc = arc;
    return out;
  }
}
