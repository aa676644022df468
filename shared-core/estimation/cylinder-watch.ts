import {
  addVariance,
  DRIFT,
  FIRST_DROP,
  type FilterState,
  GAS,
  RHO,
  setVariance,
  variance,
  WALL,
} from "./cylinder-filter.ts";
import { climbsNow, restartLevels, UNSEEN_S } from "./drop.ts";
import { hasLine } from "./drop-state.ts";
import type { StationEvent } from "./estimate.ts";
import {
  classErrorPa,
  expectedPressurePa,
  filledAnew,
  learnZero,
  slowErrorTooLarge,
  startTemperatures,
  takeForContent,
  type Update,
  updatePressure,
  updateWall,
  updateWithoutFlow,
} from "./filter-update.ts";
import { ZERO_C } from "./gas-model.ts";
import { forgetLeak, restartLeak } from "./leak-watch.ts";
import { fitLiquid, leaveLiquid, liquidEnd } from "./liquid.ts";
import type { SupplyPlan } from "./plan.ts";
import { probeStrapped, watchProbe } from "./probe-watch.ts";
import { cylinderReadingSigma, hidesNoise, onGrid, stepOf, takeOnGrid } from "./reading-grid.ts";
import { holdLevels } from "./regulator-change.ts";
import { forgetWarmLevel } from "./regulator-watch.ts";
import { mayBeReserve } from "./reserve-watch.ts";
import type { EngineState } from "./supply-state.ts";
import { judgeFill, newCylinder } from "./told-watch.ts";
import { fallIsShared } from "./unseen-drop.ts";
import { takeStep } from "./wall-steps.ts";

/** A temperature read longer ago than this says nothing of now, s; how long a new one is waited for. */
const OLD_WALL_S = 900;
const WAIT_FOR_WALL_S = 60;

/** Largest flow that anybody draws from one station, mol/s: about 120 L/min, a wide open purge. */
const LARGEST_MOL_PER_S = 120 / 60 / 24;
/** Content counts as known this long after a start, swap or opening. */
const SETTLE_S = 60;
/** Largest rise from reading to reading that warmth makes of gas trapped in the regulator, Pa. */
const CREEP_PA = 0.8e5;
/** A probe strapped to another cylinder has caught up after this, s. */
const PROBE_SETTLE_S = 150;
/** Whoever closes a valve opens the torch at about the same moment, s. */
const BLED_S = 3;
/** A warmer gas than the wall's, or a sensor's drift, makes a cylinder no fuller than by this share. */
const MORE_SHARE = 0.08;
/** The zero is read once the high side has stood still for this long, s. */
const ZERO_REST_S = 5;

/**
 * Takes in a cylinder reading (gauge Pa); the filter already stands at `t`.
 *
 * @param flow what is drawn now by all drops, mol/s
 * @returns what the filter made of it; null where it is no ordinary reading of an open cylinder, "unsettled"
 * where it was left out because a line climbs
 */
