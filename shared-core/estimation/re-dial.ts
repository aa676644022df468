import { levelTolerance } from "./drop.ts";
import type { DropState, LevelState } from "./drop-state.ts";
import type { DropPlan } from "./plan.ts";

/**
 * A turned float by the line's level. A regulator droops as more flows; with `gapPa` from no flow
 * to the present one, a lasting step of the flowing level tells by how much the flow changed, but
 * for the part of the gap that is lock-up. What the cylinder's pressure does to the level (the
 * supply-pressure effect) is learnt and taken off first.
 */

/** Such a step is no scatter; the cylinder is asked besides, unless it is a large one. */
const STEP_SIGMAS = 4.5;
/**
 * Few spells hardly tell how well a regulator repeats: so many times the sigma that they show, for the same
 * doubt (tail of Student's t with the spells as its degrees of freedom, about; fitted by hand, no source).
 */
const fewSpells = (spells: number) => 1 + (6 / (spells + FIRST_SPELLS)) ** 2.5;
/** Readings in a row off the expected level that make a step of it. */
const STEP_READINGS = 8;
/** From then on the plateau's mean is that of its own readings, s of gas-on. */
const PLATEAU_KNOWN_S = 10;
/** Readings close together, and the share of the gap, that make a step before that. */
const EARLY_READINGS = 4;
const EARLY_STEP = 0.15;
/** A surge is over by then, s. */
const SURGE_OVER_S = 15;
/** The level wanders while gas flows: random walk, Pa a reading. */
const WALK_PA = 6.7;
/**
 * A regulator comes to another level each time (friction of its diaphragm and seat): 1 sigma at first and
 * at least, Pa; learnt, as if so many spells had shown the first, and each counts for as much as the last so many.
 */
const FIRST_SCATTER_PA = 560;
const LEAST_SCATTER_PA = 85;
const FIRST_SPELLS = 2;
const MOST_SPELLS = 15;
/** A spell that stands further off than so many sigma teaches no more than one there: a float may have been turned. */
const TEACHES_SIGMAS = 2.2;
/** … and further than so many is none of that mean. */
const SCATTER_SIGMAS = 3;
/** A cylinder pressure further from the last spell's is another cylinder's, Pa. */
const SAME_CYLINDER_PA = 3e5;
const MIDDLE_PA = 1e7;

/** Fall of the line for each Pa of the cylinder's: single-stage ones rise by some mbar per bar (common practice). */
export function priorSlope(plan: DropPlan): { s: number; sigma: number } {
  return plan.regulator?.stages === 2 ? { s: 0, sigma: 0.0008 } : { s: -0.004, sigma: 0.004 };
}

/** Places in a `LevelState`. */
const A = 0;
const S = 1;
const AA = 2;
const AS = 3;
const SS = 4;
const SPELL = 5;
const SCATTER = 6;
const SPELLS = 7;
const JUDGED = 8;
const CYLINDER = 9;
const BEGAN_PA = 10;
const KEEPS = 11;
const LAST_OFF = 12;
const PLACES = 13;

/**
 * Part of what a spell stands off the mean level that stays with the mean: near 0 where a regulator comes to
 * another level each time, 1 where it wanders off slowly. Learnt from whether spells in a row err alike.
 */
const FIRST_KEEPS = 1;
const LEAST_KEEPS = 0.15;
const KEEPS_LEARNS = 0.12;

/** Variance of a spell's level about what the ones before let expect, Pa². */
export function levelScatter(level: LevelState | null): number {
  return level?.[SCATTER] ?? FIRST_SCATTER_PA ** 2;
}

/** A level that an older version saved knows nothing yet of how well its regulator repeats. */
function withScatter(level: LevelState, onSince: number, cylinderPa: number): LevelState {
  if (level.length === PLACES) return level;
  const learnt = level.length > CYLINDER ? level : null;
  return Float64Array.of(
    ...level.slice(0, SCATTER),
    // It was the variance of one spell's level, and two were compared.
    learnt === null ? levelScatter(null) : 2 * levelScatter(learnt),
    learnt?.[SPELLS] ?? 0,
    onSince,
    cylinderPa,
    expectedLevel(level, cylinderPa).pa,
    FIRST_KEEPS,
    0,
  );
}

