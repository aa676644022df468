import {
  AIR,
  AIR_MOST,
  addVariance,
  BODY,
  BODY_SIGMAS,
  covariance,
  DRIFT,
  FIRST_DROP,
  FIRST_LOOP,
  type FilterPlan,
  type FilterState,
  GAS,
  LOG_U,
  LOOP_TURNS,
  LOOPS,
  OFFSET,
  OFFSET_AT_TOP,
  PROBE,
  RHO,
  ROOM,
  SLOW,
  SPAN,
  scratch,
  setVariance,
  tie,
  variance,
  WALL,
} from "./cylinder-filter.ts";
import { asOrdinary, FINE, type GridReading, hidesNoise } from "./reading-grid.ts";

/** Measurements of the cylinder's filter: its pressure, its wall, its sensor's zero. */

/**
 * Only this part of an ordinary correction is made of the gas-wall conductance and of the probe's part of the
 * air: hysteresis looks much like a slow gas, and a turned float for minutes like a loose probe.
 */
const LOG_U_GAIN = 0.15;
const AIR_GAIN = 0.1;

const partOf = (i: number): number => (i === LOG_U ? LOG_U_GAIN : i === AIR ? AIR_GAIN : 1);
/** Most and least of the slow error that the innovations may teach, shares of the range. */
const SLOW_LEAST = 0.00003;
const SLOW_MOST = 0.001;
/** So many times that, and the error is none of the sensor's. */
const SLOW_LIMIT = 2;
/** Part of a fall that the turning loop hides, 1 sigma. */
const LOOP_HIDES = 0.6;
/** Innovations in a block whose sum is compared with that of the block before. */
const BLOCK = 10;
/** Without a line sensor a block lasts as long as so many at this pace, s: gas that flows unseen changes the pace. */
const BLOCK_PACE_S = 5;
/** Most of the slow error there, share of the range: gas that flows unseen must stand out of it. */
const SLOW_MOST_UNSEEN = 0.0003;

/** Turns every play of the hysteresis by a fall of `fallPa`, in place. */
export function turnLoop(
  plan: FilterPlan,
  loop: Float64Array | Float32Array,
  fallPa: number,
): void {
  for (let k = 0; k < LOOPS; k++) {
    const place = loop[k]! + fallPa / (LOOP_TURNS[k]! * plan.sensorRangePa);
    loop[k] = Math.min(Math.max(place, -1), 1);
  }
}

/** The high side was empty and is under pressure again: after such a rise the sensor stands at that end of all its plays. */
export function filledAnew(state: FilterState): void {
  state.loop.fill(-1);
  state.gaugePa = null;
  state.loopDoubt = 0;
}

/** What the hysteresis makes the sensor show too much at these places on its plays, Pa. */
export function hiddenByLoop(state: FilterState, loop: ArrayLike<number>): number {
  let pa = 0;
  for (let k = 0; k < LOOPS; k++) pa += state.x[FIRST_LOOP + k]! * loop[k]!;
  return pa;
}

/** Place on the hysteresis as a whole, -1 to 1: the mean of its plays' places, the wider ones counting for more. */
export function loopPlace(state: FilterState): number {
  let sum = 0;
  let weight = 0;
  for (let k = 0; k < LOOPS; k++) {
    const i = FIRST_LOOP + k;
    const part = Math.sqrt(state.x[i]! ** 2 + variance(state, i));
    sum += part * state.loop[k]!;
    weight += part;
  }
  return sum / weight;
}

/** Half-width of the whole hysteresis as learnt, and its variance, Pa and Pa². */
export function loopWidth(state: FilterState): { pa: number; variance: number } {
  let pa = 0;
  let spread = 0;
  for (let k = 0; k < LOOPS; k++) {
    pa += state.x[FIRST_LOOP + k]!;
    for (let j = 0; j < LOOPS; j++) spread += covariance(state, FIRST_LOOP + k, FIRST_LOOP + j);
  }
  return { pa, variance: Math.max(spread, 0) };
}

/** A measurement taken in. `gain` and `row` let change detectors follow what it did. */
export interface Update {
  innovation: number;
  /** Variance of the innovation. */
  spread: number;
  accepted: boolean;
  /** Gauge pressure of the state before the update, Pa; 0 where none was reckoned. */
  gaugePa: number;
  gain: Float64Array;
  row: Float64Array;
  /** How the considered states were given back: slope, heating, offset's and span's row; slope 0 where not. */
  back: { slope: number; heating: number; offsetRow: number; spanRow: number };
}