export function takeCylinderPressure(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  readingPa: number,
  flow: number,
): Update | "unsettled" | null {
  const { cylinder, filter } = state;
  const gapS = cylinder.readingT === null ? 0 : t - cylinder.readingT;
  const lastPa = cylinder.readingPa;
  learnNoise(cylinder, readingPa, gapS);
  cylinder.readingPa = readingPa;
  cylinder.readingT = t;
  const { sensorRangePa } = plan.filter;
  const rounded = takeOnGrid(state.grid, readingPa, cylinder.wallK, sensorRangePa);
  const stepPa = stepOf(state.grid, sensorRangePa);
  if (rounded > 0 && filter.started && hidesNoise(stepPa, Math.sqrt(cylinder.noise))) {
    addVariance(filter, RHO, rounded / plan.gas.slope(filter.x[RHO]!, filter.x[GAS]!) ** 2);
  }
  const noisePa = cylinderReadingSigma(plan, state);
  const zeroNear = Math.max(1.6 * plan.filter.sensorLimitPa, 1e5);
  if (cylinder.liquid) {
    return takeLiquidPressure(plan, state, t, readingPa, { lastPa, gapS }, zeroNear, flow);
  }
  if (!filter.started) {
    if (readingPa < zeroNear) {
      // Nothing but an empty high side so far: closed, or an empty cylinder.
      cylinder.valve = "closed";
      cylinder.closedSince ??= t;
      cylinder.lowPa = readingPa;
      learnZeroNow(plan, state, t, readingPa);
      return null;
    }
    open(plan, state, t);
    updatePressure(plan.filter, filter, readingPa, noisePa, Number.POSITIVE_INFINITY);
    return null;
  }
  if (cylinder.valve === "closed") {
    whileClosed(plan, state, t, readingPa, lastPa, zeroNear);
    return null;
  }
  if (cylinder.settleUntil !== null) {
    if (readingPa > zeroNear && waitsForWall(state, t)) return null;
    // A fitted cylinder has another temperature than the probe shows for a minute or two.
    // What it lost unseen, if it lost no more than this, was drawn or leaked: no valve was closed.
    const held = expectedPressurePa(plan.filter, filter);
    const lost = readingPa < held - 2e5 && readingPa > SHALLOW * held;
    const settles = t < cylinder.settleUntil;
    if (!settles) cylinder.settleUntil = null;
    if (lost || (settles && Math.abs(readingPa - (lastPa ?? readingPa)) < 2e5)) {
      if (holdsMore(plan, state, readingPa)) {
        // The wall came late: what was read first has become the last reading meanwhile.
        restartLines(state, cylinder.knownFrom ?? t);
        swapped(plan, state, t, readingPa, noisePa);
        return null;
      }
      restartContent(plan, state, readingPa, noisePa);
      cylinder.heldT = t;
      return null;
    }
    cylinder.settleUntil = null;
  }
  if (restsAnew(state, t)) filledAnew(filter);
  const expected = expectedPressurePa(plan.filter, filter);
  const away = readingPa - expected;
  const largest = largestFallPa(plan, filter, Math.max(gapS, 1));
  const anyones = fallIsShared(plan, state, t);
  // What was drawn unseen shows in the content's own doubt; a valve that closes leaves next to nothing.
  const doubtPa =
    4 * Math.sqrt(variance(filter, RHO)) * plan.gas.slope(filter.x[RHO]!, filter.x[GAS]!);
  const unseen = anyones ? Math.min(doubtPa, 0.5 * expected) : 0;
  const fall = away < -Math.max(2.5e5, 6 * noisePa, largest, unseen);
  const rise = away > Math.max(3e5, 8 * noisePa);
  const empty = readingPa < zeroNear && expected > readingPa + 4e5;
  if (fall || rise || empty) {
    const kind = rise ? "rise" : "fall";
    const same = cylinder.suspect !== null && cylinder.suspect.kind === kind;
    if (!same) cylinder.suspectGapS = gapS;
    cylinder.suspect = {
      kind,
      count: same ? cylinder.suspect!.count + 1 : 1,
      t: same ? cylinder.suspect!.t : t,
      pa: readingPa,
    };
    if (cylinder.suspect.count < 2) return null;
    const since = cylinder.suspect.t;
    cylinder.suspect = null;
    if (kind === "fall") {
      close(plan, state, since, readingPa, cylinder.suspectGapS > 10);
      if (readingPa < zeroNear) learnZeroNow(plan, state, t, readingPa);
    } else {
      if (cylinder.suspectGapS > UNSEEN_S) restartLines(state, since);
      swapped(plan, state, since, readingPa, noisePa);
    }
    return null;
  }
  cylinder.suspect = null;
  // Whether gas flows now is settled within seconds: a reading taken in as if it did would teach that less does.
  if (state.drops.some((drop) => climbsNow(drop, t))) return "unsettled";
  const shared = mayBeReserve(plan, readingPa) || anyones;
  const takeIn = shared ? updateWithoutFlow : updatePressure;
  const sigmaPa = Math.sqrt(cylinder.noise);
  const grid = onGrid(state.grid, sensorRangePa, sigmaPa);
  const update = takeIn(plan.filter, filter, readingPa, sigmaPa, 5, gapS, grid);
  if (!update.accepted && filter.refused >= 4) {
    // Not one spike but a contradiction: widen and follow.
    addVariance(filter, RHO, (0.03 * filter.x[RHO]! + 20) ** 2);
    addVariance(filter, GAS, 1);
    filter.refused = 0;
    updatePressure(plan.filter, filter, readingPa, noisePa, Number.POSITIVE_INFINITY);
    restartLeak(state.leak);
  } else if (slowErrorTooLarge(plan.filter, filter)) {
    // No sensor errs by so much: gas left unseen.
    takeForContent(plan.filter, filter);
    updatePressure(plan.filter, filter, readingPa, noisePa, Number.POSITIVE_INFINITY);
    restartLeak(state.leak);
  }
  cylinder.heldT = t;
  cylinder.valve = "open";
  return update;
}

