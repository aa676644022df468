import { BLED_PA, type DropState, KNOWN_GAPS } from "./drop-state.ts";
import type { StationEvent } from "./estimate.ts";
import { MOLAR_GAS_CONSTANT } from "./gas-model.ts";
import { defaultGap } from "./line-flow.ts";
import type { DropPlan } from "./plan.ts";
import { holdLevels } from "./regulator-change.ts";
import { belowRest, stillFlows } from "./still-flowing.ts";
import { addToTrend, createTrend } from "./trend.ts";

/** Closure of a regulator's seat after gas-off, with its tail, s. */
const LOCK_UP_S = 80;
/** What happened in a gap longer than this nobody saw, s. */
export const UNSEEN_S = 90;

/**
 * Takes in a line reading (gauge Pa) and decides whether gas flows.
 * @param doubted another cylinder may hang here: how low the line stands is no gas-on yet
 * @returns the moment at which gas went on or off, where this reading settled that
 */
export function takeLine(
  plan: DropPlan,
  state: DropState,
  t: number,
  readingPa: number,
  events: StationEvent[],
  doubted = false,
): { on: boolean; t: number } | null {
  const climbed = climbsAway(state);
  const change = readLine(plan, state, t, readingPa, events, doubted);
  if (climbed) {
    if (change?.on === false) state.falseClimbs = 0;
    else if (!climbsAway(state))
      state.falseClimbs = Math.min(state.falseClimbs + 1, MOST_FALSE_CLIMBS);
  }
  return change;
}

function readLine(
  plan: DropPlan,
  state: DropState,
  t: number,
  readingPa: number,
  events: StationEvent[],
  doubted: boolean,
): { on: boolean; t: number } | null {
  const pa = readingPa - state.zeroPa;
  const gapS = state.lineT === null ? 0 : t - state.lineT;
  const lastPa = state.linePa;
  state.lastSampleGap = gapS;
  if (gapS > UNSEEN_S) holdLevels(plan, state, t - gapS);
  learnNoise(state, pa, gapS);
  state.linePa = pa;
  state.lineT = t;
  const sigma = Math.sqrt(state.noise);
  watchBled(plan, state, t, readingPa, events);
  if (fedAnew(state, pa, lastPa, t, gapS)) state.idleSince = t;
  // A regulator locks up within a minute or so: the trend begins after that.
  const restS = t - Math.max(state.offSince ?? 0, state.idleSince);
  if (state.on !== false || restS < LOCK_UP_S) state.lineTrend = createTrend();
  else addToTrend(state.lineTrend, t, pa, 150);
  // The surge at the start and the way down to the plateau are not the plateau's: its mean begins after.
  if (settlesNow(state, t, gapS)) state.meanCount = 0;
  followLevel(state, pa);
  if (state.anchorPa === null) {
    anchor(state, pa);
    const start = settleStart(plan, state, t, gapS);
    return start?.on === state.on ? null : start;
  }
  const expectedGap = Math.max(state.gapPa ?? defaultGap(plan, state), 6 * sigma, 2500);
  const threshold = Math.max(4.5 * sigma, 0.35 * expectedGap, 1500);
  const away = pa - state.anchorPa;
  // The way in which this regime would end; the other way is only followed.
  const ending = state.on === true ? away > 0 : state.on === false ? away < 0 : true;
  // A line that fills, behind a valve that was opened: it stands where it comes to, and then tells.
  if (state.on === null && away > 0 && fillsAnew(state, t)) {
    anchor(state, pa);
    return null;
  }
  if (!ending || Math.abs(away) <= threshold) {
    state.offCount = 0;
    followAnchor(state, pa, away, ending ? risePa(state) : Math.max(1.5 * sigma, 300), gapS);
    if (stillFlows(plan, state, t)) return { on: true, t: state.offSince! };
    remember(plan, state, t);
    if (state.on === true && pa < 0.01e5 && plan.tap !== "hose") return { on: false, t };
    return state.on === null ? settleStart(plan, state, t, gapS) : null;
  }
  // A slow seat brings the line up reading by reading: the gas went off where the rise began.
  // A tap on the hose shows its filling: there the gas goes off when that is nearly over.
  const climbed = plan.tap !== "hose" && away > 0 && climbs(state);
  if (state.offCount === 0 && !climbed) state.offT = t;
  state.offCount++;
  // One reading after a gap that nobody saw may stand on the levels of another cylinder.
  const jumped = gapS <= UNSEEN_S && plausibleJump(state, pa, away, expectedGap);
  // Under a burning arc each second counts: a line that had climbed before is not waited for.
  const shutUnderArc = climbed && state.arc === true && state.falseClimbs < HUNTS && state.gaps > 0;
  if (state.offCount < 2 && !jumped && !(shutUnderArc && gapS <= UNSEEN_S)) {
    if (gapS > UNSEEN_S && away < 0 && pa > BLED_PA) state.on = null;
    return null;
  }
  if (away < 0 && doubted) return null;
  const since = state.offT;
  const before = state.anchorPa;
  anchor(state, pa);
  state.offCount = 0;
  if (away < 0) {
    if (pa < 0.01e5 || slowFall(state, gapS, away, sigma)) return null;
    state.idlePa = before;
    return { on: true, t: since };
  }
  if (plausibleFlow(plan, state, before)) {
    if (state.on === true) noteGap(state, before);
    state.flowPa = before;
  }
  return { on: false, t: since };
}

