import type { PlantConfig, PlantFill } from "./config.ts";
import { CylinderNode, closedPressure } from "./cylinder-node.ts";
import { type PlantGas, type PlantGasName, plantGas } from "./gas.ts";
import { LowSide } from "./low-side.ts";
import type { DropInputs, DropTruth, Plant, PlantInputs, PlantTruth } from "./plant-interface.ts";
import { indicatedReading, needleFor, settingFor } from "./scale.ts";
import { PlantSensorSet, type SensorReadings } from "./sensors.ts";
import { airC, airPressurePa, sunShare } from "./weather.ts";

class SimulatedPlant implements Plant {
  readonly config: PlantConfig;
  readonly gas: PlantGas;
  readonly inputs: PlantInputs;
  readonly sensors: PlantSensorSet;
  readonly low: LowSide;
  private readonly seed: number;
  private readonly cylinder: CylinderNode;
  private readonly dropTruths: DropTruth[];
  private readonly out: PlantTruth;
  t: number;
  private airK = 293.15;
  private airPa = 101325;
  private sun = 0;
  private weatherT = Number.NEGATIVE_INFINITY;
  private highMol = 0;
  private highPa = 0;
  private valveWasOpen = true;
  private substep = 0.05;
  private inputMark = 0;
  private cylinderLeakMol = 0;

  constructor(config: PlantConfig, seed: number) {
    this.config = config;
    this.seed = seed;
    this.t = config.startUnixS;
    this.gas = plantGas(config.gas);
    this.inputs = {
      cylinderValveOpen: true,
      deliveryPa: config.regulator.deliveryPa,
      screwBackedOff: false,
      airC: null,
      sunShare: null,
      drops: config.drops.map((drop) => ({
        torchOpen: false,
        arc: false,
        needle:
          drop.device.kind === "orifice-gauge"
            ? drop.device.orifice
            : 0.3 * drop.device.needleWideOpen,
        nozzleShare: 1,
      })),
    };
    this.readAir(true);
    this.cylinder = new CylinderNode(this.gas, config.cylinder, this.airK);
    this.cylinder.fill(config.fill, this.airK);
    this.low = new LowSide(this.gas, config, this.airK, this.airPa);
    this.highPa = this.cylinder.state.pressurePa;
    this.dropTruths = config.drops.map(() => ({
      deviceMolPerS: 0,
      deviceLpm: 0,
      torchMolPerS: 0,
      torchLpm: 0,
      bodyPa: 0,
      hosePa: 0,
      indicated: 0,
    }));
    this.out = {
      t: 0,
      contentMol: 0,
      contentLitres: 0,
      contentKg: 0,
      usableLitres: 0,
      cylinderPa: 0,
      highSidePa: 0,
      airPa: 0,
      gasK: 0,
      wallK: 0,
      bodyK: 0,
      airK: 0,
      hoseK: 0,
      flowK: 0,
      liquidShare: 0,
      snowMol: 0,
      cylinderLeakLpm: 0,
      lineLeakLpm: 0,
      seatLeakLpm: 0,
      leftMol: 0,
      drops: this.dropTruths,
    };
    this.sensors = new PlantSensorSet(config, seed);
    this.low.settle(this.inputs, this.highPa, this.airPa);
    this.sensors.settle(
      this.highPa - this.airPa,
      this.low,
      this.airPa,
      this.cylinder.wallK,
      this.airK,
    );
  }

  private readAir(force: boolean): void {
    if (!force && this.t - this.weatherT < 5 && this.inputs.airC === null) return;
    this.weatherT = this.t;
    const weather = this.config.weather;
    this.airK = 273.15 + (this.inputs.airC ?? airC(weather, this.seed, this.t));
    this.airPa = airPressurePa(weather, this.seed, this.t);
    this.sun = sunShare(weather, this.seed, this.t);
  }

  /** A number that changes whenever somebody touches the plant, to resolve what follows finely. */
  private markInputs(): number {
    const inputs = this.inputs;
    let mark = (inputs.cylinderValveOpen ? 1 : 0) + (inputs.screwBackedOff ? 2 : 0);
    mark += inputs.deliveryPa * 1e-3;
    for (let i = 0; i < inputs.drops.length; i += 1) {
      const drop = inputs.drops[i] as DropInputs;
      mark += (i + 1) * (drop.torchOpen ? 7.3 : 0) + drop.needle * 1e9 + drop.nozzleShare * 3.1;
    }
    return mark;
  }

