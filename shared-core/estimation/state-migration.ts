import { AIR, LOOPS, OFFSET, OFFSET_AT_TOP, SPAN, setVariance } from "./cylinder-filter.ts";
import { fromBase64, fromLowerTriangle, unpackState } from "./state-codec.ts";
import type { EngineState } from "./supply-state.ts";

/**
 * States that earlier versions wrote. Version 3 was JSON, with arrays as base64 under `f64`,
 * `f32`, `u8`, and objects as the lists of their values in the order of the names below.
 */

interface Shape {
  [name: string]: Shape | Shape[] | null;
}

const names = (text: string, inner: Shape = {}): Shape =>
  Object.fromEntries(text.split(" ").map((name) => [name, inner[name] ?? null]));

const trend = names("t weight a aa v av vv base");

const version3: Shape = names(
  "every newestT nextLine received packReceived silent catchingUp paceFlowing paceIdle packGapS filter cylinder drops candidates dialStarts habits spells leak liquid alarms alarmStates events faults nodes purges jobs",
  {
    filter: names(
      "t x p started warm bodyK slowVariance considered loop gaugePa blockSum blockSpread blockCount blockBefore updates refused",
    ),
    cylinder: names(
      "valve closedSince heldT readingPa readingT wallK wallT noise previous wallNoise wallPrevious suspect suspectGapS lowPa risenT closedIdle steady settleUntil knownFrom lastSwap zeroT announced liquid massKg wallRefused wallTrend dayMostK stuckPa stuckS",
      { wallTrend: trend },
    ),
  },
);
version3.drops = [
  names(
    "on onSince offSince linePa lineT meanPa meanCount levelOff anchorPa anchorCount driftCount offCount offT idlePa flowPa refPa refOff refCount gapPa gaps noise previous zeroPa zeroVariance bled hosePa arc arcT arcSince arcOffSince idleSince lineTrend bodyTrend regulatorK regulatorT ambientK ambientT supplyVoltage learntS spells lastSampleGap lastReDial lastReminderDay",
    { lineTrend: trend, bodyTrend: trend },
  ),
];
version3.habits = [
  names(
    "share seen hour observedS gasOnS day dayGasOnS dayObservedS days dayMeanS daySquare offsetS offsetHour",
  ),
];
version3.spells = [names("count mean square")];
version3.leak = names("since t x p base gasK weight weighted hours lineRate lineSigma");
version3.liquid = names("anchorMol anchorVariance drawnMol below mol variance boilsK");

/** Kept apart by version: what changed its meaning, or belongs to the lines that were under way. */
const anew = ["candidates", "events", "alarms", "alarmStates", "leak"];

/**
 * What a state of version 3 had learnt, in the present shape: all that still means the same is
 * taken over, the rest starts anew.
 *
 * @param fresh state of a new engine for the same documents
 * @param waterVolumeM3 of the cylinder or bank
 * @throws Error where the state is not what version 3 wrote
 */
export function migrateVersion3(
  saved: unknown,
  fresh: EngineState,
  waterVolumeM3: number,
): EngineState {
  const old = unpackState(revive(saved), version3);
  if (!isRecord(old) || !isRecord(old.filter) || !isRecord(old.leak)) {
    throw new Error("not an estimator state of version 3");
  }
  const { filter, leak } = old;
  if (!(filter.p instanceof Float64Array && filter.x instanceof Float64Array)) {
    throw new Error("not an estimator state of version 3: it has no filter");
  }
  filter.p = fromLowerTriangle(filter.p, filter.x.length);
  splitLoop(old as unknown as FilterBefore15, fresh);
  const kept = Object.entries(old).filter(([name]) => !anew.includes(name));
  const state = adopt(fresh, Object.fromEntries(kept)) as EngineState;
  partOffset(state.filter, fresh.filter);
  state.filter.bodyZeroK = BODY_ZERO_BEFORE_13;
  // Use was counted since the last re-dial only.
  for (const drop of state.drops) drop.usedS = drop.learntS;
  // Losses were densities per second; the spell in progress starts anew.
  if (typeof leak.weight === "number" && typeof leak.weighted === "number") {
    state.leak.weight = leak.weight / waterVolumeM3 ** 2;
    state.leak.weighted = leak.weighted / waterVolumeM3;
    state.leak.hours = typeof leak.hours === "number" ? leak.hours : 0;
  }
  return state;
}

