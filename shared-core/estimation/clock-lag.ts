/**
 * A node's clock that is behind, told from packs that come late: what waited for a link comes faster
 * than it was made, so that its lag shrinks; a wrong clock keeps its lag while packs come as they are made.
 */

/** Times that lie this far behind the receipt are no network's delay, s. */
const BEHIND_S = 120;
/** A lag that stays within this, s, over packs of at least so long, s, and so many, is the clock's. */
const SPREAD_S = 20;
const STEADY_S = 180;
const STEADY_PACKS = 4;

/** What is known of a node's lag; plain data, and absent while there is none. */
export interface ClockLag {
  /** How far the clock is behind, s; 0 while that is not settled. */
  behindS: number;
  /** Packs in a row that lag by the same: first and last receipt, count, least and most, s. */
  run: {
    boot: number | null;
    seq: number | null;
    since: number;
    packs: number;
    leastS: number;
    mostS: number;
  } | null;
}

/** One pack, as far as its lag is concerned. */
export interface LaggingPack {
  boot: number | null;
  seq: number | null;
  /** Its newest sample by the node's clock, Unix s. */
  newestT: number;
  /** Unix s. */
  received: number;
}

/**
 * Takes in a pack. A pack is never early, so that the clock is never further behind than the pack that
 * lags least.
 *
 * @returns what is known now; undefined where the clock is right, as far as packs tell
 */
export function followLag(lag: ClockLag | undefined, pack: LaggingPack): ClockLag | undefined {
  const lagS = pack.received - pack.newestT;
  if (!(lagS > BEHIND_S)) return undefined;
  const behindS = Math.min(lag?.behindS ?? 0, lagS);
  if (lagS - behindS <= BEHIND_S) return { behindS, run: null };
  const run = nextRun(lag?.run ?? null, pack, lagS);
  const steady = run.packs >= STEADY_PACKS && pack.received - run.since >= STEADY_S;
  return steady ? { behindS: run.leastS, run: null } : { behindS, run };
}

function nextRun(
  run: ClockLag["run"],
  { boot, seq, received }: LaggingPack,
  lagS: number,
): NonNullable<ClockLag["run"]> {
  const first = { boot, seq, since: received, packs: 1, leastS: lagS, mostS: lagS };
  if (run === null || run.boot !== boot) return first;
  // A resent pack says nothing of how late new ones are.
  if (seq !== null && run.seq !== null && seq <= run.seq) return run;
  const leastS = Math.min(run.leastS, lagS);
  const mostS = Math.max(run.mostS, lagS);
  if (mostS - leastS > SPREAD_S) return first;
  return { boot, seq, since: run.since, packs: run.packs + 1, leastS, mostS };
}
