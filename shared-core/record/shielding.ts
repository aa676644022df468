/**
 * Was the gas flow short? Judged from what was recorded: the true flow with its 95 % interval
 * against the flow window of the weld. What was not recorded is never counted as good. Pure.
 */

/** One line of the estimator as history keeps it: every second while gas flows, every 15 s while off. */
export interface FlowSample {
  /** Unix s. */
  t: number;
  /** True flow and the bounds of its 95 % interval, `metric20` L/min; 0 while gas is off. */
  lpm: number;
  low: number;
  high: number;
}

/** The flow window from `t` on; all null where none is set. `metric20` L/min. */
export interface WindowFrom {
  t: number;
  minimumLpm: number | null;
  targetLpm: number | null;
  maximumLpm: number | null;
}

export interface Span {
  from: number;
  to: number;
}

export interface ShieldingInput extends Span {
  /** Rising in `t`. Those a little before `from` may be among them. */
  samples: readonly FlowSample[];
  /** Rising in `t`; the one that holds at `from` first. */
  windows: readonly WindowFrom[];
  /** When the arc burned, where a signal of it is fitted. */
  arcs?: readonly Span[];
}

export type StretchKind = "short" | "over" | "doubt" | "no-data" | "no-window" | "arc-without-gas";

export interface Stretch extends Span {
  kind: StretchKind;
}

/** One gas-on spell: its mean flow with interval, and how it stood against the window. */
export interface SpellRecord extends Span {
  lpm: number;
  low: number;
  high: number;
  litres: number;
  litresLow: number;
  litresHigh: number;
  shortS: number;
  overS: number;
  doubtS: number;
}

export interface ShieldingRecord {
  /**
   * `short`: below the minimum with 95 % confidence, or an arc without gas, for 2 s or longer.
   * `not-short`: at no judged moment could it have been below, and every moment could be judged.
   * `cannot-tell`: neither; `no-window`: nothing to hold it against; `no-gas`: no gas-on at all.
   */
  verdict: "short" | "not-short" | "cannot-tell" | "no-window" | "no-gas";
  gasOnS: number;
  /** Below the minimum, above the maximum, each with 95 % confidence. */
  shortS: number;
  overS: number;
  /** The interval reaches below the minimum. */
  doubtS: number;
  enoughS: number;
  /** The first 2 s and the last second of a spell, while gas builds up and dies away: not judged. */
  edgeS: number;
  noDataS: number;
  noWindowS: number;
  arcWithoutGasS: number;
  litres: { mean: number; low: number; high: number };
  /** Over all gas-on; null where there was none. */
  mean: { lpm: number; low: number; high: number } | null;
  /** The lowest flow that was judged, where a window is known. */
  lowest: { t: number; lpm: number; low: number; high: number; minimumLpm: number } | null;
  spells: SpellRecord[];
  /** Where it was not plainly enough, in order of time. */
  stretches: Stretch[];
}

/** Below this gas is off, L/min. */
const OFF_LPM = 0.02;
/** So long a sample stands for what follows it, s: twice the pace of history. */
const FLOWING_HOLD_S = 2.5;
const IDLE_HOLD_S = 31;
/** Gas builds up and dies away within these times of a spell's ends, s; common practice, no source. */
const STARTS_S = 2;
const ENDS_S = 1;
/** A shorter lack is one sample's noise, s. */
const LEAST_SHORT_S = 2;

type State = "on" | "off" | "unseen";