/** Until version 12 the sensor's body counted from 20 °C, K. */
export const BODY_ZERO_BEFORE_13 = 293.15;

/**
 * Fields that each version added to the state, to its filter, its drops and its grid, at the end of their records: an older
 * state starts with their first values.
 */
const added: Record<
  number,
  Partial<Record<"state" | "filter" | "drops" | "grid", readonly string[]>>
> = {
  8: { filter: ["driftVariance", "loopDoubt", "loopFall"] },
  9: {},
  10: { state: ["breaks"] },
  11: {},
  12: { state: ["grid"] },
  13: { filter: ["bodyZeroK"], drops: ["climbS"] },
  14: { drops: ["falseClimbs"] },
  15: { drops: ["arcDoubt", "held"] },
  16: { drops: ["secondReminder", "unseenBody"] },
  17: { grid: ["wallK"] },
};

/**
 * A new engine's state with the fields that `version` had; null where its states are not taken over.
 *
 * @param present the version that is written now
 */
export function namesBefore(version: number, present: number, fresh: EngineState): unknown {
  if (version > present) return null;
  const later = {
    state: [] as string[],
    filter: [] as string[],
    drops: [] as string[],
    grid: [] as string[],
  };
  for (let v = version + 1; v <= present; v++) {
    const fields = added[v];
    if (fields === undefined) return null;
    later.state.push(...(fields.state ?? []));
    later.filter.push(...(fields.filter ?? []));
    later.drops.push(...(fields.drops ?? []));
    later.grid.push(...(fields.grid ?? []));
  }
  const filter = without(fresh.filter, later.filter);
  const drops = fresh.drops.map((drop) => without(drop, later.drops));
  const grid = without(fresh.grid, later.grid);
  return without({ ...fresh, filter, drops, grid }, later.state);
}

function without(record: object, names: readonly string[]): object {
  return Object.fromEntries(Object.entries(record).filter(([name]) => !names.includes(name)));
}

/**
 * Until version 15 the day of the latest reminder carried a part of a day where gas was on since, and another
 * where a second one was given. In place.
 */
export function splitReminder(drops: EngineState["drops"]): void {
  for (const drop of drops) {
    const part = drop.lastReminderDay % 1;
    drop.lastReminderDay -= part;
    drop.secondReminder = part === 0 ? null : part === 0.5 ? "due" : "given";
  }
}

interface FilterBefore15 {
  filter: { x: Float64Array; p: Float64Array; loop: unknown };
  leak: { error?: unknown };
}

/** Where the filter's states before version 15 began to lie one further on: the probe's part of the air is new. */
const FIRST_AFTER_AIR = AIR;

/**
 * Puts the states that an older filter had where they lie now; those that are new since start as in a new
 * engine. In place.
 *
 * @param place where state i lies now
 */
function widen(old: FilterBefore15, fresh: EngineState, place: (i: number) => number): void {
  const { filter } = old;
  const n = fresh.filter.x.length;
  const before = filter.x.length;
  const wide = (vector: ArrayLike<number>, start: ArrayLike<number>): Float64Array => {
    const out = Float64Array.from(start);
    for (let i = 0; i < vector.length; i++) out[place(i)] = vector[i]!;
    return out;
  };
  const p = Float64Array.from(fresh.filter.p);
  for (let i = 0; i < before; i++) {
    for (let j = 0; j < before; j++) p[place(i) * n + place(j)] = filter.p[i * before + j]!;
  }
  filter.x = wide(filter.x, fresh.filter.x);
  filter.p = p;
  const { error } = old.leak;
  if (error instanceof Float64Array && error.length === before) {
    old.leak.error = Float32Array.from(wide(error, new Float64Array(n)));
  }
}

