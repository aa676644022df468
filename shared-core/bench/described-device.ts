import type { DeviceFit, FlowDeviceDocument } from "../documents/hardware.ts";
import type { StationDocument } from "../documents/station.ts";
import type { Composition } from "../gases/composition.ts";
import { ATMOSPHERE_PA, BAR_PA } from "../units/factors.ts";
import {
  type BenchDevice,
  benchDevice,
  type DeviceState,
  type ParameterName,
} from "./device-model.ts";

/** Molar mass of argon, for which back pressures and droops are usual, kg/mol. */
const ARGON_KG_PER_MOL = 0.039_948;

/**
 * A device as its description says, with what a bench test found of it where there is one: the
 * bench's model at what is usual, without any row. The line stands at its stated pressure while
 * `flowMolPerS` passes; only a bench test says how it droops beside that.
 *
 * @throws PhysicsError for impossible figures
 */
export function describedDevice(
  station: StationDocument,
  flowDevice: FlowDeviceDocument,
  gas: Composition,
  flowMolPerS: (molPerM3: number) => number,
): { device: BenchDevice; state: DeviceState } {
  const device = benchDevice(station, flowDevice, gas, []);
  device.referenceMolPerS = flowMolPerS(device.standardMolPerM3);
  const values: Record<ParameterName, number> = {
    "scale-pressure": 0,
    "scale-error": 0,
    "delivery-pressure": 0,
    "supply-pressure-effect": 0,
    droop: 0,
    "critical-ratio": 0,
    "back-pressure": 0,
    "gas-cooling": 0,
    "line-gauge-offset": 0,
    "meter-shared": 0,
  };
  for (const prior of device.priors) values[prior.name] = prior.mean;
  values.droop = 0;
  // Hose and torch resist with density times flow squared.
  values["back-pressure"] *= device.mixture.molarMassKgPerMol / ARGON_KG_PER_MOL;
  if (flowDevice.fit) Object.assign(values, foundValues(device, flowDevice.fit));
  return {
    device,
    state: { values, setting: 0, setAtPa: device.fullPa, setMolPerS: device.referenceMolPerS },
  };
}

/** Parameters of a fit, from the units of a description into the model's own. */
function foundValues(device: BenchDevice, fit: DeviceFit): Partial<Record<ParameterName, number>> {
  const found: Partial<Record<ParameterName, number>> = {};
  const perLpm = device.standardMolPerM3 / 60_000 / BAR_PA;
  for (const { name, value } of fit.parameters) {
    if (name === "scale-pressure") found[name] = Math.log(value * BAR_PA + ATMOSPHERE_PA);
    else if (name === "scale-error") found[name] = value / 100;
    else if (name === "delivery-pressure") {
      found[name] = Math.log(value * BAR_PA + device.atmospherePa);
    } else if (name === "supply-pressure-effect") found[name] = value;
    else if (name === "droop") found[name] = value / perLpm;
  }
  return found;
}
