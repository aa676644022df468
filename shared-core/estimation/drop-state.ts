import type { DropPlan } from "./plan.ts";
import type { HeldLevels } from "./regulator-change.ts";
import { createTrend, type TrendState } from "./trend.ts";
import { createUnseenBody, type UnseenBody } from "./unseen-body.ts";

/** What is remembered of one drop; plain data. Pressures are gauge Pa, times Unix s. */
export interface DropState {
  /** Gas flows to the torch; null while that cannot be told. */
  on: boolean | null;
  onSince: number | null;
  offSince: number | null;
  /** Latest line reading, zero-corrected, and its time; null where none came (yet). */
  linePa: number | null;
  lineT: number | null;
  /** Mean of the plateau the line stands on now, and how many readings it holds. */
  meanPa: number;
  meanCount: number;
  levelOff: number;
  /** Level of the present regime that a change is judged against, null until one is known. */
  anchorPa: number | null;
  anchorCount: number;
  /** Consecutive readings off the anchor: too few for a change, and beyond it; when that began. */
  driftCount: number;
  offCount: number;
  offT: number;
  /** Level of the line while idle and while flowing, as last seen; null until seen. */
  idlePa: number | null;
  flowPa: number | null;
  /**
   * Level of the flowing line that goes with the conductance as learnt; it follows slow drifts.
   * A lasting step away from it is the regulator's droop answering to a turned float.
   */
  refPa: number | null;
  refOff: number;
  refCount: number;
  /** Difference idle minus flowing, learnt over spells. */
  gapPa: number | null;
  gaps: number;
  /** Variance of a line reading, Pa², from second differences. */
  noise: number;
  previous: number[];
  /** Line sensor's zero: learnt offset and its variance. */
  zeroPa: number;
  zeroVariance: number;
  bled: boolean;
  /** Hose pressure after a gas-off while it fills again, absolute Pa; null when full or flowing. */
  hosePa: number | null;
  arc: boolean | null;
  arcT: number | null;
  arcSince: number | null;
  arcOffSince: number | null;
  /** Idle and undisturbed since (a pressurised line that was fed counts anew). */
  idleSince: number;
  lineTrend: TrendState;
  bodyTrend: TrendState;
  regulatorK: number | null;
  regulatorT: number | null;
  ambientK: number | null;
  ambientT: number | null;
  supplyVoltage: number | null;
  /** Gas-on seconds since the conductance last became uncertain. */
  learntS: number;
  spells: number;
  lastSampleGap: number;
  lastReDial: { t: number; ratio: number } | null;
  /** Local day of the latest evening reminder; 0 before the first. */
  lastReminderDay: number;
  /** What is wrong with the line sensor; null while its readings are believed. */
  lineFault: string | null;
  /** Good readings in a row while it is not. */
  lineGood: number;
  /** Newest cylinder reading of this drop's own node: the node is there, whether or not the line is. */
  nodeT: number | null;
  /** Readings in a row that equal each other to the last digit, when that began, and the latest raw one. */
  sameCount: number;
  sameSince: number;
  rawPa: number;
  /** Share of readings that equal the one before, without and with gas on, and how many taught each. */
  repeats: Float32Array;
  /** The regulator as its flowing level shows it; null until it was seen. */
  level: LevelState | null;
  /** Step of the level whose cause the cylinder has still to tell. */
  turn: TurnState | null;
  /** Share of the gap between idle and flowing that goes with the flow (the rest is lock-up), and its 1 sigma. */
  droopShare: [number, number];
  /** Gas-on seconds since the station is known; ten minutes are as good as more. */
  usedS: number;
  /** Drop over the regulator's seat when wide open, Pa; null until a nearly empty cylinder showed it. */
  seatPa: number | null;
  /** Seconds of full flow counted since `offT` in the present or latest climb of a flowing line. */
  climbS: number;
  /** Climbs in a row that were no gas-off, three at most. */
  falseClimbs: number;
  /** Twice the log likelihood ratio by which the cylinder has shown that arcs burn without gas here, rounded. */
  arcDoubt: number;
  /** Levels to compare with once the line is seen under pressure again; null where nothing is to be compared. */
  held: HeldLevels | null;
  /** A second reminder on the day of the latest: due once gas was on since, and given once a day. */
  secondReminder: "due" | "given" | null;
  /** How cold the regulator's body may be while no probe tells. */
  unseenBody: UnseenBody;
}