/**
 * Until version 8 the sensor's hysteresis was one play, which is the widest of the present ones: the finer
 * ones start as in a new engine. In place.
 */
export function splitLoop(old: FilterBefore15, fresh: EngineState): void {
  const { filter } = old;
  if (filter.x.length !== fresh.filter.x.length - LOOPS || typeof filter.loop !== "number") return;
  widen(old, fresh, (i) => (i < FIRST_AFTER_AIR ? i : i + LOOPS));
  filter.loop = new Float64Array(LOOPS).fill(filter.loop);
}

/** Until version 14 the probe's part of the air was a constant. In place, with the candidates' errors. */
export function addAir(old: EngineState, fresh: EngineState): void {
  if (old.filter.x.length !== fresh.filter.x.length - 1) return;
  widen(old, fresh, (i) => (i < FIRST_AFTER_AIR ? i : i + 1));
  for (const candidate of old.candidates) {
    const error = new Float32Array(fresh.filter.x.length);
    candidate.error.forEach((value, i) => {
      error[i < FIRST_AFTER_AIR ? i : i + 1] = value;
    });
    candidate.error = error;
  }
}

/**
 * Until version 10 an offset was one over the whole range, and a learnt zero left less than half the sensor's
 * class at its top: the error stays what it is, and how little of it is known is as in a new engine. In place.
 */
export function partOffset(filter: EngineState["filter"], fresh: EngineState["filter"]): void {
  filter.x[SPAN] = filter.x[SPAN]! + (1 - OFFSET_AT_TOP) * filter.x[OFFSET]!;
  // The next reading gives back what is left of the class, along with the content it looks like.
  setVariance(filter, SPAN, 1);
  const span = fresh.considered.find(({ i }) => i === SPAN);
  filter.considered = filter.considered.map((kept) =>
    kept.i === SPAN && span !== undefined ? { ...span } : kept,
  );
}

/** `fresh` with every value of `old` that has its name and kind. */
function adopt(fresh: unknown, old: unknown): unknown {
  if (old === undefined) return fresh;
  if (ArrayBuffer.isView(fresh)) {
    const same =
      ArrayBuffer.isView(old) &&
      old.constructor === fresh.constructor &&
      old.byteLength === fresh.byteLength;
    return same ? old : fresh;
  }
  if (Array.isArray(fresh)) {
    if (!Array.isArray(old)) return fresh;
    return isRecord(fresh[0]) ? fresh.map((entry, k) => adopt(entry, old[k])) : old;
  }
  if (isRecord(fresh)) {
    if (!isRecord(old)) return fresh;
    return Object.fromEntries(
      Object.entries(fresh).map(([name, value]) => [name, adopt(value, old[name])]),
    );
  }
  if (fresh === null || old === null || typeof fresh === typeof old) return old;
  return fresh;
}

const special: Record<string, number> = {
  NaN: Number.NaN,
  inf: Number.POSITIVE_INFINITY,
  "-inf": Number.NEGATIVE_INFINITY,
  "-0": -0,
};

/** Arrays and numbers that JSON cannot write, as version 3 named them. */
function revive(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(revive);
  if (!isRecord(value)) return value;
  const entries = Object.entries(value);
  const [kind, content] = entries[0] ?? [];
  if (entries.length === 1 && typeof content === "string") {
    if (kind === "f64") return new Float64Array(fromBase64(content).buffer);
    if (kind === "f32") return new Float32Array(fromBase64(content).buffer);
    if (kind === "u8") return fromBase64(content);
    if (kind === "num" && content in special) return special[content];
  }
  return Object.fromEntries(entries.map(([name, entry]) => [name, revive(entry)]));
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return (
    typeof value === "object" &&
    value !== null &&
    !Array.isArray(value) &&
    !ArrayBuffer.isView(value)
  );
}