/** What an offset and a span error of 1 Pa make the sensor show too much at a pressure (gauge Pa), Pa. */
function classRows(plan: FilterPlan, gaugePa: number): { offsetRow: number; spanRow: number } {
  const share = gaugePa / plan.sensorRangePa;
  return { offsetRow: 1 - (1 - OFFSET_AT_TOP) * share, spanRow: share };
}

/** What offset and span make the sensor show too much at a pressure (gauge Pa), as far as is known, Pa. */
export function classErrorPa(plan: FilterPlan, { x }: FilterState, gaugePa: number): number {
  const { offsetRow, spanRow } = classRows(plan, gaugePa);
  return offsetRow * x[OFFSET]! + spanRow * x[SPAN]!;
}

/** Gauge pressure that the sensor should show in the present state, Pa. */
export function expectedPressurePa(plan: FilterPlan, state: FilterState): number {
  const { x } = state;
  const gauge = plan.gas.pressurePa(x[RHO]!, x[GAS]!) - plan.atmospherePa;
  return (
    gauge +
    classErrorPa(plan, state, gauge) +
    x[SLOW]! +
    x[BODY]! * state.bodyK +
    hiddenByLoop(state, state.loop)
  );
}

/**
 * Takes in a cylinder pressure (gauge Pa).
 *
 * @param noisePa 1 sigma of the reading's noise
 * @param gate refuse innovations beyond this many sigma; infinity takes everything
 * @param gapS since the reading before, s
 * @param grid steps in which the sensor tells its readings
 */
export function updatePressure(
  plan: FilterPlan,
  state: FilterState,
  readingPa: number,
  noisePa: number,
  gate: number,
  gapS = BLOCK_PACE_S,
  grid = FINE,
): Update {
  const { x } = state;
  const n = x.length;
  const row = new Float64Array(n);
  if (!state.started) {
    const rho = plan.gas.densityAt(readingPa + plan.atmospherePa, x[GAS]!, x[RHO]!);
    x[RHO] = Number.isFinite(rho) ? rho : 0.9 * plan.gas.mixture.highestDensityMolPerM3;
    setVariance(state, RHO, (0.2 * x[RHO]! + 50) ** 2);
    state.started = true;
    gate = Number.POSITIVE_INFINITY;
  }
  const gauge = plan.gas.pressurePa(x[RHO]!, x[GAS]!) - plan.atmospherePa;
  row[RHO] = plan.gas.slope(x[RHO]!, x[GAS]!);
  row[GAS] = plan.gas.heating(x[RHO]!, x[GAS]!);
  const { offsetRow, spanRow } = classRows(plan, gauge);
  row[OFFSET] = offsetRow;
  row[SPAN] = spanRow;
  row[SLOW] = 1;
  row[BODY] = state.bodyK;
  // The loop turns with what the model says the pressure did since the last reading.
  const fallPa = state.gaugePa === null ? 0 : state.gaugePa - gauge;
  if (state.gaugePa !== null) {
    turnLoop(plan, state.loop, fallPa);
    hideTurn(state, fallPa);
  }
  for (let k = 0; k < LOOPS; k++) row[FIRST_LOOP + k] = state.loop[k]!;
  const expected =
    gauge +
    offsetRow * x[OFFSET]! +
    spanRow * x[SPAN]! +
    x[SLOW]! +
    x[BODY]! * state.bodyK +
    hiddenByLoop(state, state.loop);
  const told = readGrid(state, row, readingPa - expected, noisePa, fallPa, grid);
  const update = apply(state, row, told.innovation, told.noise, gate);
  update.gaugePa = gauge;
  update.back = { slope: row[RHO]!, heating: row[GAS]!, offsetRow, spanRow };
  keepConsidered(state, update.back);
  state.refused = update.accepted ? 0 : state.refused + 1;
  if (update.accepted && Number.isFinite(gate) && !told.coarse) {
    learnSlow(plan, state, update, gapS);
  }
  if (x[RHO]! < 0.2) x[RHO] = 0.2;
  if (plan.line) {
    const most = BODY_SIGMAS * plan.driftSharePerK * plan.sensorRangePa;
    const held = Math.min(Math.max(x[BODY]!, -most), most);
    // What the sensor is expected to show stays as it is.
    x[SLOW] = x[SLOW]! + (x[BODY]! - held) * state.bodyK;
    x[BODY] = held;
  }
  state.gaugePa = plan.gas.pressurePa(x[RHO]!, x[GAS]!) - plan.atmospherePa;
  return update;
}