/** A level with nothing learnt but the slope, where that was learnt before. */
export function startLevel(plan: DropPlan, state: DropState, pa: number, cylinderPa: number): void {
  const { s, sigma } = priorSlope(plan);
  const slope = state.level?.[S] ?? s;
  const ss = state.level?.[SS] ?? sigma ** 2;
  const z = cylinderPa - MIDDLE_PA;
  const own = 300 ** 2;
  state.level = Float64Array.of(
    pa - slope * z,
    slope,
    own + z * z * ss,
    -z * ss,
    ss,
    state.onSince ?? 0,
    levelScatter(state.level),
    state.level?.[SPELLS] ?? 0,
    state.onSince ?? 0,
    cylinderPa,
    pa,
    state.level?.[KEEPS] ?? FIRST_KEEPS,
    0,
  );
}

/** Expected flowing level at a cylinder pressure (both gauge Pa), with its variance. */
export function expectedLevel(level: LevelState, cylinderPa: number) {
  const z = cylinderPa - MIDDLE_PA;
  return {
    pa: level[A]! + level[S]! * z,
    variance: Math.max(level[AA]! + 2 * z * level[AS]! + z * z * level[SS]!, 0),
  };
}

/** What another cylinder pressure (both gauge Pa) does to a regulator's levels, with its 1 sigma, Pa. */
export function levelMoves(
  plan: DropPlan,
  level: LevelState,
  fromPa: number,
  toPa: number,
): { pa: number; sigma: number } {
  // What one cylinder taught of the slope is a straight line: no better known than to a quarter of what it was at first.
  const sigma = Math.max(Math.sqrt(level[SS]!), priorSlope(plan).sigma / 4);
  return { pa: level[S]! * (toPa - fromPa), sigma: sigma * Math.abs(toPa - fromPa) };
}

function learnLevel(level: LevelState, pa: number, cylinderPa: number, noise: number): void {
  const z = cylinderPa - MIDDLE_PA;
  const aa = level[AA]! + WALK_PA ** 2;
  const alongA = aa + z * level[AS]!;
  const alongS = level[AS]! + z * level[SS]!;
  const spread = alongA + z * alongS + noise;
  const away = pa - level[A]! - level[S]! * z;
  level[A] = level[A]! + (alongA / spread) * away;
  level[S] = level[S]! + (alongS / spread) * away;
  level[AA] = Math.max(aa - (alongA * alongA) / spread, 1);
  level[AS] = level[AS]! - (alongA * alongS) / spread;
  level[SS] = Math.max(level[SS]! - (alongS * alongS) / spread, 1e-9);
}

/**
 * Takes in the present reading of a flowing line and compares the plateau with what is expected.
 *
 * @returns lasting step of the level, Pa, with the time at which it began; or null
 */
export function watchLevel(
  plan: DropPlan,
  state: DropState,
  t: number,
  cylinderPa: number,
): { stepPa: number; t: number } | null {
  if (state.on !== true || state.onSince === null) return null;
  if (t - state.onSince < PLATEAU_KNOWN_S)
    return earlyStep(plan, state, t, state.onSince, cylinderPa);
  if (state.meanCount < 5) return null;
  if (state.refPa === null || state.level === null) {
    startLevel(plan, state, state.meanPa, cylinderPa);
    state.refPa = state.meanPa;
    state.refCount = 1;
    return null;
  }
  const level = withScatter(state.level, state.onSince, cylinderPa);
  state.level = level;
  const { step, least, variance } = offLevel(state, level, state.onSince, cylinderPa);
  learnScatter(level, state.onSince, step, variance);
  state.refCount++;
  if (state.gapPa === null || state.gaps < 2 || state.refCount < 20 || Math.abs(step) < least) {
    state.refOff = 0;
    // The first reading of a rise or fall is not the level's.
    const reading = state.linePa ?? state.meanPa;
    if (state.offCount === 0 && Math.abs(reading - state.meanPa) < 4 * Math.sqrt(state.noise)) {
      learnLevel(level, reading, cylinderPa, 2 * state.noise);
    }
    state.refPa = expectedLevel(level, cylinderPa).pa;
    return null;
  }
  state.refOff++;
  if (state.refOff < STEP_READINGS) return null;
  if (climbedTo(state, t)) {
    // Gas may have been off meanwhile: then it is another spell's level, which scatters.
    beginSpell(level, state.onSince, cylinderPa);
    const anew = offLevel(state, level, state.onSince, cylinderPa);
    if (Math.abs(anew.step) < anew.least) {
      state.refOff = 0;
      learnLevel(level, state.meanPa, cylinderPa, state.noise);
      state.refPa = expectedLevel(level, cylinderPa).pa;
      return null;
    }
  }
  return takeStep(plan, state, t, step, cylinderPa);
}