/** No liquid's pressure falls by more from one reading to the next, as a share of it. */
const LIQUID_KEEPS = 0.8;
/** For so long a high side that fell below that may be one that is being bled, s. */
const BLEEDS_S = 600;

/** A cylinder that holds liquid CO2: the pressure only tells valve and phase. */
function takeLiquidPressure(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  readingPa: number,
  before: { lastPa: number | null; gapS: number },
  zeroNear: number,
  flow: number,
): null {
  const { cylinder, filter } = state;
  const { lastPa, gapS } = before;
  if (cylinder.valve === "closed") {
    if (readingPa < zeroNear) {
      learnZeroNow(plan, state, t, readingPa);
    } else if (lastPa !== null && lastPa > 5e5 && readingPa > 0.9 * lastPa) {
      open(plan, state, t);
      if (cylinder.announced !== null) announceFitted(plan, state, t);
    }
    return null;
  }
  const low = readingPa < zeroNear + 1e5;
  const { suspect } = cylinder;
  if (suspect === null && lastPa !== null) {
    // Bled through a torch the high side takes some seconds to empty; in a gap nobody saw it.
    const quick = gapS <= UNSEEN_S && lastPa > 5e5 && readingPa < LIQUID_KEEPS * lastPa;
    if (quick || (low && readingPa < 0.3 * lastPa)) {
      cylinder.suspect = { kind: "fall", count: low ? 1 : 0, t, pa: lastPa };
      cylinder.suspectGapS = gapS;
      return null;
    }
  } else if (suspect !== null && readingPa < LIQUID_KEEPS * suspect.pa) {
    if (low) suspect.count++;
    if (suspect.count >= 2) {
      close(plan, state, suspect.t, readingPa);
      cylinder.suspect = null;
      return null;
    }
    if (t - suspect.t < BLEEDS_S) return null;
  }
  cylinder.suspect = null;
  if (cylinder.valve === "unknown") open(plan, state, t);
  cylinder.heldT = t;
  const error = classErrorPa(plan.filter, filter, readingPa);
  const absolute = readingPa - error + plan.filter.atmospherePa;
  const end = liquidEnd(plan, state, t, absolute, flow);
  if (end === null) return null;
  leaveLiquid(plan, state, t, readingPa, end);
  restartLeak(state.leak);
  return null;
}

/** What a person said of the cylinder now fitted, for liquid fillings. */
export function announceFitted(plan: SupplyPlan, state: EngineState, t: number): void {
  const { cylinder } = state;
  const entry = cylinder.announced?.entry;
  fitLiquid(plan, state, entry?.presentKg ?? entry?.filledKg ?? null);
  cylinder.announced = null;
  cylinder.lastSwap = t;
  probeStrapped(state);
  for (const { body } of state.watches) forgetWarmLevel(body);
  cylinder.knownFrom = t;
  const litres =
    (state.filter.x[RHO]! * plan.filter.waterVolumeM3 * 1000) / plan.gas.standardMolPerM3;
  tell(state, { t, event: "swap", litres: Math.round(litres) });
}

/** The steepest fall that drawing gas could make in `gapS`, gauge Pa, with the gas's own cooling. */
function largestFallPa(plan: SupplyPlan, filter: FilterState, gapS: number): number {
  const density = (LARGEST_MOL_PER_S * plan.drops.length * gapS) / plan.filter.waterVolumeM3;
  return 2.4 * density * plan.gas.slope(filter.x[RHO]!, filter.x[GAS]!);
}

/** Whether so much more is there than before that no warmth and no sensor makes it: another cylinder. */
function holdsMore(plan: SupplyPlan, state: EngineState, readingPa: number): boolean {
  const { cylinder, filter } = state;
  if (plan.liquid !== null) return false;
  const kelvin = cylinder.wallK ?? filter.x[WALL]!;
  const gauge = readingPa - classErrorPa(plan.filter, filter, readingPa);
  const density = plan.gas.densityAt(gauge + plan.filter.atmospherePa, kelvin, filter.x[RHO]!);
  const more = plan.gas.slope(filter.x[RHO]!, kelvin) * (density - filter.x[RHO]!);
  return more > Math.max(3e5, MORE_SHARE * gauge);
}