  step(dtS: number): void {
    const mark = this.markInputs();
    if (mark !== this.inputMark) {
      this.inputMark = mark;
      this.substep = 0.05;
    }
    const end = this.t + dtS;
    let left = dtS;
    while (left > 1e-9) {
      const most = this.longestStep();
      let h = Math.min(this.substep, most);
      if (h >= left) h = left;
      else if (2 * h > left) h = 0.5 * left;
      this.advance(h);
      left -= h;
      this.substep = this.substep < 10 ? this.substep * 1.5 : 15;
    }
    this.t = end;
  }

  /** Longest step that still resolves what is going on, s. */
  private longestStep(): number {
    if (!this.low.flowing) return 15;
    if (this.valveWasOpen) return 1;
    const bodyPa = this.low.bodyPa;
    // A closed high side of a few millilitres empties into the line within a blink at the end.
    return this.highPa > 1.001 * bodyPa || bodyPa > 1.001 * this.airPa ? 0.1 : 1;
  }

  private advance(h: number): void {
    const { config, cylinder } = this;
    this.readAir(false);
    const sun = this.inputs.sunShare ?? this.sun;
    const open = this.inputs.cylinderValveOpen;
    if (open !== this.valveWasOpen) {
      // Opening the valve joins the high side with the cylinder; closing it traps what is there.
      this.valveWasOpen = open;
      if (open) cylinder.join(this.highMol, this.airK);
      else this.highMol = cylinder.trap(config.regulator.highSideM3, this.low.bodyK);
    }
    const sourceMol = open ? cylinder.n : this.highMol;
    const drawn = this.low.advance(
      h,
      this.inputs,
      this.highPa,
      this.airPa,
      this.airK,
      sun * config.weather.sunHoseK,
      sun * config.weather.sunBodyK,
      cylinder.state.outletEnthalpy,
      sourceMol,
    );
    let leaked = config.cylinder.leakMolPerSPa * this.highPa * h;
    if (this.highPa < this.airPa * 1.02) leaked = 0;
    // A small volume leaks down to the air's pressure, and no further.
    const volumeM3 = open ? cylinder.volumeM3 : config.regulator.highSideM3;
    const left = this.gas.densityAt(open ? cylinder.wallK : this.low.bodyK, this.airPa) * volumeM3;
    leaked = Math.min(leaked, Math.max(sourceMol - drawn - left, 0));
    this.cylinderLeakMol += leaked;
    const out = drawn + leaked;
    cylinder.advance(h, open ? out : 0, this.airK, sun * config.weather.sunCylinderW);
    if (open) this.highPa = cylinder.state.pressurePa;
    else {
      this.highMol -= out;
      this.highPa = closedPressure(this.gas, this.highMol, volumeM3, this.low.bodyK);
    }
    this.sensors.advance(
      h,
      this.highPa - this.airPa,
      this.low,
      this.airPa,
      cylinder.wallK,
      this.airK,
    );
    this.t += h;
  }

  readSensors(drop = 0): SensorReadings {
    return this.sensors.read(drop, this.t, this.inputs.drops[drop]?.arc ?? false);
  }

  truth(residualGaugePa = 0): PlantTruth {
    const out = this.out;
    const toLpm = 60000 / this.gas.metric20Density;
    const { low, cylinder } = this;
    const { state } = cylinder;
    out.t = this.t;
    out.contentMol = cylinder.n;
    out.contentLitres = (cylinder.n * 1000) / this.gas.metric20Density;
    out.contentKg = cylinder.n * this.gas.molarMassKg;
    const kept =
      this.gas.densityAt(state.temperatureK, residualGaugePa + this.airPa) * cylinder.volumeM3;
    out.usableLitres = (Math.max(0, cylinder.n - kept) * 1000) / this.gas.metric20Density;
    out.cylinderPa = state.pressurePa;
    out.highSidePa = this.highPa;
    out.airPa = this.airPa;
    out.gasK = state.temperatureK;
    out.wallK = cylinder.wallK;
    out.bodyK = low.bodyK;
    out.airK = this.airK;
    out.hoseK = low.hoseK;
    out.flowK = low.flowK;
    out.liquidShare = state.liquidShare;
    out.snowMol = low.snow;
    out.cylinderLeakLpm = this.config.cylinder.leakMolPerSPa * this.highPa * toLpm;
    out.lineLeakLpm = low.lineLeakMolPerS * toLpm;
    out.seatLeakLpm = low.seatLeakMolPerS * toLpm;
    out.leftMol = low.leftMol + this.cylinderLeakMol;
    for (let i = 0; i < this.dropTruths.length; i += 1) {
      const d = this.dropTruths[i] as DropTruth;
      d.deviceMolPerS = low.deviceFlow[i] as number;
      d.deviceLpm = d.deviceMolPerS * toLpm;
      d.torchMolPerS = low.torchFlow[i] as number;
      d.torchLpm = d.torchMolPerS * toLpm;
      d.bodyPa = low.bodyPa;
      d.hosePa = low.hosePa[i] as number;
      const device = (this.config.drops[i] as PlantConfig["drops"][number]).device;
      d.indicated = indicatedReading(
        device,
        d.deviceMolPerS,
        d.bodyPa,
        d.hosePa,
        low.flowK,
        this.airPa,
      );
    }
    return out;
  }

