import { risePa } from "./drop.ts";
import type { DropState } from "./drop-state.ts";
import { MOLAR_GAS_CONSTANT } from "./gas-model.ts";
import { CRITICAL_RATIO, defaultGap, fraction } from "./line-flow.ts";
import type { DropPlan } from "./plan.ts";

/** The hose fills again after a gas-off. */

/** Rise of a flowing line (Pa) at which its regulator passes nothing, of a gap (Pa) between flow and none. */
export function droopPa(state: DropState, gapPa: number): number {
  return Math.max(state.droopShare[0] * gapPa, 1000);
}

/** Share of the open torch's flow that a regulator passes whose line has risen so far of its droop, both Pa. */
export function passedShare(risenPa: number, droop: number): number {
  return Math.min(Math.max(1 - risenPa / droop, 0), 1);
}

/**
 * Starts the rest of the hose's refill after a gas-off. When the rise of the line shows that the
 * torch is shut, part of the refill has gone by: the regulator's droop says how much still flows.
 *
 * @param offT when the gas went off as the line dates it, Unix s: by then the line stood as it was read then
 */
export function startRefill(plan: DropPlan, state: DropState, offT: number): void {
  const line = plan.atmospherePa + Math.max(state.linePa ?? plan.referencePa, 0);
  const gap = Math.max(state.gapPa ?? defaultGap(plan, state), 1000);
  const share = Math.min(passedShare(risenPa(state, offT), droopPa(state, gap)), 0.98);
  const ratio = CRITICAL_RATIO + (1 - CRITICAL_RATIO) * Math.sqrt(1 - share * share);
  state.hosePa = plan.tap === "hose" ? null : ratio * line;
}

/** How far the line stood above its flowing level at `offT`, Pa. */
function risenPa(state: DropState, offT: number): number {
  const { lineT, linePa, flowPa, previous, lastSampleGap } = state;
  if (flowPa === null || lineT === null || linePa === null) return 0;
  const agoS = lineT - offT;
  if (agoS < 0.5 * lastSampleGap) return linePa - flowPa;
  if (agoS < 1.5 * lastSampleGap) return (previous[0] ?? linePa) - flowPa;
  // A slow rise: dated to the first reading that had left the level, on the average half a reading after the
  // line had. It goes by the square of time at first, as the flow that fills the hose falls off.
  const now = Math.max(linePa - flowPa, risePa(state));
  const left = Math.sqrt(risePa(state) / now);
  const half = 0.5 * lastSampleGap;
  return now * (left + (half * (1 - left)) / (agoS + half)) ** 2;
}

/**
 * Mol that pass into the closed hose during `dtS`. While the torch is shut the restriction keeps
 * feeding the hose until it stands at line pressure.
 *
 * @param fullMolPerS flow through the restriction with the torch open
 */
export function refill(
  plan: DropPlan,
  state: DropState,
  dtS: number,
  fullMolPerS: number,
  temperatureK: number,
): number {
  if (state.hosePa === null) return 0;
  const line = plan.atmospherePa + Math.max(state.linePa ?? plan.referencePa, 0);
  const perMol = (MOLAR_GAS_CONSTANT * temperatureK) / plan.hoseVolumeM3;
  let moles = 0;
  let left = Math.min(dtS, 60);
  while (left > 0 && state.hosePa < 0.99 * line) {
    const step = Math.min(left, 0.25);
    const room = (line - state.hosePa) / perMol;
    const part = Math.min(fullMolPerS * fraction(state.hosePa / line) * step, room);
    if (!(part > 1e-9)) break;
    moles += part;
    state.hosePa += part * perMol;
    left -= step;
  }
  if (state.hosePa >= 0.99 * line) state.hosePa = null;
  return moles;
}