/** History's samples and windows, judged second by second. */
export function shieldingRecord(input: ShieldingInput): ShieldingRecord {
  const { from, to } = input;
  const pieces = piecesOf(input.samples, from, to);
  const spells = spellsOf(pieces);
  const stretches: Stretch[] = [];
  const sums = { short: 0, over: 0, doubt: 0, enough: 0, edge: 0, noData: 0, noWindow: 0 };
  const records = spells.map((spell) => emptySpell(spell));
  let lowest: ShieldingRecord["lowest"] = null;
  let spellIndex = 0;
  for (const piece of pieces) {
    const seconds = piece.to - piece.from;
    if (piece.state === null || piece.state === "unseen") {
      sums.noData += seconds;
      addStretch(stretches, "no-data", piece);
      continue;
    }
    if (piece.state === "off") continue;
    const { sample } = piece;
    while (spells[spellIndex + 1] && spells[spellIndex + 1]!.from <= piece.from) spellIndex++;
    const spell = spells[spellIndex]!;
    const record = records[spellIndex]!;
    record.litres += (sample.lpm * seconds) / 60;
    record.litresLow += (Math.max(0, sample.low) * seconds) / 60;
    record.litresHigh += (sample.high * seconds) / 60;
    for (const part of judgedParts(piece, spell, input.windows)) {
      const partS = part.to - part.from;
      if (part.edge) {
        sums.edge += partS;
        continue;
      }
      const { window } = part;
      if (window === null || window.minimumLpm === null) {
        sums.noWindow += partS;
        addStretch(stretches, "no-window", part);
        continue;
      }
      if (lowest === null || sample.lpm - window.minimumLpm < lowest.lpm - lowest.minimumLpm) {
        const { lpm, low, high } = sample;
        lowest = { t: part.from, lpm, low, high, minimumLpm: window.minimumLpm };
      }
      if (sample.high < window.minimumLpm) {
        sums.short += partS;
        record.shortS += partS;
        addStretch(stretches, "short", part);
      } else if (sample.low < window.minimumLpm) {
        sums.doubt += partS;
        record.doubtS += partS;
        addStretch(stretches, "doubt", part);
      } else {
        sums.enough += partS;
        if (window.maximumLpm !== null && sample.low > window.maximumLpm) {
          sums.over += partS;
          record.overS += partS;
          addStretch(stretches, "over", part);
        }
      }
    }
  }
  const arcWithoutGasS = addArcs(input, pieces, stretches);
  stretches.sort((a, b) => a.from - b.from);
  for (const record of records) finishSpell(record);
  const gasOnS = spells.reduce((sum, spell) => sum + spell.to - spell.from, 0);
  const litres = {
    mean: records.reduce((sum, one) => sum + one.litres, 0),
    low: records.reduce((sum, one) => sum + one.litresLow, 0),
    high: records.reduce((sum, one) => sum + one.litresHigh, 0),
  };
  const perMinute = (l: number) => (l * 60) / gasOnS;
  return {
    verdict: verdictOf({ ...sums, gasOnS, arcWithoutGasS, stretches }),
    gasOnS,
    shortS: sums.short,
    overS: sums.over,
    doubtS: sums.doubt,
    enoughS: sums.enough,
    edgeS: sums.edge,
    noDataS: sums.noData,
    noWindowS: sums.noWindow,
    arcWithoutGasS,
    litres,
    mean:
      gasOnS > 0
        ? {
            lpm: perMinute(litres.mean),
            low: perMinute(litres.low),
            high: perMinute(litres.high),
          }
        : null,
    lowest,
    spells: records,
    stretches,
  };
}

function verdictOf(facts: {
  gasOnS: number;
  doubt: number;
  enough: number;
  noData: number;
  noWindow: number;
  arcWithoutGasS: number;
  stretches: readonly Stretch[];
}): ShieldingRecord["verdict"] {
  const lacking = facts.stretches.some(
    ({ kind, from, to }) =>
      (kind === "short" || kind === "arc-without-gas") && to - from >= LEAST_SHORT_S,
  );
  if (lacking) return "short";
  // Short moments too brief to count are no proof of enough either.
  const short = facts.stretches.some(({ kind }) => kind === "short" || kind === "arc-without-gas");
  if (facts.noData > 0 || facts.doubt > 0 || short) return "cannot-tell";
  if (facts.gasOnS === 0) return "no-gas";
  if (facts.noWindow > 0) return "no-window";
  return facts.enough > 0 ? "not-short" : "cannot-tell";
}

