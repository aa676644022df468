/** Lengths of gas-on spells at one drop, as a log-normal with forgetting; plain data. */
export interface SpellState {
  count: number;
  mean: number;
  square: number;
}

export function createSpells(): SpellState {
  return { count: 0, mean: 0, square: 0 };
}

export function addSpell(state: SpellState, seconds: number): void {
  if (!(seconds > 1)) return;
  state.count = Math.min(state.count + 1, 2000);
  const weight = 1 / Math.min(state.count, 300);
  const value = Math.log(seconds);
  state.mean += weight * (value - state.mean);
  state.square += weight * (value * value - state.square);
}

/** Of ordinary work, s: counts as one spell. */
const USUAL_SPELL_S = 200;

/** Median of what was seen, s, with a prior that counts as one. */
export function medianBeside({ count, mean }: SpellState, priorS: number): number {
  return Math.exp((Math.log(priorS) + count * mean) / (1 + count));
}

/** Median length of a spell, s; near that of ordinary work until some were seen. */
export function medianSpellS(state: SpellState): number {
  return medianBeside(state, USUAL_SPELL_S);
}

/** 99th percentile of a spell, s; null until ten were seen. */
export function usualSpell(state: SpellState): { p99: number; count: number } | null {
  if (state.count < 10) return null;
  const sigma = Math.sqrt(Math.max(state.square - state.mean ** 2, 0.09));
  return { p99: Math.exp(state.mean + 2.33 * sigma), count: state.count };
}