/** Innovation and noise variance of a reading by its grid; coarse where that hides the sensor's noise. */
function readGrid(
  state: FilterState,
  row: Float64Array,
  innovationPa: number,
  noisePa: number,
  fallPa: number,
  grid: GridReading,
): { innovation: number; noise: number; coarse: boolean } {
  const fine = { innovation: innovationPa, noise: noisePa ** 2, coarse: false };
  if (!(grid.stepPa > noisePa)) return fine;
  const { p } = state;
  const n = row.length;
  let expected = 0;
  for (let i = 0; i < n; i++) {
    if (row[i] === 0) continue;
    for (let j = 0; j < n; j++) expected += row[i]! * p[i * n + j]! * row[j]!;
  }
  const told = asOrdinary(grid, innovationPa, expected, noisePa, Math.abs(fallPa));
  return { ...told, coarse: hidesNoise(grid.stepPa, noisePa) };
}

/**
 * While the loop turns, its sensor may hide any part of a fall: a slow error that grows with the fall,
 * up to the loop's width.
 */
function hideTurn(state: FilterState, fallPa: number): void {
  if (!(state.loopDoubt > 0)) return;
  const { pa, variance: spread } = loopWidth(state);
  const width = 2 * (pa + Math.sqrt(spread));
  const before = Math.min(Math.max(state.loopFall, 0), width);
  state.loopFall += fallPa;
  const after = Math.min(Math.max(state.loopFall, 0), width);
  if (after > before) {
    const part = LOOP_HIDES * state.loopDoubt;
    addVariance(state, SLOW, part ** 2 * (after ** 2 - before ** 2));
  }
  if (after >= width) state.loopDoubt = 0;
}

/**
 * A pressure whose fall says nothing of the flow (a change-over may feed from elsewhere): taken in for
 * all states but the conductances, which stay as they are, with their variances.
 */
export function updateWithoutFlow(
  plan: FilterPlan,
  state: FilterState,
  readingPa: number,
  noisePa: number,
  gate: number,
  gapS = BLOCK_PACE_S,
  grid = FINE,
): Update {
  const before: { x: number; variance: number }[] = [];
  for (let i = FIRST_DROP; i < state.x.length; i++) {
    before.push({ x: state.x[i]!, variance: variance(state, i) });
  }
  const update = updatePressure(plan, state, readingPa, noisePa, gate, gapS, grid);
  before.forEach((kept, k) => {
    const i = FIRST_DROP + k;
    state.x[i] = kept.x;
    setVariance(state, i, kept.variance);
  });
  return update;
}

/**
 * In a filter whose model holds, innovations are white. Where neighbouring blocks agree in sign,
 * something slow is missing: the slow error's variance is raised until they no longer do.
 */
function learnSlow(plan: FilterPlan, state: FilterState, update: Update, gapS: number): void {
  state.blockSum += update.innovation;
  state.blockSpread += update.spread;
  const part = plan.line ? 1 : Math.min(gapS / BLOCK_PACE_S, BLOCK);
  // A single precision is enough, and keeps the state short.
  state.blockCount = Math.fround(state.blockCount + part);
  if (state.blockCount < BLOCK) return;
  const block = state.blockSum / Math.sqrt(state.blockSpread);
  const product = Math.min(Math.max(block * state.blockBefore, -2), 2);
  const least = (SLOW_LEAST * plan.sensorRangePa) ** 2;
  const most = ((plan.line ? SLOW_MOST : SLOW_MOST_UNSEEN) * plan.sensorRangePa) ** 2;
  const next = state.slowVariance * Math.exp(0.08 * product - 0.012);
  state.slowVariance = Math.min(Math.max(next, least), most);
  state.blockBefore = block;
  state.blockSum = 0;
  state.blockSpread = 0;
  state.blockCount = 0;
}

/** The slow error has grown beyond what any sensor's hysteresis and creep could be. */
export function slowErrorTooLarge(plan: FilterPlan, state: FilterState): boolean {
  return Math.abs(state.x[SLOW]!) > SLOW_LIMIT * SLOW_MOST * plan.sensorRangePa;
}

