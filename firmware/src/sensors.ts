/** All of a node's senses, measured at their own pace, and what they say at this turn. */
import {
  type Burst,
  createChannel,
  measure,
  noFault,
  type PressureChannel,
  readBurst,
  replacesValue,
} from "./measure.ts";
import type { Clock } from "./moment.ts";
import type { NodeConfig } from "./node-config.ts";
import type { Ports } from "./ports.ts";
import { nothing, type Row } from "./sampler.ts";
import { createScale, readScale, type Scale } from "./scale.ts";
import { createProbe, type Probe, readProbe } from "./temperatures.ts";

const supplyChannel = 3;
const temperatureEveryS = 5;

export interface Sensors {
  ports: Ports;
  line: PressureChannel;
  cylinder: PressureChannel;
  probes: Probe[];
  scale: Scale;
  scaleS: number;
  supply: Burst;
  /** Latest supply of the transducers, µV; 0 where the converter does not answer. */
  supplyUv: number;
  supplyS: number;
  cylinderS: number;
  temperatureS: number;
  /** Cylinder pressure of the last second; `nothing` where there is none. */
  cylinderPa: number;
  /** 1, 0, or `nothing` where no switch is fitted; a change counts when seen twice. */
  arc: number;
  arcSeen: number;
  /** One digit a channel, as packs carry them. */
  faults: string;
}

export function createSensors(ports: Ports): Sensors {
  return {
    ports,
    line: createChannel(1),
    cylinder: createChannel(2),
    probes: [createProbe(1), createProbe(2), createProbe(3)],
    scale: createScale(),
    scaleS: -1,
    supply: { answered: false, meanUv: 0, spreadUv: 0, flat: false },
    supplyUv: 0,
    supplyS: -1,
    cylinderS: -1,
    temperatureS: -1000,
    cylinderPa: nothing,
    arc: nothing,
    arcSeen: nothing,
    faults: "000000",
  };
}

function readSupply(sensors: Sensors, uptimeS: number): void {
  if (sensors.supplyS === uptimeS && sensors.supplyUv > 0) return;
  sensors.supplyS = uptimeS;
  readBurst(sensors.ports, supplyChannel, sensors.supply);
  sensors.supplyUv = sensors.supply.answered ? Math.floor(sensors.supply.meanUv + 0.5) : 0;
}

function readCylinder(sensors: Sensors, config: NodeConfig, uptimeS: number): void {
  if (sensors.cylinderS === uptimeS) return;
  sensors.cylinderS = uptimeS;
  const { cylinder } = sensors;
  const known =
    config.cylinder.fitted &&
    measure(sensors.ports, cylinder, config.cylinder, sensors.supplyUv, uptimeS);
  sensors.cylinderPa = known ? cylinder.pressurePa : nothing;
}

function readArc(sensors: Sensors, config: NodeConfig): void {
  const seen = config.arc ? sensors.ports.readArc() : undefined;
  const value = seen === undefined ? nothing : seen ? 1 : 0;
  if (value === nothing || value === sensors.arcSeen) sensors.arc = value;
  sensors.arcSeen = value;
}

function faultDigit(fitted: boolean, fault: number): string {
  return string.format("%d", fitted ? fault : noFault);
}

function gatherFaults(sensors: Sensors, config: NodeConfig): string {
  const { probes } = sensors;
  return (
    faultDigit(config.line.fitted, sensors.line.fault) +
    faultDigit(config.cylinder.fitted, sensors.cylinder.fault) +
    faultDigit(probes[0].fitted, probes[0].fault) +
    faultDigit(probes[1].fitted, probes[1].fault) +
    faultDigit(probes[2].fitted, probes[2].fault) +
    faultDigit(sensors.scale.there && config.scale.kgPerCount !== 0, sensors.scale.fault)
  );
}

/** Measures what is due this turn and fills `row`. Returns true where a channel's fault changed. */
export function sense(sensors: Sensors, config: NodeConfig, clock: Clock, row: Row): boolean {
  const { uptimeS } = clock;
  readSupply(sensors, uptimeS);
  readCylinder(sensors, config, uptimeS);
  const known =
    config.line.fitted &&
    measure(sensors.ports, sensors.line, config.line, sensors.supplyUv, uptimeS);
  readArc(sensors, config);
  const warm = uptimeS - sensors.temperatureS >= temperatureEveryS;
  if (warm) {
    sensors.temperatureS = uptimeS;
    for (const probe of sensors.probes) readProbe(sensors.ports, probe);
  }
  if (sensors.scaleS !== uptimeS) {
    sensors.scaleS = uptimeS;
    readScale(sensors.ports, sensors.scale, config.scale);
  }
  row.s = uptimeS;
  row.ms = clock.uptimeMs;
  row.linePa = known ? sensors.line.pressurePa : nothing;
  row.cylinderPa = sensors.cylinderPa;
  row.arc = sensors.arc;
  const faults = gatherFaults(sensors, config);
  const changed = faults !== sensors.faults;
  sensors.faults = faults;
  return changed;
}

/** Temperature as a pack carries it: two decimals, "" where there is none. */
export function temperatureText(probe: Probe): string {
  const known = probe.fitted && probe.known && probe.fault === noFault;
  return known ? string.format("%.2f", probe.celsius) : "";
}

/** True where a pressure channel that should have a value has none. */
export function isBlind(sensors: Sensors, config: NodeConfig): boolean {
  return (
    (config.line.fitted && replacesValue(sensors.line.fault)) ||
    (config.cylinder.fitted && replacesValue(sensors.cylinder.fault))
  );
}

export function fittedProbes(sensors: Sensors): number {
  let count = 0;
  for (const probe of sensors.probes) count += probe.fitted ? 1 : 0;
  return count;
}
