import { ellipseFraction } from "../flow/restriction.ts";
import { BACK_PRESSURE_PA } from "./device.ts";
import type { StationEvent } from "./estimate.ts";
import { MOLAR_GAS_CONSTANT } from "./gas-model.ts";
import type { DropPlan } from "./plan.ts";
import { addToTrend, createTrend, type TrendState } from "./trend.ts";

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
  lastReminderDay: number;
}

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
  };
}

/** A line sensor is taken as working while its last reading is no older than this, s. */
const LINE_FRESH_S = 90;

export function hasLine(state: DropState, t: number): boolean {
  return state.lineT !== null && t - state.lineT <= LINE_FRESH_S;
}

/** Closure of a regulator's seat after gas-off, with its tail, s. */
const LOCK_UP_S = 80;

/** Real valves: 0.2 to 0.5 (ISO 6358); short holes up to the ideal 0.49. */
const CRITICAL_RATIO = 0.42;

/** Flow at a line pressure (gauge) relative to that at the drop's reference pressure. */
export function relativeFlow(plan: DropPlan, linePa: number, temperatureK: number): number {
  return (shape(plan, linePa) / shape(plan, plan.referencePa)) * Math.sqrt(293.15 / temperatureK);
}

/** d ln(flow) / d p at a line pressure, 1/Pa. */
export function relativeSlope(plan: DropPlan, linePa: number): number {
  const step = 500;
  const low = shape(plan, Math.max(linePa - step, 0));
  const high = shape(plan, linePa + step);
  const middle = Math.max(shape(plan, linePa), 1e-9);
  return (high - low) / (step + Math.min(step, Math.max(linePa, 0))) / middle;
}

function shape(plan: DropPlan, linePa: number): number {
  const upstream = plan.atmospherePa + Math.max(linePa, 0);
  // A hose tap sits before torch and nozzle; an outlet tap before the device and all the rest.
  const back = plan.tap === "hose" ? 0 : Math.min(BACK_PRESSURE_PA, 0.3 * Math.max(linePa, 0));
  return upstream * fraction((plan.atmospherePa + back) / upstream);
}

function fraction(ratio: number): number {
  if (ratio >= 1) return 0;
  if (ratio > 0.999) return (ellipseFraction(0.999, CRITICAL_RATIO) * (1 - ratio)) / 0.001;
  return ellipseFraction(ratio, CRITICAL_RATIO);
}

/** Temperature of the gas at the restriction: between body and room. */
export function restrictionK(state: DropState, gasK: number): number {
  const room = state.ambientK ?? gasK;
  return state.regulatorK === null ? room : 0.5 * (state.regulatorK + room);
}

/**
 * Takes in a line reading (gauge Pa) and decides whether gas flows.
 * @returns the moment at which gas went on or off, where this reading settled that
 */
