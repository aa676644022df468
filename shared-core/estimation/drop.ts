import { ellipseFraction } from "../flow/restriction.ts";
import { BACK_PRESSURE_PA } from "./device.ts";
import type { StationEvent } from "./estimate.ts";
import { MOLAR_GAS_CONSTANT } from "./gas-model.ts";
import type { DropPlan } from "./plan.ts";

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
  /** Consecutive readings off the plateau, with their sum, and when that began. */
  offCount: number;
  offSum: number;
  offT: number;
  /** Level of the line while idle and while flowing, as last seen; null until seen. */
  idlePa: number | null;
  flowPa: number | null;
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
    offCount: 0,
    offSum: 0,
    offT: 0,
    idlePa: null,
    flowPa: null,
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
  if (state.meanCount === 0) {
    restart(state, pa);
    return settleStart(plan, state, t, gapS);
  }
  const expectedGap = Math.max(state.gapPa ?? defaultGap(plan, state), 6 * sigma, 2500);
  const threshold = Math.max(4.5 * sigma, 0.35 * expectedGap, 1500);
  const away = pa - state.meanPa;
  const near = Math.max(3 * sigma, 600);
  if (Math.abs(away) <= threshold) {
    if (Math.abs(away) > near) {
      // A small step or a drift: follow it after two readings in a row.
      state.offCount =
        state.offCount * away >= 0 ? state.offCount + Math.sign(away) : Math.sign(away);
      if (Math.abs(state.offCount) >= 2) restart(state, pa);
      else follow(state, pa);
    } else {
      state.offCount = 0;
      follow(state, pa);
    }
    state.offSum = 0;
    remember(state);
    return state.on === null ? settleStart(plan, state, t, gapS) : null;
  }
  // Off the plateau by more than a change of regime needs.
  if (state.offSum === 0 || Math.sign(away) !== Math.sign(state.offSum)) {
    state.offT = t;
    state.offSum = 0;
  }
  state.offSum += Math.sign(away);
  const sure = Math.abs(state.offSum) >= 2 || plausibleJump(state, pa, away, expectedGap);
  if (!sure) return null;
  const since = state.offT;
  const before = state.meanPa;
  restart(state, pa);
  state.offSum = 0;
  state.offCount = 0;
  const falls = away < 0;
  if (falls && state.on !== true && pa > 0.01e5 && !slowFall(state, gapS, away, sigma)) {
    if (state.on === false || state.on === null) state.idlePa = before;
    return { on: true, t: since };
  }
  if (!falls && state.on !== false) {
    if (state.on === true) noteGap(state, before, pa);
    state.flowPa = before;
    return { on: false, t: since };
  }
  if (falls && state.on === true && pa < 0.01e5) return { on: false, t: since };
  return null;
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

function noteGap(state: DropState, flowing: number, _idle: number): void {
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

function restart(state: DropState, pa: number): void {
  state.meanPa = pa;
  state.meanCount = 1;
}

/** Running mean of the plateau: a plain mean first, then over about the last 20 readings. */
function follow(state: DropState, pa: number): void {
  state.meanCount = Math.min(state.meanCount + 1, 20);
  state.meanPa += (pa - state.meanPa) / state.meanCount;
}

function remember(state: DropState): void {
  if (state.meanCount < 3) return;
  if (state.on === false) state.idlePa = state.meanPa;
  if (state.on === true) state.flowPa = state.meanPa;
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
  const noise = state.noise + 866 ** 2 * 0;
  const gain = state.zeroVariance / (state.zeroVariance + noise);
  state.zeroPa += gain * (readingPa - state.zeroPa);
  state.zeroVariance = Math.max((1 - gain) * state.zeroVariance, (0.1 * plan.lineLimitPa) ** 2);
}

/** Line pressure to reckon the flow from: the plateau's mean, with its 1 sigma. Gauge Pa. */
export function levelPa(plan: DropPlan, state: DropState): { pa: number; sigma: number } {
  const mean = state.meanCount > 0 ? state.meanPa : (plan.deliveryPa ?? plan.referencePa);
  return { pa: mean, sigma: Math.sqrt(state.noise / Math.max(state.meanCount, 1)) };
}

/** Starts the refill of the hose after a gas-off. */
export function startRefill(plan: DropPlan, state: DropState): void {
  state.hosePa = plan.atmospherePa + BACK_PRESSURE_PA;
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
