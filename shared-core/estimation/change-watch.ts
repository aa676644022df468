import {
  FIRST_DROP,
  type FilterPlan,
  type FilterState,
  GAS,
  LOOPS,
  mirror,
  propagate,
  RHO,
  type Step,
  scratch,
  WALL,
} from "./cylinder-filter.ts";
import { hiddenByLoop, turnLoop, type Update } from "./filter-update.ts";

/**
 * Changes that only the cylinder shows, by generalised likelihood ratio (Willsky and Jones 1976):
 * for each moment at which a change may have begun, the error that it would leave in the filter is
 * carried along; what the innovations then say in its favour is the ratio.
 *
 * A `toggle` is a flow that is there though the filter takes it for absent, or the other way
 * round; a `dial` is a step of the logarithm of the conductance.
 */
export interface Candidate {
  t: number;
  drop: number;
  kind: "toggle" | "dial";
  /** State error for a unit change, now. Float32 is enough, and half the memory. */
  error: Float32Array;
  /** At the start: gauge pressure, Pa (toggles); the drop's gas-on at its setting, s (dials). */
  from: number;
  /**
   * At the start: places on the plays of the sensor's hysteresis (toggles); mean level of the flowing line
   * and the cylinder's pressure there, Pa, 0 where not known (dials).
   */
  loop: Float32Array;
  /** The drop's conductance at the start (logarithm): what of a change the filter has followed since. */
  before: number;
  /** Sums of signature times innovation, and signature squared, each over the innovation's variance. */
  match: number;
  weight: number;
}

/** For the serialised state: time, drop, 1 for a dial, and all the rest in one array. */
export type PackedCandidate = [t: number, drop: number, dial: number, rest: Float32Array];

export function packCandidate(candidate: Candidate): PackedCandidate {
  const { t, drop, kind, error, from, loop, before, match, weight } = candidate;
  return [
    t,
    drop,
    kind === "dial" ? 1 : 0,
    Float32Array.of(from, before, match, weight, ...loop, ...error),
  ];
}

export function unpackCandidate([t, drop, dial, rest]: PackedCandidate): Candidate {
  const [from, before, match, weight] = rest;
  return {
    t,
    drop,
    kind: dial === 1 ? "dial" : "toggle",
    error: rest.slice(4 + LOOPS),
    from: from!,
    loop: rest.slice(4, 4 + LOOPS),
    before: before!,
    match: match!,
    weight: weight!,
  };
}

/** A refused reading counts as one so many sigma out. */
const REFUSED_SIGMAS = 3;
const MOST_TOGGLES = 8;
const MOST_DIALS = 4;

/** Carries the candidates through a step of the filter. `nominal` is the flow of each drop when on, mol/s. */
export function stepCandidates(
  candidates: Candidate[],
  step: Step,
  nominal: ArrayLike<number>,
): void {
  const n = candidates[0]?.error.length ?? 0;
  const vector = scratch(n);
  for (const candidate of candidates) {
    const { error } = candidate;
    // Plain loops: `set` between arrays of two kinds takes longer than all the rest.
    for (let i = 0; i < n; i++) vector[i] = error[i]!;
    propagate(step, vector);
    if (candidate.kind === "toggle") {
      const flow = nominal[candidate.drop]!;
      const wall = step.wallPerFlow * flow;
      vector[RHO] = vector[RHO]! + step.rhoPerFlow * flow;
      vector[WALL] = vector[WALL]! + wall;
      vector[GAS] = vector[GAS]! + wall + step.gasPerFlow * flow;
    }
    for (let i = 0; i < n; i++) error[i] = vector[i]!;
  }
}

/**
 * Takes in what a pressure reading said.
 *
 * @param on whether each drop's gas is taken to be on: the sign of a toggle
 */