export function takeLine(
  plan: DropPlan,
  state: DropState,
  t: number,
  readingPa: number,
  events: StationEvent[],
): { on: boolean; t: number } | null {
  const pa = readingPa - state.zeroPa;
  const gapS = state.lineT === null ? 0 : t - state.lineT;
  state.lastSampleGap = gapS;
  learnNoise(state, pa, gapS);
  state.linePa = pa;
  state.lineT = t;
  const sigma = Math.sqrt(state.noise);
  watchBled(plan, state, t, readingPa, events);
  // A regulator locks up within a minute or so: the trend begins after that.
  if (state.on !== false || t - (state.offSince ?? 0) < LOCK_UP_S) state.lineTrend = createTrend();
  else addToTrend(state.lineTrend, t, pa, 150);
  followLevel(state, pa, sigma);
  if (state.anchorPa === null) {
    anchor(state, pa);
    return settleStart(plan, state, t, gapS);
  }
  const expectedGap = Math.max(state.gapPa ?? defaultGap(plan, state), 6 * sigma, 2500);
  const threshold = Math.max(4.5 * sigma, 0.35 * expectedGap, 1500);
  const away = pa - state.anchorPa;
  // The way in which this regime would end; the other way is only followed.
  const ending = state.on === true ? away > 0 : state.on === false ? away < 0 : true;
  if (!ending || Math.abs(away) <= threshold) {
    state.offCount = 0;
    followAnchor(
      state,
      pa,
      away,
      ending ? Math.max(3 * sigma, 600) : Math.max(1.5 * sigma, 300),
      gapS,
    );
    remember(plan, state);
    if (state.on === true && pa < 0.01e5 && plan.tap !== "hose") return { on: false, t };
    return state.on === null ? settleStart(plan, state, t, gapS) : null;
  }
  if (state.offCount === 0) state.offT = t;
  state.offCount++;
  const sure = state.offCount >= 2 || plausibleJump(state, pa, away, expectedGap);
  if (!sure) return null;
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

/** Mean of the plateau for the flow: starts again where two readings in a row left it. */
function followLevel(state: DropState, pa: number, sigma: number): void {
  const away = pa - state.meanPa;
  if (state.meanCount > 0 && Math.abs(away) <= Math.max(3 * sigma, 600)) {
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

/** The anchor follows small moves at once, lasting ones after eight readings. */
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
  state.driftCount =
    state.driftCount * away > 0 ? state.driftCount + Math.sign(away) : Math.sign(away);
  if (free ? Math.abs(state.driftCount) >= 2 || gapS >= 10 : Math.abs(state.driftCount) >= 8) {
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
  return target !== null && Math.abs(pa - target) < 0.3 * gap;
}

function noteGap(state: DropState, flowing: number): void {
  if (state.idlePa === null) return;
  const gap = state.idlePa - flowing;
  if (!(gap > 500)) return;
  state.gapPa = state.gapPa === null ? gap : state.gapPa + 0.3 * (gap - state.gapPa);
  state.gaps++;
}

function defaultGap(plan: DropPlan, state: DropState): number {
  const level = Math.max(state.linePa ?? 0, plan.deliveryPa ?? 0, 1e5);
  return plan.tap === "hose" ? 0.5 * level : 0.05 * level;
}

/** At the start nobody knows the regime: level, reporting pace and steps tell. */
function settleStart(
  plan: DropPlan,
  state: DropState,
  t: number,
  gapS: number,
): { on: boolean; t: number } | null {
  const pa = state.meanPa;
  if (pa < 0.05e5 && plan.tap !== "hose") return { on: false, t };
  if (pa < 0.01e5) return { on: false, t };
  if (plan.tap === "hose" && plan.deliveryPa !== null) {
    if (pa > 0.8 * plan.deliveryPa) return { on: false, t };
    if (pa < 0.4 * plan.deliveryPa && state.meanCount >= 3) return { on: true, t };
  }
  // A node reports each second only while gas flows or the line moves.
  if (state.meanCount >= 2 && gapS >= 5) return { on: false, t };
  if (state.meanCount >= 12 && gapS <= 2.5) return { on: true, t };
  return null;
}

/** A line that is being bled behind a closed valve is no flowing level to learn from. */
function plausibleFlow(plan: DropPlan, state: DropState, pa: number): boolean {
  return plan.tap === "hose" || state.idlePa === null || pa > 0.6 * state.idlePa;
}

function remember(plan: DropPlan, state: DropState): void {
  if (state.anchorCount < 3) return;
  if (state.on === false) state.idlePa = state.anchorPa;
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
    if (readingPa > near + 0.2e5) state.bled = false;
    return;
  }
  if (state.meanCount < 3) return;
  if (!state.bled) {
    state.bled = true;
    events.push({ t, event: "line-bled" });
  }
  const noise = state.noise;
  const gain = state.zeroVariance / (state.zeroVariance + noise);
  state.zeroPa += gain * (readingPa - state.zeroPa);
  state.zeroVariance = Math.max((1 - gain) * state.zeroVariance, (0.1 * plan.lineLimitPa) ** 2);
}

/** Line pressure to reckon the flow from: the plateau's mean, with its 1 sigma. Gauge Pa. */
export function levelPa(plan: DropPlan, state: DropState): { pa: number; sigma: number } {
  const mean = state.meanCount > 0 ? state.meanPa : (plan.deliveryPa ?? plan.referencePa);
  return { pa: mean, sigma: Math.sqrt(state.noise / Math.max(state.meanCount, 1)) };
}

/**
 * Starts the rest of the hose's refill after a gas-off. When the rise of the line shows that the
 * torch is shut, part of the refill has gone by: the regulator's droop says how much still flows.
 */
export function startRefill(plan: DropPlan, state: DropState): void {
  const line = plan.atmospherePa + Math.max(state.linePa ?? plan.referencePa, 0);
  const gap = Math.max(state.gapPa ?? defaultGap(plan, state), 1000);
  const risen = state.flowPa === null ? 0 : ((state.linePa ?? 0) - state.flowPa) / gap;
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

/** Readings in a row off the reference level that make a turned float of it. */
const REF_READINGS = 8;

/**
 * Compares the flowing line with its reference level. More flow makes the regulator droop: with
 * `gapPa` from no flow to the learnt one, a step of the level tells the ratio of the flows.
 *
 * @returns ratio of the new to the old flow, or null
 */
export function watchLevel(state: DropState, t: number): number | null {
  if (state.on !== true || state.onSince === null || t - state.onSince < 10) return null;
  if (state.meanCount < 5) return null;
  if (state.refPa === null) {
    state.refPa = state.meanPa;
    state.refCount = 1;
    return null;
  }
  const step = state.meanPa - state.refPa;
  const gap = state.gapPa;
  const sigma = Math.sqrt(state.noise / state.meanCount);
  const least = Math.max(0.07 * (gap ?? 5e4), 5 * sigma, 0.004 * Math.abs(state.refPa), 800);
  state.refCount++;
  if (gap === null || state.gaps < 3 || state.refCount < 40 || Math.abs(step) < least) {
    state.refOff = 0;
    state.refPa += step / Math.min(state.refCount, 60);
    return null;
  }
  state.refOff++;
  if (state.refOff < REF_READINGS) return null;
  state.refOff = 0;
  state.refPa = state.meanPa;
  return Math.min(Math.max(1 - step / gap, 0.4), 2.5);
}