/** What was taken for a slow error of the sensor may be content: the next reading decides. */
export function takeForContent(plan: FilterPlan, state: FilterState): void {
  const slope = plan.gas.slope(state.x[RHO]!, state.x[GAS]!);
  addVariance(state, RHO, (state.x[SLOW]! / slope) ** 2);
  state.x[SLOW] = 0;
  setVariance(state, SLOW, state.slowVariance);
}

/** Takes in a wall temperature (K). */
export function updateWall(
  plan: FilterPlan,
  state: FilterState,
  readingK: number,
  noiseK: number,
  gate: number,
): Update {
  const { x } = state;
  const row = new Float64Array(x.length);
  const air = x[AIR]!;
  row[WALL] = 1 - air;
  row[ROOM] = air;
  row[AIR] = plan.line ? x[ROOM]! - x[WALL]! : 0;
  row[PROBE] = 1;
  row[DRIFT] = 1;
  if (!state.warm) {
    // The first temperature: what was read of the pressure without it is read anew.
    state.warm = true;
    state.started = false;
    startTemperatures(state, readingK, 0.4);
    gate = Number.POSITIVE_INFINITY;
  }
  const expected = x[WALL]! + air * (x[ROOM]! - x[WALL]!) + x[PROBE]! + x[DRIFT]!;
  const before = state.gaugePa === null ? 0 : plan.gas.pressurePa(x[RHO]!, x[GAS]!);
  const update = apply(state, row, readingK - expected, noiseK ** 2, gate);
  x[AIR] = Math.min(Math.max(x[AIR]!, 0), AIR_MOST);
  if (state.started) {
    const gauge = state.gaugePa ?? 0;
    update.back = {
      slope: plan.gas.slope(x[RHO]!, x[GAS]!),
      heating: plan.gas.heating(x[RHO]!, x[GAS]!),
      ...classRows(plan, gauge),
    };
    keepConsidered(state, update.back);
    // A better estimate is no way that the pressure went: it turns no hysteresis. Without a line sensor, where the
    // place on the only play is a guess between spells that nobody saw, this brought flows no closer.
    if (state.gaugePa !== null && plan.line)
      state.gaugePa += plan.gas.pressurePa(x[RHO]!, x[GAS]!) - before;
  }
  return update;
}

/**
 * Gives back what an update seemed to learn about the considered states, along the direction in
 * which neither pressure nor temperature readings change: offset against density, probe against
 * all temperatures and density.
 */
function keepConsidered(state: FilterState, back: Update["back"]): void {
  const { slope, heating, offsetRow, spanRow } = back;
  const { x, p } = state;
  const n = x.length;
  for (const { i, mean, variance: kept } of state.considered) {
    let places: number[];
    let parts: number[];
    if (i === PROBE) {
      places = [PROBE, WALL, GAS, ROOM, RHO];
      parts = [1, -1, -1, -1, heating / slope];
    } else {
      places = [i, RHO];
      parts = [1, -(i === OFFSET ? offsetRow : spanRow) / slope];
    }
    const away = mean - x[i]!;
    const lost = kept - p[i * n + i]!;
    for (let a = 0; a < places.length; a++) {
      const row = places[a]!;
      x[row] = x[row]! + away * parts[a]!;
      if (!(lost > 0)) continue;
      for (let b = 0; b < places.length; b++) {
        const at = row * n + places[b]!;
        p[at] = p[at]! + lost * parts[a]! * parts[b]!;
      }
    }
  }
}

/** The cylinder sensor reads this (gauge Pa) where it must read 0: learns its offset. */
export function learnZero(state: FilterState, readingPa: number, sigmaPa: number): void {
  const row = new Float64Array(state.x.length);
  row[OFFSET] = 1;
  row[BODY] = state.bodyK;
  const expected = state.x[OFFSET]! + state.x[BODY]! * state.bodyK;
  apply(state, row, readingPa - expected, sigmaPa ** 2, Number.POSITIVE_INFINITY);
  for (const kept of state.considered) {
    kept.mean = state.x[kept.i]!;
    kept.variance = variance(state, kept.i);
  }
}

/**
 * The content is known from a count besides: `density` with its variance, less what was drawn by
 * each drop (mol/m³ at the present conductances), whose errors the conductances share. The sensor's
 * offset is learnt from it too. Not taken in where it contradicts what the pressure says.
 */