/**
 * Flowing level = a + s (cylinder pressure - 100 bar), gauge Pa: a, s, their variances and
 * covariance (aa, as, ss), the gas-on spell (its start) that taught it last, the variance from spell to
 * spell with the number of spells that taught it and the last one that did, the cylinder pressure as the
 * spell began with the level expected there, the part of what a spell stands off it that stays with the mean
 * level, and what the last one did, Pa.
 */
export type LevelState = Float64Array;

export interface TurnState {
  t: number;
  /** Step over gap, and the logarithm of the conductance before. */
  step: number;
  log: number;
  /** Gas-on seconds since. */
  onS: number;
  announced: boolean;
}

/** So many gas-offs make the levels of a regulator, and the gap between them, known ones. */
export const KNOWN_GAPS = 4;
/** A line below this holds no pressure, gauge Pa. */
export const BLED_PA = 0.05e5;

/** Part of the gap between idle and flowing line that is droop, of a regulator nobody has learnt: mean, 1 sigma (common practice, no source). */
export const DROOP_SHARE: readonly [number, number] = [0.6, 0.3];

export function createDrop(plan: DropPlan): DropState {
  return {
    on: null,
    onSince: null,
    offSince: null,
    linePa: null,
    lineT: null,
    meanPa: 0,
    meanCount: 0,
    levelOff: 0,
    anchorPa: null,
    anchorCount: 0,
    driftCount: 0,
    offCount: 0,
    offT: 0,
    idlePa: null,
    flowPa: null,
    refPa: null,
    refOff: 0,
    refCount: 0,
    gapPa: null,
    gaps: 0,
    noise: 1500 ** 2,
    previous: [],
    zeroPa: 0,
    zeroVariance: plan.lineLimitPa ** 2 / 3,
    bled: false,
    hosePa: null,
    arc: null,
    arcT: null,
    arcSince: null,
    arcOffSince: null,
    idleSince: 0,
    lineTrend: createTrend(),
    bodyTrend: createTrend(),
    regulatorK: null,
    regulatorT: null,
    ambientK: null,
    ambientT: null,
    supplyVoltage: null,
    learntS: 0,
    spells: 0,
    lastSampleGap: 0,
    lastReDial: null,
    lastReminderDay: 0,
    lineFault: null,
    lineGood: 0,
    nodeT: null,
    sameCount: 0,
    sameSince: 0,
    rawPa: 0,
    repeats: new Float32Array(4),
    level: null,
    turn: null,
    droopShare: [...DROOP_SHARE],
    usedS: 0,
    seatPa: null,
    climbS: 0,
    falseClimbs: 0,
    arcDoubt: 0,
    held: null,
    secondReminder: null,
    unseenBody: createUnseenBody(),
  };
}

/** A line sensor is taken as working while its last reading is no older than this, s. */
const LINE_FRESH_S = 90;

/** A node that reads its cylinder but no line for this long, or three times the line's pace, has lost it, s. */
const LINE_MISSING_S = 20;

/** Whether the line's readings can be relied on at `t`: fitted, fresh and in no fault. */
export function hasLine(state: DropState, t: number): boolean {
  if (state.lineT === null || state.lineFault !== null) return false;
  const missing = Math.max(LINE_MISSING_S, 3 * state.lastSampleGap);
  if (state.nodeT !== null && state.nodeT - state.lineT > missing) return false;
  return t - state.lineT <= LINE_FRESH_S;
}

/** The drop's node is silent at `t`: its line cannot be relied on from now on, nor whether gas flows. */
export function loseNode(state: DropState, t: number): void {
  const missing = Math.max(LINE_MISSING_S, 3 * state.lastSampleGap);
  if (state.lineT !== null) state.nodeT = Math.max(t, state.lineT + missing + 1);
  state.on = null;
  state.onSince = null;
  state.hosePa = null;
}

/** The node's clock turned out to be behind by so much more: what has begun by it began that much later, s. */
export function moveTimes(state: DropState, byS: number): void {
  for (const name of ["onSince", "offSince", "arcSince", "arcOffSince"] as const) {
    const t = state[name];
    if (t !== null) state[name] = t + byS;
  }
}

/** A line sensor is fitted and was read, but cannot be relied on at `t`. */
export function lineLost(state: DropState, t: number): boolean {
  return !hasLine(state, t) && (state.lineT !== null || state.lineFault !== null);
}