/** Readings are back after a gap, and the cylinder has not told yet whether it is the one from before. */
export function mayBeAnother(plan: SupplyPlan, state: EngineState, t: number): boolean {
  const { suspect, suspectGapS, readingPa } = state.cylinder;
  if (suspect !== null) return suspectGapS > UNSEEN_S;
  return readingPa !== null && waitsForWall(state, t) && holdsMore(plan, state, readingPa);
}

/** What gas and wall have of each other's temperature is found this long after a cylinder was fitted, s. */
const FOUND_S = 300;

/** A fitted cylinder from which nothing was drawn yet: what its estimate still goes up and down, the pressure does not. */
function restsAnew({ cylinder, drops }: EngineState, t: number): boolean {
  const { lastSwap } = cylinder;
  if (lastSwap === null || t - lastSwap > FOUND_S) return false;
  return drops.every(
    ({ on, offSince }) => on === false && (offSince === null || offSince <= lastSwap),
  );
}

/** After hours without power the temperature comes first: a cylinder that warmed is no other one. */
function waitsForWall({ cylinder }: EngineState, t: number): boolean {
  const { settleUntil, wallT } = cylinder;
  const old = wallT !== null && t - wallT > OLD_WALL_S;
  return settleUntil !== null && old && t < settleUntil + WAIT_FOR_WALL_S;
}

/**
 * A cylinder that nobody saw fitted: its regulator's levels are other ones, so that what the line did
 * meanwhile is no gas-on. Pace and levels tell anew whether gas flows.
 */
function restartLines(state: EngineState, since: number): void {
  state.drops.forEach((drop, i) => {
    if (!hasLine(drop, since)) return;
    unsayGasOn(state, i, since);
    restartLevels(drop, since);
  });
}

/** Behind a valve that was being closed a line is bled: a gas-on of that moment, not yet written, was none. */
function unsayGasOn(state: EngineState, i: number, t: number): void {
  const drop = state.drops[i]!;
  const own = (e: StationEvent): boolean => e.event === "gas-on" && e.t > t - BLED_S;
  if (!state.events[i]!.some(own)) return;
  state.events[i] = state.events[i]!.filter((e) => !own(e));
  drop.onSince = null;
  drop.spells = Math.max(drop.spells - 1, 0);
}

/** @param unseen the fall lies in a gap between readings: a node that sees gas flow leaves none */
function close(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  readingPa: number,
  unseen = false,
): void {
  const { cylinder } = state;
  cylinder.valve = "closed";
  cylinder.closedSince = t;
  cylinder.steady = 0;
  cylinder.closedIdle =
    unseen ||
    state.drops.every(
      (drop) => drop.on === false && (drop.offSince === null || t - drop.offSince > 60),
    );
  cylinder.risenT = null;
  cylinder.lowPa = readingPa;
  for (let i = 0; i < state.drops.length; i++) {
    unsayGasOn(state, i, t);
    holdLevels(plan.drops[i]!, state.drops[i]!, t);
  }
  tell(state, { t, event: "valve-closed" });
}

function open(plan: SupplyPlan, state: EngineState, t: number): void {
  const { cylinder, filter } = state;
  if (cylinder.valve === "closed" && cylinder.closedSince !== null && filter.started) {
    tell(state, { t, event: "valve-opened" });
  }
  cylinder.valve = "open";
  cylinder.closedSince = null;
  cylinder.knownFrom = t + SETTLE_S;
  cylinder.heldT = t;
  cylinder.suspect = null;
  void plan;
}