/** A line that is this long on its way from one level up to another was fed: no hand turns a needle so slowly, s (common practice, no source). */
const FED_S = 4;
const FED_MOST_S = 60;

/** Whether the line climbed to its present plateau, or to a height it came down from, as a hose that fills does. */
function climbedTo({ meanCount, lastSampleGap, offT, onSince }: DropState, t: number): boolean {
  const began = t - (meanCount - 1) * Math.max(lastSampleGap, 1);
  const climbedS = began - offT;
  return onSince !== null && offT > onSince && climbedS >= FED_S && climbedS <= FED_MOST_S;
}

/** How far the flowing line stands off what is expected of it, and what such a step has to exceed, Pa. */
function offLevel(state: DropState, level: LevelState, onSince: number, cylinderPa: number) {
  if (level[SPELL] !== onSince) beginSpell(level, onSince, cylinderPa);
  const expected = expectedLevel(level, cylinderPa);
  const variance = state.noise / state.meanCount + expected.variance;
  const sigma = Math.sqrt(variance);
  return {
    step: state.meanPa - expected.pa,
    variance,
    least: Math.max(
      STEP_SIGMAS * fewSpells(level[SPELLS] ?? 0) * sigma,
      0.01 * (state.gapPa ?? 5e4),
      0.001 * Math.abs(expected.pa),
    ),
  };
}

/**
 * A new spell: part of what the one before stood off the mean level stays with it, the rest was that spell's
 * own and says nothing of the next. In place.
 */
function beginSpell(level: LevelState, onSince: number, cylinderPa: number): void {
  const before = level[CYLINDER]!;
  const last = expectedLevel(level, before);
  const off = last.pa - level[BEGAN_PA]!;
  const spread = levelScatter(level);
  // So far off, and the mean was another's: before a screw was turned, or of the first minutes.
  const strange = off ** 2 > SCATTER_SIGMAS ** 2 * spread;
  level[A] = level[A]! - (strange ? 0 : 1 - level[KEEPS]!) * off;
  level[AA] = level[AA]! + Math.max(spread - last.variance, 0);
  level[SPELL] = onSince;
  level[CYLINDER] = cylinderPa;
  level[BEGAN_PA] = expectedLevel(level, cylinderPa).pa;
  // Another cylinder's pressure moves the level by what is not known yet of the supply-pressure effect:
  // it teaches nothing of how well the regulator repeats.
  if (Math.abs(cylinderPa - before) >= SAME_CYLINDER_PA) level[JUDGED] = onSince;
}

/** How far a spell's first plateau stands off what was expected teaches how well the regulator repeats. */
function learnScatter(level: LevelState, onSince: number, offPa: number, variance: number): void {
  if (level[JUDGED] === onSince) return;
  level[JUDGED] = onSince;
  const before = levelScatter(level);
  // Innovations of a filter that gives a mean its due are white.
  const alike = (offPa * level[LAST_OFF]!) / before;
  const keeps = level[KEEPS]! + KEEPS_LEARNS * Math.min(Math.max(alike, -1), 1);
  level[KEEPS] = Math.min(Math.max(keeps, LEAST_KEEPS), 1);
  level[LAST_OFF] = Math.abs(offPa) < SCATTER_SIGMAS * Math.sqrt(before) ? offPa : 0;
  const seen = Math.max(
    before + Math.min(offPa ** 2, TEACHES_SIGMAS ** 2 * variance) - variance,
    0,
  );
  const spells = Math.min((level[SPELLS] ?? 0) + 1, MOST_SPELLS);
  level[SPELLS] = spells;
  level[SCATTER] = Math.max(
    before + (seen - before) / (spells + FIRST_SPELLS),
    LEAST_SCATTER_PA ** 2,
  );
}