/** A time for which one sample stands, or none. */
type Piece = Span & ({ state: State; sample: FlowSample } | { state: null; sample: null });

function stateOf(sample: FlowSample): State {
  if (sample.lpm > OFF_LPM) return "on";
  // Without a line sensor gas may flow for a while before the cylinder shows it.
  return sample.high > OFF_LPM ? "unseen" : "off";
}

/** The whole span cut at the samples; where none stands for a time, a piece without one. */
function piecesOf(samples: readonly FlowSample[], from: number, to: number): Piece[] {
  const pieces: Piece[] = [];
  let covered = from;
  for (const [index, sample] of samples.entries()) {
    const state = stateOf(sample);
    const hold = state === "on" ? FLOWING_HOLD_S : IDLE_HOLD_S;
    const next = samples[index + 1]?.t ?? Number.POSITIVE_INFINITY;
    const begin = Math.max(sample.t, covered);
    const end = Math.min(next, sample.t + hold, to);
    if (end <= begin) continue;
    if (begin > covered) pieces.push({ from: covered, to: begin, state: null, sample: null });
    pieces.push({ from: begin, to: end, state, sample });
    covered = end;
  }
  if (covered < to) pieces.push({ from: covered, to, state: null, sample: null });
  return pieces;
}

/** Gas-on spells: pieces that follow each other without a break. */
function spellsOf(pieces: readonly Piece[]): Span[] {
  const spells: Span[] = [];
  for (const piece of pieces) {
    if (piece.state !== "on") continue;
    const last = spells.at(-1);
    if (last && last.to === piece.from) last.to = piece.to;
    else spells.push({ from: piece.from, to: piece.to });
  }
  return spells;
}

/** A piece cut where the edges of its spell end and where the window changes. */
function judgedParts(piece: Span, spell: Span, windows: readonly WindowFrom[]) {
  const startEnds = Math.min(spell.from + STARTS_S, spell.to);
  const endBegins = Math.max(spell.to - ENDS_S, startEnds);
  const cuts = [startEnds, endBegins, ...windows.map((window) => window.t)]
    .filter((t) => t > piece.from && t < piece.to)
    .sort((a, b) => a - b);
  const bounds = [piece.from, ...cuts, piece.to];
  return bounds.slice(0, -1).map((from, index) => ({
    from,
    to: bounds[index + 1]!,
    edge: from < startEnds || from >= endBegins,
    window: windows.findLast((window) => window.t <= from) ?? null,
  }));
}

/** The time that the arc burned while gas was off. */
function addArcs(input: ShieldingInput, pieces: readonly Piece[], into: Stretch[]): number {
  let seconds = 0;
  for (const arc of input.arcs ?? []) {
    for (const piece of pieces) {
      if (piece.state !== "off") continue;
      const from = Math.max(arc.from, piece.from);
      const to = Math.min(arc.to, piece.to);
      if (to <= from) continue;
      seconds += to - from;
      addStretch(into, "arc-without-gas", { from, to });
    }
  }
  return seconds;
}

function addStretch(stretches: Stretch[], kind: StretchKind, { from, to }: Span): void {
  const last = stretches.findLast((one) => one.kind === kind);
  if (last && last.to === from) last.to = to;
  else stretches.push({ kind, from, to });
}

function emptySpell(spell: Span): SpellRecord {
  const none = { lpm: 0, low: 0, high: 0, litres: 0, litresLow: 0, litresHigh: 0 };
  return { ...spell, ...none, shortS: 0, overS: 0, doubtS: 0 };
}

function finishSpell(record: SpellRecord): void {
  const minutes = (record.to - record.from) / 60;
  record.lpm = record.litres / minutes;
  record.low = record.litresLow / minutes;
  record.high = record.litresHigh / minutes;
}