function whileClosed(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  readingPa: number,
  lastPa: number | null,
  zeroNear: number,
): void {
  const { cylinder, filter } = state;
  cylinder.lowPa = Math.min(cylinder.lowPa, readingPa);
  // An opened valve fills the high side within seconds; trapped gas that warms creeps.
  const step = readingPa - (lastPa ?? readingPa);
  const creepPa = CREEP_PA + stepOf(state.grid, plan.filter.sensorRangePa);
  if (cylinder.risenT === null && step > 0 && step < creepPa) {
    cylinder.lowPa = Math.min(cylinder.lowPa + step, readingPa);
  }
  const held = expectedPressurePa(plan.filter, filter);
  if (readingPa < zeroNear) {
    cylinder.suspect = null;
    learnZeroNow(plan, state, t, readingPa);
    return;
  }
  // A fall that no gas-on explains and that stops half-way is another cylinder, not a closed valve.
  const steady = lastPa !== null && Math.abs(readingPa - lastPa) < 0.004 * readingPa + 2e4;
  cylinder.steady = steady ? cylinder.steady + 1 : 0;
  const shallow = readingPa > SHALLOW * held;
  const idle = cylinder.closedIdle && t - (cylinder.closedSince ?? t) >= 45;
  if (cylinder.steady >= (shallow ? 5 : 3) && (idle || shallow)) {
    open(plan, state, t);
    if (shallow) restartContent(plan, state, readingPa, cylinderReadingSigma(plan, state));
    else swapped(plan, state, t, readingPa, cylinderReadingSigma(plan, state));
    return;
  }
  const risen = readingPa > cylinder.lowPa + Math.max(2e5, 0.03 * held);
  if (!risen) {
    cylinder.risenT = null;
    return;
  }
  cylinder.risenT ??= t;
  // The high side fills within seconds; a content read while it does would be short.
  const noisePa = cylinderReadingSigma(plan, state);
  const still =
    lastPa !== null && Math.abs(readingPa - lastPa) < Math.max(4 * noisePa, 0.0008 * readingPa);
  if (!still && t - cylinder.risenT < 30) return;
  const away = readingPa - held;
  const gasSigma =
    Math.sqrt(variance(filter, GAS)) * plan.gas.heating(filter.x[RHO]!, filter.x[GAS]!);
  const same = Math.abs(away) < Math.max(2.5e5, 0.012 * held, 4 * gasSigma);
  open(plan, state, t);
  if (same && cylinder.announced === null) {
    restartLeak(state.leak);
    addVariance(filter, GAS, 1);
    filledAnew(filter);
    updatePressure(plan.filter, filter, readingPa, noisePa, Number.POSITIVE_INFINITY);
  } else {
    swapped(plan, state, t, readingPa, noisePa);
  }
}

/** Content and temperatures anew from one reading; conductances and sensors stay as learnt. */
function restartContent(
  plan: SupplyPlan,
  state: EngineState,
  readingPa: number,
  noisePa: number,
): void {
  const { cylinder, filter } = state;
  startTemperatures(filter, cylinder.wallK ?? filter.x[WALL]!, plan.liquid === null ? 1.2 : 5);
  setVariance(filter, RHO, 1);
  filter.started = false;
  // What the reading is first taken for is no way that the pressure went: it turns no hysteresis.
  filter.gaugePa = null;
  restartLeak(state.leak);
  updatePressure(plan.filter, filter, readingPa, noisePa, Number.POSITIVE_INFINITY);
}

/** A fall to no less than this share is the same cylinder's. */
const SHALLOW = 0.85;
/** Who changes a cylinder often sets the float anew: 1 sigma of the conductance's logarithm. */
const SWAP_TURN = 0.05;

/** Another cylinder: its content starts anew, everything else stays as it was. */
export function swapped(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  readingPa: number,
  noisePa: number,
): void {
  const { cylinder, filter } = state;
  filledAnew(filter);
  restartContent(plan, state, readingPa, noisePa);
  forgetLeak(state.leak);
  newCylinder(state, false);
  probeStrapped(state);
  for (let i = 0; i < plan.drops.length; i++) {
    addVariance(filter, FIRST_DROP + i, SWAP_TURN ** 2);
  }
  if (plan.liquid !== null) {
    // A liquid filling that stands at saturation again is another, full one.
    cylinder.valve = "open";
    cylinder.closedSince = null;
    cylinder.announced ??= { t, entry: {} };
    announceFitted(plan, state, t);
    cylinder.heldT = t;
    return;
  }
  cylinder.valve = "open";
  cylinder.closedSince = null;
  cylinder.announced = null;
  cylinder.lastSwap = t;
  for (const { body } of state.watches) forgetWarmLevel(body);
  // At this cylinder's pressure each regulator comes to another level, which is found before it is compared.
  for (const drop of state.drops) drop.refPa = null;
  cylinder.settleUntil = t + PROBE_SETTLE_S;
  cylinder.knownFrom = t + SETTLE_S;
  cylinder.heldT = t;
  judgeFill(state);
  const litres = (filter.x[RHO]! * plan.filter.waterVolumeM3 * 1000) / plan.gas.standardMolPerM3;
  tell(state, { t, event: "swap", litres: Math.round(litres) });
}