/** A rise of the idle line between two readings that no heat and no slow leak gives, Pa. */
const FED_STEP_PA = 0.2e5;
/** A second such step within this is a climb and not the end of one, s. */
const FED_ONCE_S = 600;

/** The line of an idle torch rose in one step: a cylinder valve was opened, or a fuller cylinder fitted. */
function fedAnew(
  state: DropState,
  pa: number,
  before: number | null,
  t: number,
  gapS: number,
): boolean {
  if (state.on !== false || state.bled || before === null || gapS > 20) return false;
  const quietS = t - Math.max(state.offSince ?? 0, state.idleSince);
  return quietS > LOCK_UP_S && !(state.idleSince > (state.offSince ?? 0) && quietS < FED_ONCE_S)
    ? pa - before > Math.max(FED_STEP_PA, 8 * Math.sqrt(state.noise))
    : false;
}

/** A line has come to its flowing level this long after gas-on, s. */
const PLATEAU_S = 8;

/** Whether this reading, `gapS` after the one before, is the first of a spell's plateau. */
function settlesNow(state: DropState, t: number, gapS: number): boolean {
  if (state.on !== true || state.onSince === null) return false;
  const onS = t - state.onSince;
  return onS >= PLATEAU_S && onS - gapS < PLATEAU_S;
}

/** How far from the plateau's mean a reading may be that belongs to it, Pa. */
export function levelTolerance(state: DropState): number {
  return Math.max(3 * Math.sqrt(state.noise), 600);
}

/** Mean of the plateau for the flow: starts again where two readings in a row left it. */
function followLevel(state: DropState, pa: number): void {
  const away = pa - state.meanPa;
  if (state.meanCount > 0 && Math.abs(away) <= levelTolerance(state)) {
    state.levelOff = 0;
    state.meanCount = Math.min(state.meanCount + 1, 20);
    state.meanPa += away / state.meanCount;
    return;
  }
  state.levelOff++;
  if (state.meanCount === 0 || state.levelOff >= 2 || state.meanCount < 3) {
    state.meanPa = pa;
    state.meanCount = 1;
    state.levelOff = 0;
  }
}

function anchor(state: DropState, pa: number): void {
  state.anchorPa = pa;
  state.anchorCount = 1;
  state.driftCount = 0;
}

/** An idle node reports no faster than this, s. */
const IDLE_PACE_S = 5;

/**
 * Another cylinder hangs here since `t`, fitted unseen: where the line rests and flows is not what it was.
 * How far it falls from the one to the other stays.
 */