export function matchCandidates(
  candidates: Candidate[],
  update: Update,
  plan: FilterPlan,
  state: FilterState,
  on: readonly boolean[],
): void {
  const { row, gain, spread } = update;
  // What the filter's gate refuses may be just what gas does that went on unseen; as one spike it must
  // not be a proof.
  const innovation = update.accepted
    ? update.innovation
    : Math.sign(update.innovation) * REFUSED_SIGMAS * Math.sqrt(spread);
  if (!Number.isFinite(innovation)) return;
  for (const candidate of candidates) {
    const { error } = candidate;
    let signature = 0;
    for (let i = 0; i < error.length; i++) signature += row[i]! * error[i]!;
    if (candidate.kind === "toggle") {
      signature += loopPart(candidate, update, plan, state, on[candidate.drop] ? -1 : 1);
    }
    // Rounded as they are kept, so that a restored state goes on exactly.
    candidate.match = Math.fround(candidate.match + (signature * innovation) / spread);
    candidate.weight = Math.fround(candidate.weight + (signature * signature) / spread);
    for (let i = 0; i < error.length; i++) error[i] = error[i]! - gain[i]! * signature;
  }
}

const turned = new Float64Array(LOOPS);
/** What the sensor's hysteresis hides of a toggle: the reading stands still while the loop turns. */
function loopPart(
  candidate: Candidate,
  update: Update,
  plan: FilterPlan,
  state: FilterState,
  sign: 1 | -1,
): number {
  const { row, gaugePa } = update;
  const change = sign * (row[RHO]! * candidate.error[RHO]! + row[GAS]! * candidate.error[GAS]!);
  for (let k = 0; k < LOOPS; k++) turned[k] = candidate.loop[k]!;
  turnLoop(plan, turned, candidate.from - gaugePa - change);
  return sign * (hiddenByLoop(state, turned) - hiddenByLoop(state, state.loop));
}

/**
 * Starts a candidate at `t`, and thins the older ones so that their ages stay about geometric.
 *
 * @param learntS gas-on of the drop at its setting so far, s
 * @param level of the flowing line, for dials
 */
export function startCandidate(
  candidates: Candidate[],
  state: FilterState,
  t: number,
  drop: number,
  kind: "toggle" | "dial",
  learntS: number,
  level: { pa: number; cylinderPa: number } | null = null,
): void {
  const error = new Float32Array(state.x.length);
  const loop = new Float32Array(LOOPS);
  if (kind === "toggle") for (let k = 0; k < LOOPS; k++) loop[k] = state.loop[k]!;
  if (kind === "dial") error[FIRST_DROP + drop] = 1;
  if (level !== null) loop.set([level.pa, level.cylinderPa]);
  candidates.push({
    t,
    drop,
    kind,
    error,
    from: Math.fround(kind === "toggle" ? (state.gaugePa ?? 0) : learntS),
    loop,
    before: Math.fround(state.x[FIRST_DROP + drop]!),
    match: 0,
    weight: 0,
  });
  const same = candidates.filter((c) => c.kind === kind && c.drop === drop);
  if (same.length <= (kind === "toggle" ? MOST_TOGGLES : MOST_DIALS)) return;
  // Drop the one whose neighbours lie closest together for their age.
  let worst = same[1]!;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 1; k < same.length - 1; k++) {
    const crowd = (same[k + 1]!.t - same[k - 1]!.t) / Math.max(t - same[k]!.t, 1);
    if (crowd < least) {
      least = crowd;
      worst = same[k]!;
    }
  }
  candidates.splice(candidates.indexOf(worst), 1);
}

/** Mean level of the flowing line as a dial began, with the cylinder's pressure, Pa; null where not known. */
export function levelThen({ loop }: Candidate): { pa: number; cylinderPa: number } | null {
  return loop[0] ? { pa: loop[0], cylinderPa: loop[1]! } : null;
}