export function learnContent(
  state: FilterState,
  density: number,
  densityVariance: number,
  drawn: readonly number[],
): boolean {
  const row = new Float64Array(state.x.length);
  row[RHO] = 1;
  drawn.forEach((mol, i) => {
    row[FIRST_DROP + i] = mol;
  });
  const update = apply(state, row, density - state.x[RHO]!, densityVariance, 3);
  if (!update.accepted) return false;
  for (const kept of state.considered) {
    kept.mean = state.x[kept.i]!;
    kept.variance = Math.min(kept.variance, variance(state, kept.i));
  }
  return true;
}

/** Sets gas, wall and room to a temperature; the gas within `sigmaK` of the wall. */
export function startTemperatures(state: FilterState, kelvin: number, sigmaK: number): void {
  const { x } = state;
  x[WALL] = kelvin;
  x[GAS] = kelvin;
  x[ROOM] = kelvin;
  const probe = state.considered.find(({ i }) => i === PROBE);
  const shared = 0.05 + (probe?.variance ?? 0.1);
  setVariance(state, WALL, shared);
  setVariance(state, GAS, shared + sigmaK ** 2);
  setVariance(state, ROOM, shared + 3 ** 2);
  setVariance(state, PROBE, probe?.variance ?? 0.1);
  tie(state, GAS, WALL, shared);
  tie(state, ROOM, WALL, shared);
  tie(state, ROOM, GAS, shared);
  for (const i of [WALL, GAS, ROOM]) tie(state, PROBE, i, -(probe?.variance ?? 0.1));
}

/**
 * One scalar measurement. The covariance step is exact for any gain (it equals Joseph's form), so
 * that a gain may be taken in part only.
 */
function apply(
  state: FilterState,
  row: Float64Array,
  innovation: number,
  noise: number,
  gate: number,
): Update {
  const { x, p } = state;
  const n = x.length;
  const gain = new Float64Array(n);
  const along = scratch(n);
  let spread = noise;
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += p[i * n + j]! * row[j]!;
    along[i] = sum;
    spread += row[i]! * sum;
  }
  const accepted =
    Number.isFinite(innovation) && spread > 0 && innovation * innovation <= gate * gate * spread;
  const back = { slope: 0, heating: 0, offsetRow: 0, spanRow: 0 };
  if (!accepted) return { innovation, spread, accepted, gaugePa: 0, gain, row, back };
  for (let i = 0; i < n; i++) {
    gain[i] = (partOf(i) * along[i]!) / spread;
    x[i] = x[i]! + gain[i]! * innovation;
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const value =
        p[i * n + j]! - gain[i]! * along[j]! - along[i]! * gain[j]! + spread * gain[i]! * gain[j]!;
      p[i * n + j] = value;
      p[j * n + i] = value;
    }
  }
  x[LOG_U] = Math.min(Math.max(x[LOG_U]!, -1.2), 1.2);
  state.updates++;
  keepSound(state);
  return { innovation, spread, accepted, gaugePa: 0, gain, row, back };
}

/** Squared correlations below this are below the limit, whatever rounding does. */
const WELL_INSIDE = 0.99999;

/** Holds variances above 0 and correlations inside ±1, whatever rounding did over the years. */
function keepSound(state: FilterState): void {
  const { p, x } = state;
  const n = x.length;
  for (let i = 0; i < n; i++) {
    const least = leastVariance[i] ?? 1e-8;
    if (!(p[i * n + i]! > least)) p[i * n + i] = least;
  }
  for (let i = 0; i < n; i++) {
    const own = p[i * n + i]!;
    for (let j = 0; j < i; j++) {
      const value = p[i * n + j]!;
      const both = own * p[j * n + j]!;
      // Nearly always, and without a root; both halves are equal since `apply` wrote them.
      if (value * value < WELL_INSIDE * both) continue;
      const limit = 0.999999 * Math.sqrt(both);
      if (!(value <= limit)) p[i * n + j] = limit;
      if (value < -limit) p[i * n + j] = -limit;
      p[j * n + i] = p[i * n + j]!;
    }
  }
}

const leastVariance = [1e-6, 1e-8, 1e-8, 1e-6, 1, 1, 1e-6, 1e-8, 1, 1e-6, 1e-6, 1e-8, 1, 1, 1];