export function restartLevels(state: DropState, t: number): void {
  state.on = state.lastSampleGap >= IDLE_PACE_S ? false : null;
  state.onSince = null;
  state.offSince = state.on === false ? t : null;
  state.idleSince = t;
  state.anchorPa = null;
  state.offCount = 0;
  state.idlePa = null;
  state.refPa = null;
  state.hosePa = null;
  if (state.flowPa !== null && state.on === false && state.gapPa !== null) {
    state.flowPa = state.meanPa - state.gapPa;
  }
}

/** How far from its level a reading is that leaves it in the way in which the regime would end, Pa. */
export function risePa(state: DropState): number {
  return Math.max(3 * Math.sqrt(state.noise), 600);
}

/** So many readings in a row off the anchor, and it follows. */
const LASTING_READINGS = 8;
/** So many readings on one plateau, and a line that rose stands. */
const STANDING_READINGS = 15;

/** ... so many where it rose as the spell began: the surge had pulled it below its level. */
const SETTLED_READINGS = 4;

/** A regulator comes to another level each time, by no more than this share of the gap to the idle line. */
const OWN_LEVEL = 0.12;

function standingReadings(state: DropState): number {
  const { offT, onSince, flowPa, gapPa, meanPa } = state;
  // Above its usual level it is on its way to the idle one: a torch that was open for seconds only.
  const above = Math.max(risePa(state), OWN_LEVEL * (gapPa ?? 0));
  const usual = flowPa === null || state.gaps < 2 || meanPa <= flowPa + above;
  const settling = onSince !== null && offT - onSince < PLATEAU_S && usual;
  return settling ? SETTLED_READINGS : STANDING_READINGS;
}

/** The line has risen from the level of this gas-on, and not come back to it. */
function climbs(state: DropState): boolean {
  return state.on === true && state.driftCount > 0;
}

/** A climb is a gas-off or has ended by then, s. */
const CLIMB_S = 20;
/** One reading off its level is noise. */
const CLIMB_READINGS = 2;
/** After so many climbs in a row that were none, the line of this regulator hunts. */
const HUNTS = 2;
const MOST_FALSE_CLIMBS = 3;

/** The flowing line climbs away from its level. */
function climbsAway(state: DropState): boolean {
  return state.on === true && (state.driftCount >= CLIMB_READINGS || state.offCount > 0);
}

/**
 * The flowing line climbs away from its level, as it does before a gas-off: whether gas still flows is not
 * settled. Not where it hunts: half of all readings would be doubted.
 */
export function climbsNow(state: DropState, t: number): boolean {
  return climbsAway(state) && t - state.offT <= CLIMB_S && state.falseClimbs < HUNTS;
}

/** The anchor follows small moves at once, others once they last. */
function followAnchor(
  state: DropState,
  pa: number,
  away: number,
  near: number,
  gapS: number,
): void {
  if (Math.abs(away) <= near) {
    state.driftCount = 0;
    state.anchorCount = Math.min(state.anchorCount + 1, 20);
    state.anchorPa = (state.anchorPa ?? pa) + away / state.anchorCount;
    return;
  }
  const falling = away < 0;
  const free = (state.on === true && falling) || (state.on === false && !falling) || gapS >= 10;
  const goesOn = state.driftCount * away > 0;
  state.driftCount = goesOn ? state.driftCount + Math.sign(away) : Math.sign(away);
  if (!goesOn && away > 0) state.offT = state.lineT!;
  // A line that rises while gas is on may be a seat that closes slowly: only where it stands again is it a level.
  const standing = standingReadings(state);
  if (gapS < 10 && climbs(state) && state.meanCount < standing) return;
  const lasting = Math.min(standing, LASTING_READINGS);
  if (
    free ? Math.abs(state.driftCount) >= 2 || gapS >= 10 : Math.abs(state.driftCount) >= lasting
  ) {
    anchor(state, pa);
  }
}