/** Best size of a change within limits, and twice its logarithmic likelihood ratio. */
export function judge(
  candidate: Candidate,
  low: number,
  high: number,
): { size: number; ratio: number } {
  if (!(candidate.weight > 0)) return { size: 0, ratio: 0 };
  const size = Math.min(Math.max(candidate.match / candidate.weight, low), high);
  return { size, ratio: 2 * size * candidate.match - size * size * candidate.weight };
}

/**
 * A step of a conductance that something else has shown, joined with what the cylinder says of it: the
 * candidate that fits best, with the step's size and variance by both.
 *
 * @param log size of the step by the other (logarithm of new over old flow), with its 1 sigma
 */
export function joinDial(
  candidates: readonly Candidate[],
  drop: number,
  log: number,
  sigma: number,
): { candidate: Candidate; size: number; variance: number } | null {
  const known = 1 / sigma ** 2;
  let most = Number.NEGATIVE_INFINITY;
  let best: { candidate: Candidate; size: number; variance: number } | null = null;
  for (const candidate of candidates) {
    if (candidate.kind !== "dial" || candidate.drop !== drop) continue;
    const weight = known + candidate.weight;
    const size = (log * known + candidate.match) / weight;
    const fit = size * size * weight - log * log * known;
    if (fit <= most) continue;
    most = fit;
    best = { candidate, size, variance: 1 / weight };
  }
  return best;
}

/** Corrects the filter for a step of a conductance that a candidate found; its size's variance. */
export function correctDial(
  state: FilterState,
  candidate: Candidate,
  size: number,
  spread = 1 / Math.max(candidate.weight, 1e-9),
): void {
  const { x, p } = state;
  const n = x.length;
  for (let i = 0; i < n; i++) {
    x[i] = x[i]! + size * candidate.error[i]!;
    for (let j = 0; j < n; j++) {
      p[i * n + j] = p[i * n + j]! + spread * candidate.error[i]! * candidate.error[j]!;
    }
  }
  mirror(state);
}

/**
 * Corrects the filter for a flow that has been on (`sign` 1) or off (`sign` -1) since the
 * candidate's start: x + g, with g proportional to the drop's flow, whose error it shares.
 */
export function correctToggle(
  plan: FilterPlan,
  state: FilterState,
  candidate: Candidate,
  sign: 1 | -1,
): void {
  const { x, p } = state;
  const n = x.length;
  const c = FIRST_DROP + candidate.drop;
  for (let i = 0; i < n; i++) x[i] = x[i]! + sign * candidate.error[i]!;
  const gauge = plan.gas.pressurePa(x[RHO]!, x[GAS]!) - plan.atmospherePa;
  state.loop.set(candidate.loop);
  turnLoop(plan, state.loop, candidate.from - gauge);
  state.gaugePa = gauge;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      p[i * n + j] = p[i * n + j]! + sign * candidate.error[i]! * p[c * n + j]!;
    }
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      p[j * n + i] = p[j * n + i]! + sign * candidate.error[i]! * p[j * n + c]!;
    }
  }
  mirror(state);
}

/**
 * When the gas went on or off is known to `sigmaS` only: what of it that leaves open is the difference
 * that another start would make, which a neighbouring candidate shows.
 */
export function doubtDate(
  state: FilterState,
  candidates: readonly Candidate[],
  found: Candidate,
  sigmaS: number,
): void {
  let other: Candidate | null = null;
  for (const c of candidates) {
    if (c.kind !== "toggle" || c.drop !== found.drop || c.t === found.t) continue;
    if (other === null || Math.abs(c.t - found.t) < Math.abs(other.t - found.t)) other = c;
  }
  if (other === null) return;
  const share = sigmaS / (other.t - found.t);
  const { p, x } = state;
  const n = x.length;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      p[i * n + j] =
        p[i * n + j]! +
        share ** 2 * (other.error[i]! - found.error[i]!) * (other.error[j]! - found.error[j]!);
    }
  }
  mirror(state);
}
