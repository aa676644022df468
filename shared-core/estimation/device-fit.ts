import type { DeviceFit } from "../documents/hardware.ts";
import { ATMOSPHERE_PA } from "../units/factors.ts";

/** A figure of a bench test with its 1 sigma. */
export interface Fitted {
  value: number;
  sigma: number;
}

/** What a bench test found about a flow device, in SI. A figure is null where the test did not give it. */
export interface FittedDevice {
  /** Gauge pressure in the tube at which its scale is true, Pa. */
  scalePa: Fitted | null;
  /** True flow above what the scale means, as a share. */
  scaleError: Fitted | null;
  /** Gauge line pressure at full cylinder and the test's flow, Pa. */
  deliveryPa: Fitted | null;
  /** Rise of the line for each Pa that the cylinder falls; negative: it sags. */
  supplyEffect: Fitted | null;
  /** Fall of the line for each L/min (metric20) more, Pa. */
  droopPaPerLpm: Fitted | null;
  /** Choked flow for each Pa of absolute line pressure at 20 °C, L/min (metric20). */
  lpmPerPa: Fitted | null;
  /** Reading of the scale at which the conductance was found; null where nobody wrote it down. */
  reading: number | null;
  /** Relative 1 sigma of the flow of the device as it stood: conductance and delivery together. */
  flowSigma: number | null;
  /** Relative 1 sigma of the flow that a scale reading means: scale pressure and error together. */
  scaleSigma: number | null;
}

/** Parameters of `flowDevice.fit` with the unit each must have, and that unit in SI. */
const known: Record<string, { unit: string; si: number }> = {
  "scale-pressure": { unit: "bar", si: 1e5 },
  "scale-error": { unit: "%", si: 0.01 },
  "delivery-pressure": { unit: "bar", si: 1e5 },
  "supply-pressure-effect": { unit: "bar/bar", si: 1 },
  droop: { unit: "bar/(L/min)", si: 1e5 },
  "restriction-conductance": { unit: "L/min/bar", si: 1e-5 },
};

/** Reads a saved bench fit; parameters of unknown name or another unit are left out. Null without fit. */
export function readDeviceFit(fit: DeviceFit | undefined): FittedDevice | null {
  if (fit === undefined) return null;
  // The last of a name is the device as it stands.
  const find = (name: string): number =>
    fit.parameters.findLastIndex((one) => one.name === name && one.unit === known[name]?.unit);
  const get = (name: string): Fitted | null => {
    const one = fit.parameters[find(name)];
    const si = known[name]?.si ?? 1;
    if (one === undefined || !Number.isFinite(one.value) || !Number.isFinite(one.sigma))
      return null;
    return { value: one.value * si, sigma: one.sigma * si };
  };
  const shared = (a: string, b: string): number => {
    const covariance = fit.covariance?.[find(a)]?.[find(b)] ?? 0;
    return covariance * (known[a]?.si ?? 1) * (known[b]?.si ?? 1);
  };
  const scalePa = get("scale-pressure");
  const scaleError = get("scale-error");
  const deliveryPa = get("delivery-pressure");
  const lpmPerPa = get("restriction-conductance");
  const conductance = lpmPerPa !== null && lpmPerPa.value > 0 ? lpmPerPa : null;
  return {
    scalePa,
    scaleError,
    deliveryPa,
    supplyEffect: get("supply-pressure-effect"),
    droopPaPerLpm: get("droop"),
    lpmPerPa: conductance,
    reading: fit.reading !== undefined && fit.reading > 0 ? fit.reading : null,
    flowSigma:
      conductance === null || deliveryPa === null
        ? null
        : together(
            conductance.sigma / conductance.value,
            deliveryPa.sigma / (deliveryPa.value + ATMOSPHERE_PA),
            shared("restriction-conductance", "delivery-pressure") /
              (conductance.value * (deliveryPa.value + ATMOSPHERE_PA)),
          ),
    // True flow goes with (1 + error) and with one over the root of the scale's absolute pressure.
    scaleSigma:
      scaleError === null
        ? null
        : scalePa === null
          ? scaleError.sigma
          : together(
              scaleError.sigma,
              scalePa.sigma / (2 * (scalePa.value + ATMOSPHERE_PA)),
              -shared("scale-error", "scale-pressure") / (2 * (scalePa.value + ATMOSPHERE_PA)),
            ),
  };
}

/** 1 sigma of a sum of two that hang together; never less than a tenth of the larger. */
function together(a: number, b: number, covariance: number): number {
  const square = a * a + b * b + 2 * covariance;
  return Math.sqrt(Math.max(square, (0.1 * Math.max(a, b)) ** 2));
}
