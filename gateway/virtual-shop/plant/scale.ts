import type { PlantDevice } from "./config.ts";
import type { LowSide } from "./low-side.ts";
import type { PlantInputs } from "./plant-interface.ts";

/**
 * What the device's scale shows, in its own unit. A float in a tube hangs where drag equals weight:
 * density × velocity² is the same for the scale's gas and for the gas in use.
 * @param flow through the device, mol/s
 */
export function indicatedReading(
  device: PlantDevice,
  flow: number,
  bodyPa: number,
  hosePa: number,
  flowK: number,
  airPa: number,
): number {
  switch (device.kind) {
    case "variable-area": {
      const lpm = (Math.max(0, flow) * 60) / device.molPerScaleLitre;
      const tubePa = device.valve === "after-tube" ? bodyPa : hosePa;
      const ideal =
        lpm *
        Math.sqrt(
          (device.gasDensity / device.scaleGasDensity) *
            (device.scalePa / tubePa) *
            (flowK / device.scaleK),
        );
      return ideal * device.floatFactor * device.unitsPerLpm;
    }
    case "orifice-gauge":
      // The dial starts at its pin: at rest without pressure it shows nothing.
      return Math.max(0, bodyPa - airPa < 5000 ? 0 : bodyPa * device.unitsPerPa);
    case "metered":
      return ((Math.max(0, flow) * 60) / device.molPerUnit) * device.unitsPerLpm;
  }
}

/** Needle at which `miss(flow)` is zero; `miss` rises with flow. The widest needle if it never is. */
export function needleFor(
  low: LowSide,
  inputs: PlantInputs,
  drop: number,
  inletPa: number,
  airPa: number,
  miss: (flow: number) => number,
): number {
  let least = 0;
  let most = 0.2;
  const needleAt = (flow: number): number => {
    const bodyPa = low.outletAt(flow, inputs, inletPa, airPa);
    return low.conductanceFor(drop, flow, bodyPa, low.hoseAt(drop, flow, airPa));
  };
  for (let k = 0; k < 50; k += 1) {
    const flow = 0.5 * (least + most);
    if (miss(flow) < 0) least = flow;
    else most = flow;
  }
  const needle = needleAt(0.5 * (least + most));
  const device = low.deviceOf(drop);
  const widest = device.kind === "orifice-gauge" ? device.orifice : device.needleWideOpen;
  return Math.min(needle, widest);
}

/** Gauge delivery setting at which the outlet is `bodyPa` (absolute) at this flow, Pa. */
export function settingFor(
  low: LowSide,
  inputs: PlantInputs,
  bodyPa: number,
  flow: number,
  inletPa: number,
  airPa: number,
): number {
  let setting = inputs.deliveryPa;
  const trial: PlantInputs = { ...inputs };
  for (let k = 0; k < 8; k += 1) {
    trial.deliveryPa = setting;
    setting = Math.max(1000, setting + bodyPa - low.outletAt(flow, trial, inletPa, airPa));
  }
  return setting;
}