function learnZeroNow(plan: SupplyPlan, state: EngineState, t: number, readingPa: number): void {
  const { cylinder } = state;
  if (cylinder.zeroT !== null && t - cylinder.zeroT < 120) return;
  // A high side that is still being bled stands above its zero.
  const { zeroRest } = cylinder;
  const noisePa = cylinderReadingSigma(plan, state);
  const still = Math.max(4 * noisePa, 0.02 * plan.filter.sensorLimitPa);
  if (zeroRest === null || t < zeroRest.t || Math.abs(readingPa - zeroRest.pa) > still) {
    cylinder.zeroRest = { t, pa: readingPa };
    return;
  }
  if (t - zeroRest.t < ZERO_REST_S) return;
  cylinder.zeroRest = null;
  cylinder.zeroT = t;
  // Bled to the air or to a line at rest: the rest pressure and hysteresis stay.
  const sigma = Math.hypot(noisePa, 0.08 * plan.filter.sensorLimitPa, 500);
  learnZero(state.filter, readingPa, sigma);
}

/** Takes in a wall temperature, °C; null where it was not taken for the wall's. */
export function takeWallTemperature(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  celsius: number,
): Update | null {
  const { cylinder, filter } = state;
  const kelvin = celsius + ZERO_C;
  const { wallPrevious } = cylinder;
  wallPrevious.push(kelvin);
  if (wallPrevious.length === 3) {
    const second = wallPrevious[0]! - 2 * wallPrevious[1]! + wallPrevious[2]!;
    wallPrevious.shift();
    const square = (second * second) / 6;
    if (square < 16 * cylinder.wallNoise) {
      cylinder.wallNoise += 0.03 * (square - cylinder.wallNoise);
    }
    cylinder.wallNoise = Math.max(cylinder.wallNoise, 0.04 ** 2);
  }
  const told = takeStep(cylinder.wallSteps, kelvin);
  const sigma = Math.max(Math.sqrt(cylinder.wallNoise), told.sigmaK);
  const seen = watchProbe(state, t, told.kelvin, sigma);
  if (seen === "off") {
    // The air's: what a cylinder that is fitted now would start from.
    cylinder.wallK = kelvin;
    return null;
  }
  if (filter.warm && cylinder.wallT !== null && t - cylinder.wallT > OLD_WALL_S) {
    // Wall and gas went with the weather meanwhile.
    startTemperatures(filter, kelvin, plan.liquid === null ? 1.2 : 5);
  }
  cylinder.wallK = kelvin;
  cylinder.wallT = t;
  if (seen === "held") return null;
  const update = updateWall(plan.filter, filter, told.kelvin, sigma, 6);
  cylinder.wallRefused = update.accepted ? 0 : cylinder.wallRefused + 1;
  if (cylinder.wallRefused >= 15) {
    // A probe that lastingly disagrees with what the pressure shows was warmed, or stands in other air.
    addVariance(filter, DRIFT, 4 ** 2);
    cylinder.wallRefused = 0;
  }
  return update;
}

function learnNoise(cylinder: EngineState["cylinder"], readingPa: number, gapS: number): void {
  const { previous } = cylinder;
  if (gapS > 40 || gapS <= 0) previous.length = 0;
  previous.push(readingPa);
  if (previous.length < 3) return;
  const second = previous[0]! - 2 * previous[1]! + previous[2]!;
  previous.shift();
  const square = (second * second) / 6;
  if (square < 16 * cylinder.noise) cylinder.noise += 0.02 * (square - cylinder.noise);
  cylinder.noise = Math.max(cylinder.noise, 300 ** 2);
}

/** An event of the cylinder concerns every drop. */
function tell(state: EngineState, event: EngineState["events"][number][number]): void {
  for (const list of state.events) list.push({ ...event });
}
