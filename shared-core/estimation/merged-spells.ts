import { addSpell, createSpells, medianBeside, medianSpellS, type SpellState } from "./spells.ts";

/**
 * Without a line sensor a break that is shorter than it takes to see gas-off passes unseen, and the
 * spells beside it merge. How much idle time that leaves in a spell follows from the breaks that are
 * seen: what they last beyond that time is as long as breaks are on the whole (breaks that end at any
 * moment with the same chance have no memory).
 */
export interface BreakState {
  /** How long after its date a gas-off was seen. */
  delays: SpellState;
  /** What breaks lasted beyond that. */
  beyond: SpellState;
}

export function createBreaks(): BreakState {
  return { delays: createSpells(), beyond: createSpells() };
}

/** Until some were seen (common practice, no source), s: counts as one. */
const USUAL_DELAY_S = 45;
const USUAL_BEYOND_S = 120;
/** Exponential distribution: the mean of logarithms lies below the mean by exp(-Euler's constant). */
const LOG_MEAN = 0.5615;

/** Gas-off that is dated `dateT` was seen at `t`. */
export function seeGasOff(state: BreakState, t: number, dateT: number): void {
  addSpell(state.delays, Math.max(t - dateT, 2));
}

/** Gas went on again after `breakS` without. */
export function seeBreak(state: BreakState, breakS: number): void {
  addSpell(state.beyond, Math.max(breakS - medianBeside(state.delays, USUAL_DELAY_S), 2));
}

/** More unseen breaks than this for each that is seen are not believed: few are seen then. */
const MOST_UNSEEN = 1.5;

/** Share of a usual spell's time that is unseen breaks, about: 0 to 0.3. */
export function unseenShare(state: BreakState, spells: SpellState): number {
  const delayS = medianBeside(state.delays, USUAL_DELAY_S);
  const meanS = medianBeside(state.beyond, LOG_MEAN * USUAL_BEYOND_S) / LOG_MEAN;
  // exp(delay/mean) - 1 unseen breaks for each that is seen, of half the delay each.
  const breaks = Math.min(Math.expm1(delayS / meanS), MOST_UNSEEN);
  return Math.min((breaks * delayS) / 2 / medianSpellS(spells), 0.3);
}