/** The level begins anew where the line stands now; the step is dated by the first reading there. */
function takeStep(
  plan: DropPlan,
  state: DropState,
  t: number,
  stepPa: number,
  cylinderPa: number,
): { stepPa: number; t: number } {
  const readings = (state.meanCount - 1) * Math.max(state.lastSampleGap, 1);
  const began = Math.max(t - readings, state.onSince ?? t);
  state.refOff = 0;
  startLevel(plan, state, state.meanPa, cylinderPa);
  state.refPa = state.meanPa;
  return { stepPa, t: began };
}

/**
 * A rise too large and too steady for the way down to the plateau: less flows, which cannot wait. A fall
 * can: it may be a delivery that fell as well. The mean holds readings within its tolerance of the ones
 * before: a line on its way by b a reading would leave it after 2·tolerance/b of them. So n of them
 * bound b, and a step that such a b needs longer than `SURGE_OVER_S` to undo is none of the surge.
 */
function earlyStep(
  plan: DropPlan,
  state: DropState,
  t: number,
  onSince: number,
  cylinderPa: number,
): { stepPa: number; t: number } | null {
  const { gapPa, meanCount } = state;
  // At another cylinder's pressure the level has to be found first.
  if (state.level === null || state.refPa === null || gapPa === null) return null;
  if (state.gaps < 2 || state.refCount < 20) return null;
  const meanS = meanCount * Math.max(state.lastSampleGap, 1);
  // Until the line has left its rest for good the mean is still that of the idle line.
  if (meanCount < EARLY_READINGS || state.levelOff > 0 || meanS > t - onSince + 1) return null;
  const level = withScatter(state.level, onSince, cylinderPa);
  state.level = level;
  const { step, least } = offLevel(state, level, onSince, cylinderPa);
  const perSecond = (2 * levelTolerance(state)) / meanS;
  if (step < Math.max(least, EARLY_STEP * gapPa, SURGE_OVER_S * perSecond)) return null;
  return takeStep(plan, state, t, step, cylinderPa);
}

/** Gas-on seconds after which a line that was turned has shown its step. */
const ANSWERED_S = 25;

/** Whether the line is about to tell whether the flow changed, or ends: early in a spell, or off its level. */
export function lineAnswers(state: DropState, t: number): boolean {
  const { onSince, refOff, gaps, gapPa, levelOff, offCount, linePa, meanPa, noise } = state;
  if (onSince === null || gaps < 2 || gapPa === null) return false;
  const moves = Math.abs((linePa ?? meanPa) - meanPa) > 4 * Math.sqrt(noise);
  return t - onSince < ANSWERED_S || refOff > 0 || levelOff > 0 || offCount > 0 || moves;
}

/** A regulator that droops by less of its gap than this is not known. */
const LEAST_DROOP = 0.1;

/**
 * Whether the line stands too still for a flow that changed as the cylinder's pressure has it:
 * whatever flows makes the regulator droop, be it little.
 *
 * @param t now, Unix s
 * @param log logarithm of new over old flow
 * @param ageS for how long it would flow so, s
 */
export function lineStandsStill(state: DropState, t: number, log: number, ageS: number): boolean {
  const { gapPa, refPa, turn, onSince } = state;
  if (gapPa === null || refPa === null || turn !== null) return false;
  if (state.gaps < 2) return false;
  // At the start of a spell the line answers in some seconds: till then nothing is sure.
  if (state.meanCount < 3) return true;
  // The level has to be older than the change.
  if (state.refCount < Math.min(ageS, 20)) return false;
  const [share, spread] = state.droopShare;
  const least = Math.max(LEAST_DROOP, share - 2 * spread) * gapPa * (1 - Math.exp(log));
  const step = state.meanPa - refPa;
  // From one spell to the next the level scatters; within one it does not.
  const spells = onSince !== null && t - ageS - onSince > PLATEAU_KNOWN_S ? 0 : 1;
  const unsure = Math.max(
    3 * Math.sqrt(state.noise / state.meanCount + spells * levelScatter(state.level)),
    0.01 * gapPa,
  );
  return Math.abs(least) - step * Math.sign(least) > unsure;
}

