import { dialPressurePa, dialReadingM3PerS } from "../flow/orifice-gauge.ts";
import { flowFraction, molarFlowMolPerS, type Restriction } from "../flow/restriction.ts";
import { massFlowFactor } from "../flow/variable-area.ts";
import type { Mixture } from "../gases/mixture.ts";
import { throttle } from "../regulator/throttling.ts";
import { ATMOSPHERE_PA, BAR_PA } from "../units/factors.ts";
import { standardDensityMolPerM3 } from "../units/reference-conditions.ts";
import {
  type BenchDevice,
  type DeviceState,
  type Operating,
  type Surroundings,
  setsPressure,
} from "./device-model.ts";

/** Gauge pressure at the regulator's outlet for a flow, Pa; may be negative where it cannot be. */
export function outletGaugePa(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  molPerS: number,
): number {
  const { values } = state;
  if (setsPressure(device)) {
    return (
      state.setting +
      values["supply-pressure-effect"] * (state.setAtPa - at.cylinderPa) -
      values.droop * (molPerS - state.setMolPerS)
    );
  }
  return (
    Math.exp(values["delivery-pressure"]) -
    device.atmospherePa +
    values["supply-pressure-effect"] * (device.fullPa - at.cylinderPa) -
    values.droop * (molPerS - device.referenceMolPerS)
  );
}

/** Temperature in tube and restriction: the regulator's body gives back most of the drop, K. */
export function flowingK(state: DeviceState, at: Surroundings): number {
  return Math.max(150, at.temperatureK - state.values["gas-cooling"] * at.throttlingDropK);
}

/** Temperature drop by throttling from a cylinder pressure (gauge Pa) to the line, K. */
export function throttlingDropK(
  mixture: Mixture,
  cylinderPa: number,
  temperatureK: number,
): number {
  const linePa = 4.5 * BAR_PA;
  if (cylinderPa + ATMOSPHERE_PA <= linePa) return 0;
  const after = throttle(mixture, cylinderPa + ATMOSPHERE_PA, temperatureK, linePa);
  // Where the gas would condense the drop ends; more than this no body lets through.
  return after.ok ? Math.min(LARGEST_DROP_K, temperatureK - after.value.temperatureK) : 0;
}

const LARGEST_DROP_K = 60;

/** Absolute pressure behind the restriction while a flow passes. */
export function hosePressurePa(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  molPerS: number,
): number {
  const back = Math.max(0, state.values["back-pressure"]);
  return at.atmospherePa + at.meterDropPa + back * (molPerS / device.referenceMolPerS) ** 2;
}

/** The restriction as set: a valve's conductance, or the orifice that the dial belongs to. */
export function restrictionOf(device: BenchDevice, state: DeviceState): Restriction {
  const conductance = setsPressure(device)
    ? (device.dialConductance ?? 0) * (1 + state.values["scale-error"])
    : Math.exp(state.setting);
  return {
    law: "iso-6358",
    criticalRatio: Math.min(0.9, Math.max(0.05, state.values["critical-ratio"])),
    sonicConductanceM3PerSPa: conductance,
  };
}

/** Where a falling function meets its argument: false position, Illinois variant. */
function crossing(passes: (flow: number) => number): number {
  let low = 0;
  let above = passes(0);
  let high = Math.max(above, 1e-9);
  let below = passes(high) - high;
  let middle = high;
  for (let k = 0, side = 0; k < 100 && high - low > 1e-14 * high; k++) {
    middle = below < above ? low + ((high - low) * above) / (above - below) : (low + high) / 2;
    const value = passes(middle) - middle;
    if (Math.abs(value) <= 1e-14 * high) break;
    if (value > 0) {
      low = middle;
      above = value;
      if (side === 1) below /= 2;
      side = 1;
    } else {
      high = middle;
      below = value;
      if (side === -1) above /= 2;
      side = -1;
    }
  }
  return middle;
}

/** Flow, pressures and reading of the device at one cylinder pressure. */
export function operate(device: BenchDevice, state: DeviceState, at: Surroundings): Operating {
  const restriction = restrictionOf(device, state);
  const passes = (molPerS: number): number =>
    molarFlowMolPerS(
      restriction,
      Math.max(1, outletGaugePa(device, state, at, molPerS) + at.atmospherePa),
      hosePressurePa(device, state, at, molPerS),
      flowingK(state, at),
    );
  const molPerS = Math.max(crossing(passes), 1e-12);
  return { molPerS, ...readingAt(device, state, at, molPerS) };
}

/** Pressures and reading where a flow is known to pass. */
export function readingAt(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  molPerS: number,
): Omit<Operating, "molPerS"> {
  const deliveryPa = Math.max(1, outletGaugePa(device, state, at, molPerS) + at.atmospherePa);
  const hosePa = hosePressurePa(device, state, at, molPerS);
  return {
    deliveryPa,
    hosePa,
    choked: flowFraction(restrictionOf(device, state), hosePa / deliveryPa) > 0.999,
    indicatedM3PerS: indicated(device, state, at, molPerS, deliveryPa, hosePa),
  };
}

function indicated(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  molPerS: number,
  deliveryPa: number,
  hosePa: number,
): number {
  const scaleError = 1 + state.values["scale-error"];
  if (device.dial) return dialReadingM3PerS(device.dial, deliveryPa - at.atmospherePa);
  if (!device.tube) return molPerS / device.standardMolPerM3 / scaleError;
  const scale = { ...device.tube, pressurePa: Math.exp(state.values["scale-pressure"]) };
  const tubePa = device.valve === "after-tube" ? deliveryPa : hosePa;
  const factor = massFlowFactor(scale, {
    mixture: device.mixture,
    pressurePa: Math.max(tubePa, 1000),
    temperatureK: flowingK(state, at),
  });
  const scaleKgPerM3 =
    standardDensityMolPerM3(scale.mixture, "metric20") * scale.mixture.molarMassKgPerMol;
  return (molPerS * device.mixture.molarMassKgPerMol) / (factor * scaleError) / scaleKgPerM3;
}

/**
 * True flow at which the device shows a reading, mol/s, whatever its valve stands at; null where no
 * flow does.
 */
export function flowAtReading(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  indicatedM3PerS: number,
): number | null {
  const dial = device.dial;
  if (dial !== null) {
    if (indicatedM3PerS <= dialReadingM3PerS(dial, 0)) return null;
    const deliveryPa = dialPressurePa(dial, indicatedM3PerS) + at.atmospherePa;
    return crossing((molPerS) =>
      molarFlowMolPerS(
        restrictionOf(device, state),
        deliveryPa,
        hosePressurePa(device, state, at, molPerS),
        flowingK(state, at),
      ),
    );
  }
  const shows = (molPerS: number) => readingAt(device, state, at, molPerS).indicatedM3PerS;
  let low = 1e-9;
  let high = 4 * indicatedM3PerS * device.standardMolPerM3 + 1e-6;
  if (shows(high) < indicatedM3PerS) return null;
  for (let k = 0; k < 60; k++) {
    const middle = (low + high) / 2;
    if (shows(middle) < indicatedM3PerS) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
