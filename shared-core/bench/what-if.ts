import { demandWindow } from "../demand/index.ts";
import type { StationDocument } from "../documents/station.ts";
import { PhysicsError } from "../errors.ts";
import type { DemandWindow } from "../estimation/estimate.ts";
import type { Composition } from "../gases/composition.ts";
import { BAR_PA, LITRE_PER_MINUTE_M3_PER_S } from "../units/factors.ts";
import { describedDevice } from "./described-device.ts";
import {
  type BenchDevice,
  type DeviceState,
  type Surroundings,
  setsPressure,
} from "./device-model.ts";
import { flowAtReading, readingAt, throttlingDropK } from "./device-operation.ts";
import { dialPressure } from "./dial-pressure.ts";
import { ROOM_K } from "./fit-readings.ts";

/** What is tried out; what is left out stays as the station has it. */
export interface WhatIf {
  procedure?: Partial<NonNullable<StationDocument["procedure"]>>;
  composition?: Composition;
  /** Line pressure while gas flows, gauge bar, at whatever cylinder pressure. */
  deliveryBar?: number;
  /** Gauge; full, without the cold of throttling, where absent. */
  cylinderBar?: number;
  /** Another device; where it carries a fit, that is used. */
  flowDevice?: NonNullable<StationDocument["flowDevice"]>;
  /** The regulator that goes with it. */
  regulator?: StationDocument["regulator"];
}

export interface WhatIfResult {
  window: DemandWindow;
  /** True over indicated flow where the device shows the target; null with `why`. */
  trueOverIndicated: number | null;
  /** Reading for the target in `metric20` L/min on the scale; null as above. */
  dialToLpm: number | null;
  /** Whether a bench test of the device stands behind the figures, or only what is printed on it. */
  from: "bench test" | "scale";
  why?: string;
}

/** The demand window and what the device would really give, for a station with something changed. */
export function whatIf(station: StationDocument, change: WhatIf): WhatIfResult {
  const composition = change.composition ?? station.cylinder?.composition;
  const procedure = station.procedure ? { ...station.procedure, ...change.procedure } : undefined;
  const regulator = change.regulator ?? station.regulator;
  const window = demandWindow({ ...station, procedure }, composition);
  const flowDevice = change.flowDevice ?? station.flowDevice;
  const from = flowDevice?.fit ? "bench test" : "scale";
  const none = (why: string): WhatIfResult => ({
    window,
    trueOverIndicated: null,
    dialToLpm: null,
    from,
    why,
  });
  if (!flowDevice) return none("the station has no flow device");
  if (!composition) return none("the gas is not known");
  const pressureKnown = flowDevice.fit !== undefined || change.deliveryBar !== undefined;
  if (flowDevice.kind === "variable-area") {
    if (flowDevice.valve === "before-tube" && !flowDevice.fit) {
      return none("with the valve before the tube its pressure is the hose's: measure it");
    }
    if (!pressureKnown && regulator?.deliveryBar === undefined) {
      return none("the delivery pressure is not known");
    }
  }
  try {
    const { device, state } = describedDevice(
      { ...station, regulator },
      flowDevice,
      composition,
      (molPerM3) => targetM3PerS(window) * molPerM3,
    );
    const at = surroundings(device, change.cylinderBar);
    const set = change.deliveryBar === undefined ? state : held(device, state, change.deliveryBar);
    return { window, from, ...figures(device, set, at, window) };
  } catch (error) {
    if (error instanceof PhysicsError) return none(error.message);
    throw error;
  }
}

/** Where no target is known the factor is given for this flow. */
const ANY_LPM = 10;

function targetM3PerS(window: DemandWindow): number {
  return (window.targetLpm ?? ANY_LPM) * LITRE_PER_MINUTE_M3_PER_S;
}

function figures(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  window: DemandWindow,
): Pick<WhatIfResult, "trueOverIndicated" | "dialToLpm" | "why"> {
  const wanted = targetM3PerS(window);
  const molPerS = wanted * device.standardMolPerM3;
  const passes = flowAtReading(device, state, at, wanted);
  const needed = setsPressure(device)
    ? dialPressure(device, state, at, molPerS)?.readingM3PerS
    : readingAt(device, state, at, molPerS).indicatedM3PerS;
  if (passes === null || needed === undefined) {
    return { trueOverIndicated: null, dialToLpm: null, why: "the device cannot show the target" };
  }
  const trueOverIndicated = passes / molPerS;
  if (window.targetLpm === null) {
    return { trueOverIndicated, dialToLpm: null, why: window.why ?? "no target flow" };
  }
  return { trueOverIndicated, dialToLpm: needed / LITRE_PER_MINUTE_M3_PER_S };
}

function surroundings(device: BenchDevice, cylinderBar: number | undefined): Surroundings {
  const cylinderPa = cylinderBar === undefined ? device.fullPa : cylinderBar * BAR_PA;
  return {
    cylinderPa,
    temperatureK: ROOM_K,
    atmospherePa: device.atmospherePa,
    meterDropPa: 0,
    throttlingDropK:
      cylinderBar === undefined ? 0 : throttlingDropK(device.mixture, cylinderPa, ROOM_K),
  };
}

/** The line at a stated pressure, whatever the regulator would do. */
function held(device: BenchDevice, state: DeviceState, deliveryBar: number): DeviceState {
  return {
    ...state,
    values: {
      ...state.values,
      "delivery-pressure": Math.log(deliveryBar * BAR_PA + device.atmospherePa),
      "supply-pressure-effect": 0,
      droop: 0,
    },
  };
}