/** Where the mean flowing level stands now, with the cylinder pressure that belongs to it, Pa; null until learnt. */
export function meanLevel({ level }: DropState): { pa: number; cylinderPa: number } | null {
  if (level === null || level.length !== PLACES) return null;
  return { pa: level[BEGAN_PA]!, cylinderPa: level[CYLINDER]! };
}

/** What the line's wander within a spell leaves of its level, 1 sigma, Pa. */
const WANDER_PA = 200;
/** The line takes no more from the cylinder's word. */
const MOST_DENIES = 12;

/**
 * Twice the log likelihood ratio by which the flowing line's level speaks against (below 0) a turned float that
 * the cylinder suggests: whatever flows makes the regulator droop. That a scattering level agrees proves little.
 *
 * @param log logarithm of new over old flow
 * @param was mean level as the float may have been turned
 * @param sinceS Unix s of that
 */
export function lineDenies(
  plan: DropPlan,
  state: DropState,
  log: number,
  was: { pa: number; cylinderPa: number } | null,
  sinceS: number,
): number {
  const { level, gapPa, onSince, meanCount, turn } = state;
  if (plan.tap === "hose" || plan.device.document?.kind === "orifice-gauge") return 0;
  if (level === null || was === null || gapPa === null || state.gaps < 2) return 0;
  // A step that the line has shown by itself is reckoned with already.
  if (turn !== null || onSince === null) return 0;
  // Its plateau is not there yet: it is waited for.
  if (meanCount < 5) return -MOST_DENIES;
  const now = meanLevel(state);
  if (now === null) return 0;
  const within = sinceS - onSince > PLATEAU_KNOWN_S;
  const before = was.pa + level[S]! * (now.cylinderPa - was.cylinderPa);
  const step = within ? state.meanPa - (state.refPa ?? state.meanPa) : state.meanPa - before;
  const spread = state.noise / meanCount + WANDER_PA ** 2;
  const v = within ? spread : spread + levelScatter(level);
  const [share, sigma] = state.droopShare;
  const change = gapPa * (1 - Math.exp(log));
  const turned = v + (sigma * change) ** 2;
  const ratio = (step * step) / v - (step - share * change) ** 2 / turned - Math.log(turned / v);
  return Math.min(Math.max(ratio, -MOST_DENIES), 0);
}

/** Step, as a share of the gap, above which a preset regulator leaves no doubt that the flow changed. */
const LARGE_STEP = 0.3;

/** Logarithm of new over old flow for each share of the gap that may be droop. */
const logAtStep =
  (u: number) =>
  (part: number): number =>
    Math.log(Math.min(Math.max(1 - u / Math.max(part, 0.15), 0.3), 2.5));

/**
 * A rise of more than `LARGE_STEP` of the gap: the droop must be more of the gap than the rise is,
 * and no more than all of it, which leaves the flow little room. Mean and 1 sigma over what is left.
 */
function largeRise(
  u: number,
  share: number,
  spread: number,
): { log: number; sigma: number; sure: boolean } | null {
  const logAt = logAtStep(u);
  let weights = 0;
  let sum = 0;
  let squares = 0;
  for (let part = 0.025; part < 1; part += 0.05) {
    if (part < u) continue;
    const weight = Math.exp(-0.5 * ((part - share) / spread) ** 2);
    const log = logAt(part);
    weights += weight;
    sum += weight * log;
    squares += weight * log * log;
  }
  // What was learnt of the droop speaks against a turned float of this size.
  if (weights < 1e-3) return null;
  const mean = sum / weights;
  return {
    log: mean,
    sigma: Math.sqrt(Math.max(squares / weights - mean * mean, 0)) + 0.03,
    sure: true,
  };
}

/** Beyond what a bench test says of itself: the droop of another day and cylinder pressure, 1 sigma, share. */
const TESTED_AGAIN = 0.1;