  setReading(reading: number, drop = 0): void {
    const device = (this.config.drops[drop] as PlantConfig["drops"][number]).device;
    const input = this.inputs.drops[drop] as DropInputs;
    if (device.kind === "orifice-gauge") {
      const bodyPa = reading / device.unitsPerPa;
      const flow = this.low.flowAt(drop, bodyPa, input.needle, this.airPa);
      this.deliver(bodyPa, flow);
      return;
    }
    input.needle = needleFor(this.low, this.inputs, drop, this.highPa, this.airPa, (flow) => {
      const bodyPa = this.low.outletAt(flow, this.inputs, this.highPa, this.airPa);
      const hosePa = this.low.hoseAt(drop, flow, this.airPa);
      return indicatedReading(device, flow, bodyPa, hosePa, this.low.flowK, this.airPa) - reading;
    });
  }

  setTrueFlow(lpm: number, drop = 0): void {
    const device = (this.config.drops[drop] as PlantConfig["drops"][number]).device;
    const input = this.inputs.drops[drop] as DropInputs;
    const flow = (lpm * this.gas.metric20Density) / 60000;
    if (device.kind === "orifice-gauge") {
      this.setDeliveryFor(lpm, drop);
      return;
    }
    input.needle = needleFor(this.low, this.inputs, drop, this.highPa, this.airPa, (q) => q - flow);
  }

  setDeliveryFor(lpm: number, drop = 0): void {
    const { needle } = this.inputs.drops[drop] as DropInputs;
    const flow = (lpm * this.gas.metric20Density) / 60000;
    const bodyPa = this.low.bodyFor(drop, flow, needle, this.airPa);
    this.deliver(bodyPa, flow);
  }

  /** Turns the regulator's screw for this pressure in its body at this flow, mol/s. */
  private deliver(bodyPa: number, flow: number): void {
    const { low, inputs, highPa, airPa } = this;
    inputs.deliveryPa = settingFor(low, inputs, bodyPa, flow, highPa, airPa);
  }

  regulatorLimitPa(lpm: number, drop = 0): number {
    const device = (this.config.drops[drop] as PlantConfig["drops"][number]).device;
    const widest = device.kind === "orifice-gauge" ? device.orifice : device.needleWideOpen;
    const flow = (lpm * this.gas.metric20Density) / 60000;
    const bodyPa = this.low.bodyFor(drop, flow, widest, this.airPa);
    return this.low.inletFor(flow, bodyPa) - this.airPa;
  }

  contentMol(): number {
    const trapped = this.inputs.cylinderValveOpen ? 0 : this.highMol;
    return this.cylinder.n + trapped + this.low.contentMol;
  }

  swap(fill: PlantFill): void {
    this.cylinder.fill(fill, this.airK);
    if (this.inputs.cylinderValveOpen) this.highPa = this.cylinder.state.pressurePa;
    this.substep = 0.05;
  }
}

/** A plant in its first state: cylinder at air temperature, line at rest under the regulator's lock-up. */
export function createPlant(config: PlantConfig, seed: number): Plant {
  return new SimulatedPlant(config, seed);
}

export type { DropInputs, DropTruth, Plant, PlantInputs, PlantTruth } from "./plant-interface.ts";
export type { PlantConfig, PlantFill, PlantGasName, SensorReadings };
