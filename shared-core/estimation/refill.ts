import { risePa } from "./drop.ts";
import type { DropState } from "./drop-state.ts";
import { MOLAR_GAS_CONSTANT } from "./gas-model.ts";
import { CRITICAL_RATIO, defaultGap, fraction } from "./line-flow.ts";
import type { DropPlan } from "./plan.ts";

/** The hose fills again after a gas-off. */

/** A rise is seen as one when it has left the noise by this factor. */
const SEEN_RISE = 1.3;

/**
 * Starts the rest of the hose's refill after a gas-off. When the rise of the line shows that the
 * torch is shut, part of the refill has gone by: the regulator's droop says how much still flows.
 *
 * @param fromRise the gas-off is dated to the first reading of a slow rise: the line had hardly left its level
 */
export function startRefill(plan: DropPlan, state: DropState, fromRise: boolean): void {
  const line = plan.atmospherePa + Math.max(state.linePa ?? plan.referencePa, 0);
  const gap = Math.max(state.gapPa ?? defaultGap(plan, state), 1000);
  const droop = Math.max(state.droopShare[0] * gap, 1000);
  const away = state.flowPa === null ? 0 : (state.linePa ?? 0) - state.flowPa;
  const risen = fromRise ? (SEEN_RISE * risePa(state)) / droop : away / gap;
  const share = Math.min(Math.max(1 - risen, 0), 0.98);
  const ratio = CRITICAL_RATIO + (1 - CRITICAL_RATIO) * Math.sqrt(1 - share * share);
  state.hosePa = plan.tap === "hose" ? null : ratio * line;
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
