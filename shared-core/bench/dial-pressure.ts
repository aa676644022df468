import { dialReadingM3PerS } from "../flow/orifice-gauge.ts";
import { molarFlowMolPerS } from "../flow/restriction.ts";
import type { BenchDevice, DeviceState, Surroundings } from "./device-model.ts";
import { flowingK, hosePressurePa, restrictionOf } from "./device-operation.ts";

const HIGHEST_PA = 40e5;

/**
 * Line pressure at which an orifice gauge passes a flow, and what its dial shows there.
 * Null where no pressure up to 40 bar does.
 */
export function dialPressure(
  device: BenchDevice,
  state: DeviceState,
  at: Surroundings,
  molPerS: number,
): { gaugePa: number; readingM3PerS: number } | null {
  const dial = device.dial;
  if (dial === null) return null;
  const restriction = restrictionOf(device, state);
  const hosePa = hosePressurePa(device, state, at, molPerS);
  let low = hosePa;
  let high = HIGHEST_PA;
  const passes = (pressurePa: number) =>
    molarFlowMolPerS(restriction, pressurePa, hosePa, flowingK(state, at));
  if (passes(high) < molPerS) return null;
  for (let k = 0; k < 60; k++) {
    const middle = (low + high) / 2;
    if (passes(middle) < molPerS) low = middle;
    else high = middle;
  }
  const gaugePa = (low + high) / 2 - at.atmospherePa;
  return gaugePa > 0 ? { gaugePa, readingM3PerS: dialReadingM3PerS(dial, gaugePa) } : null;
}