/** Long gaps between readings make a fall a matter of minutes: a leak, not a torch. */
function slowFall(state: DropState, gapS: number, away: number, sigma: number): boolean {
  return gapS > 20 && Math.abs(away) < Math.max(0.6 * (state.gapPa ?? 0), 8 * sigma);
}

/** One reading is enough where it lands on the level that gas-on or gas-off usually has. */
function plausibleJump(state: DropState, pa: number, away: number, gap: number): boolean {
  if (state.gaps < 3) return false;
  const target = away < 0 ? state.flowPa : state.idlePa;
  return target !== null && Math.abs(pa - target) < ON_LEVEL * gap;
}

/** No gap counts for more than so many times the known one. */
const WIDER_GAP = 1.5;

function noteGap(state: DropState, flowing: number): void {
  if (state.idlePa === null) return;
  const seen = state.idlePa - flowing;
  if (!(seen > 500)) return;
  // A screw that was turned meanwhile lowers the flow's level alone: that is no wider gap.
  const known = state.gapPa !== null && state.gaps >= KNOWN_GAPS;
  const gap = known ? Math.min(seen, WIDER_GAP * state.gapPa!) : seen;
  state.gapPa = state.gapPa === null ? gap : state.gapPa + 0.3 * (gap - state.gapPa);
  state.gaps++;
}

/** A reading no further from a known level than this part of the gap between them stands on it. */
const ON_LEVEL = 0.3;

/** A node's fast pace outlasts an arc by ten seconds, and the readings of it count with those before, s. */
const ARC_LINGER_S = 30;

function arcNear({ arc, arcOffSince }: DropState, t: number): boolean {
  return arc === true || (arcOffSince !== null && t - arcOffSince < ARC_LINGER_S);
}

/** Under pressure again after it was bled, a line has filled and come to its level by then, s. */
const FILLED_S = 40;
/** A line that stands at its flowing level for this long, and for this many times as long as the hose takes to fill, flows; s. */
const STANDS_S = 8;
const FILLS_TIMES = 2;

/** The line came under pressure moments ago: whether the torch is open is told by where it comes to stand. */
function fillsAnew(state: DropState, t: number): boolean {
  const { bled, idlePa, idleSince } = state;
  return !bled && idlePa !== null && idlePa < BLED_PA && t - idleSince < FILLED_S;
}

/** Whether gas flows by where a line that fills comes to stand between its known levels; null till that is settled. */
function settleByLevel(
  plan: DropPlan,
  state: DropState,
  t: number,
  gapS: number,
): { on: boolean; t: number } | null {
  const { gapPa, flowPa, meanPa } = state;
  const known = gapPa !== null && flowPa !== null && state.gaps >= KNOWN_GAPS;
  const rests = known && meanPa > flowPa + 0.65 * gapPa && state.meanCount >= 3;
  if (rests) return { on: false, t };
  if (!known || Math.abs(meanPa - flowPa) > 0.35 * gapPa) {
    return gapS >= 5 && state.meanCount >= 2 ? { on: false, t } : null;
  }
  const standsS = state.meanCount * Math.max(state.lastSampleGap, 1);
  const hoseMol = (flowPa * plan.hoseVolumeM3) / (MOLAR_GAS_CONSTANT * 293.15);
  const hoseS = FILLS_TIMES * (hoseMol / Math.exp(plan.priorLogFlow));
  if (standsS < Math.min(Math.max(hoseS, STANDS_S), 0.75 * FILLED_S)) return null;
  return { on: true, t: state.idleSince };
}

/**
 * After a short silence the line still has the levels it had: one reading tells on which of them it stands. Not
 * behind a longer one, in which the cylinder may have been changed, nor while a valve was closed since.
 */
function onKnownLevel(state: DropState, gapS: number): boolean | null {
  const { linePa, idlePa, flowPa, gapPa, gaps, held } = state;
  if (gapS < IDLE_PACE_S || gapS > UNSEEN_S || held !== null || gaps < KNOWN_GAPS) return null;
  if (linePa === null || idlePa === null || flowPa === null || gapPa === null) return null;
  if (Math.abs(linePa - flowPa) < ON_LEVEL * gapPa) return true;
  return Math.abs(linePa - idlePa) < ON_LEVEL * gapPa ? false : null;
}