/** Droop's share of the gap with its 1 sigma at a flow (L/min): as bench-tested, else as learnt. */
function droopShareAt(plan: DropPlan, state: DropState, lpm: number): readonly [number, number] {
  const tested = plan.device.fit?.droopPaPerLpm ?? null;
  if (tested === null || !(tested.value > 0) || !(lpm > 0) || state.gapPa === null) {
    return state.droopShare;
  }
  const share = Math.min((tested.value * lpm) / state.gapPa, 1);
  return [share, share * Math.hypot(tested.sigma / tested.value, TESTED_AGAIN)];
}

/**
 * What a step says about the flow: the logarithm of new over old, with its 1 sigma; null: no turned float.
 *
 * @param lpm flow before the step, L/min
 */
export function turnedBy(
  plan: DropPlan,
  state: DropState,
  stepPa: number,
  lpm: number,
): { log: number; sigma: number; sure: boolean } | null {
  // An orifice is no valve: its flow is set by the pressure, which the line shows.
  if (plan.device.document?.kind === "orifice-gauge" || state.gapPa === null) return null;
  const u = stepPa / state.gapPa;
  // More than droop can do: the delivery pressure was changed.
  if (u > 0.75 || u < -1.5) return null;
  const [share, spread] = droopShareAt(plan, state, lpm);
  if (u > LARGE_STEP && plan.regulator?.adjust !== "screw") {
    const large = largeRise(u, share, spread);
    if (large !== null) return large;
  }
  const logAt = logAtStep(u);
  const log = logAt(share);
  // Droop alone cannot be more than the gap.
  const sigma = Math.abs(logAt(share - spread) - logAt(Math.min(share + spread, 1))) / 1.5 + 0.01;
  // A screw may have been turned just as well.
  if (plan.regulator?.adjust === "screw") {
    return { log: 0.5 * log, sigma: Math.abs(log) + 0.01, sure: false };
  }
  // A line that falls may be a delivery that fell, which no bench test of the droop tells apart from a
  // float that was opened.
  const fell = stepPa / (state.meanPa - stepPa + plan.atmospherePa);
  const turned = u < 0 ? chanceOfTurn(log, fell) : 1;
  const spreadLog = Math.sqrt(turned * sigma ** 2 + turned * (1 - turned) * log ** 2);
  const tested = u < 0 && plan.device.fit?.droopPaPerLpm != null;
  return {
    log: turned * log,
    // What is known of the droop says nothing of the delivery: that nothing was turned stays within 2 sigma.
    sigma: tested ? Math.max(spreadLog, 0.5 * turned * log) : spreadLog,
    sure: Math.abs(u) > LARGE_STEP && turned > SURELY_TURNED,
  };
}

/** Floats are opened nine times for each delivery that falls, by some 40 % (common practice, no source) ... */
const OPENED = { share: 0.9, log: 0.4 };
/** ... and a delivery that falls does so by some 15 % (common practice, no source). */
const FELL = { share: 0.1, part: 0.15 };
const SURELY_TURNED = 0.9;
/** Smaller turns are taken as such: the cylinder is asked before they are told, and they hide little. */
const LARGE_TURN = 0.3;

/**
 * A line that falls may be a float that was opened, or a delivery that fell. A float opened threefold is
 * less likely than a regulator that gives a fifth less.
 *
 * @param log logarithm of new over old flow, were it the float
 * @param fall of the line, share of its absolute pressure
 */
function chanceOfTurn(log: number, fall: number): number {
  if (log < LARGE_TURN) return 1;
  const turned = (OPENED.share / OPENED.log) * Math.exp(-0.5 * (log / OPENED.log) ** 2);
  const fell = (FELL.share / FELL.part) * Math.exp(-0.5 * (fall / FELL.part) ** 2);
  return turned / (turned + fell);
}

/** A turn that the cylinder has measured teaches how much of the gap is droop. */
export function learnShare(state: DropState, step: number, log: number, sigmaLog: number): void {
  const change = 1 - Math.exp(log);
  if (Math.abs(change) < 0.05 || step / change <= 0) return;
  const seen = Math.min(Math.max(step / change, 0.1), 1.2);
  const sigma = (seen * sigmaLog) / Math.abs(change) + 0.1;
  const [share, spread] = state.droopShare;
  const gain = spread ** 2 / (spread ** 2 + sigma ** 2);
  state.droopShare = [share + gain * (seen - share), Math.max(Math.sqrt(1 - gain) * spread, 0.05)];
}