/** At the start nobody knows the regime: level, reporting pace and steps tell. */
function settleStart(
  plan: DropPlan,
  state: DropState,
  t: number,
  gapS: number,
): { on: boolean; t: number } | null {
  const pa = state.meanPa;
  if (pa < BLED_PA && plan.tap !== "hose") return { on: false, t };
  if (pa < 0.01e5) return { on: false, t };
  if (plan.tap === "hose" && plan.deliveryPa !== null) {
    if (pa > 0.8 * plan.deliveryPa) return { on: false, t };
    if (pa < 0.4 * plan.deliveryPa && state.meanCount >= 3) return { on: true, t };
  }
  // A node reports each second while gas flows or the line moves; it does so under an arc as well,
  // with gas or without.
  if (arcNear(state, t)) return null;
  const level = onKnownLevel(state, gapS);
  if (level !== null) return { on: level, t };
  if (fillsAnew(state, t)) return settleByLevel(plan, state, t, gapS);
  if (state.meanCount >= 2 && gapS >= 5) return { on: false, t };
  if (state.meanCount >= 12 && gapS <= 2.5) return { on: true, t };
  return null;
}

/** A line that is being bled behind a closed valve is no flowing level to learn from. */
function plausibleFlow(plan: DropPlan, state: DropState, pa: number): boolean {
  return plan.tap === "hose" || state.idlePa === null || pa > 0.6 * state.idlePa;
}

function remember(plan: DropPlan, state: DropState, t: number): void {
  if (state.anchorCount < 3) return;
  if (state.on === false && !belowRest(plan, state, t)) state.idlePa = state.anchorPa;
  if (state.on === true && state.anchorPa !== null && plausibleFlow(plan, state, state.anchorPa)) {
    state.flowPa = state.anchorPa;
  }
}

/** Second differences see noise but neither levels nor slopes; large ones are steps and left out. */
function learnNoise(state: DropState, pa: number, gapS: number): void {
  const { previous } = state;
  if (gapS > 20 || gapS <= 0) previous.length = 0;
  previous.push(pa);
  if (previous.length < 3) return;
  const second = previous[0]! - 2 * previous[1]! + previous[2]!;
  previous.shift();
  const square = (second * second) / 6;
  if (square < 16 * state.noise) state.noise += 0.03 * (square - state.noise);
  state.noise = Math.max(state.noise, 80 ** 2);
}

/** A bled line must read 0: its sensor's zero is learnt, and said. */
function watchBled(
  plan: DropPlan,
  state: DropState,
  t: number,
  readingPa: number,
  events: StationEvent[],
): void {
  const near = Math.max(2 * plan.lineLimitPa, 4 * Math.sqrt(state.noise));
  const low = Math.abs(readingPa) < near && state.on !== true && plan.tap !== "hose";
  if (!low) {
    if (readingPa > near + 0.2e5) {
      // Under pressure again: what follows is counted from here, and the torch may be open.
      if (state.bled) {
        state.idleSince = t;
        if (state.on === false) {
          state.on = null;
          state.anchorPa = null;
          state.meanCount = 0;
        }
      }
      state.bled = false;
    }
    return;
  }
  if (state.meanCount < 3) return;
  if (!state.bled) {
    state.bled = true;
    events.push({ t, event: "line-bled" });
  }
  const noise = state.noise;
  const gain = state.zeroVariance / (state.zeroVariance + noise);
  // Eighths of a pascal keep the state short.
  state.zeroPa = Math.round(8 * (state.zeroPa + gain * (readingPa - state.zeroPa))) / 8;
  state.zeroVariance = Math.max((1 - gain) * state.zeroVariance, (0.1 * plan.lineLimitPa) ** 2);
}
