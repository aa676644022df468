/**
 * When gas is used at this station: gas-on share for each hour of the week, learnt with
 * forgetting, on a prior of ordinary shop hours.
 */

/** Plain data: two bytes an hour of the week. */
export interface HabitState {
  /** Gas-on share of each hour of the week, in 1/255. */
  share: Uint8Array;
  /** Times that each day of the week was seen, at most 200; 0 = Thursday. */
  seen: Uint8Array;
  /** Hour in progress (hours since 1970), its observed and its gas-on seconds. */
  hour: number | null;
  observedS: number;
  gasOnS: number;
  /** Duty of the days seen, for the spread between days: mean and mean square of gas-on hours. */
  day: number | null;
  dayGasOnS: number;
  dayObservedS: number;
  days: number;
  dayMeanS: number;
  daySquare: number;
  /** Local time minus UTC, s, with the hour for which it was looked up. */
  offsetS: number;
  offsetHour: number | null;
}

const WEEK_H = 168;
/** Farther ahead nothing is told. */
const MOST_WEEKS = 8;

export function createHabit(): HabitState {
  return {
    share: new Uint8Array(WEEK_H),
    seen: new Uint8Array(7),
    hour: null,
    observedS: 0,
    gasOnS: 0,
    day: null,
    dayGasOnS: 0,
    dayObservedS: 0,
    days: 0,
    dayMeanS: 0,
    daySquare: 0,
    offsetS: 0,
    offsetHour: null,
  };
}

/** Duty of a shop before anything is learnt: Monday to Friday, 7 to 16, an eighth of the time. */
const PRIOR_DUTY = 0.12;
const PRIOR_OUTSIDE = 0.004;
/** Weight of the prior, in hours of the same kind seen. */
const PRIOR_WEIGHT = 1.5;

/** Seconds that local time is ahead of UTC at a moment; 0 for an unknown zone. */
export function zoneOffsetS(timeZone: string | undefined, t: number): number {
  if (timeZone === undefined || timeZone === "UTC") return 0;
  try {
    const parts = new Intl.DateTimeFormat("en-GB", {
      timeZone,
      hourCycle: "h23",
      year: "numeric",
      month: "numeric",
      day: "numeric",
      hour: "numeric",
      minute: "numeric",
    }).formatToParts(t * 1000);
    const read = (type: string): number => Number(parts.find((p) => p.type === type)?.value ?? 0);
    const local = Date.UTC(
      read("year"),
      read("month") - 1,
      read("day"),
      read("hour"),
      read("minute"),
    );
    return Math.round((local / 1000 - t) / 900) * 900;
  } catch {
    return 0;
  }
}

/** Hour of the local week, 0 = Thursday 0:00 (as 1970 began). */
function weekHour(hour: number): number {
  return ((hour % WEEK_H) + WEEK_H) % WEEK_H;
}

function priorShare(weekHourIndex: number): number {
  const weekday = (Math.floor(weekHourIndex / 24) + 3) % 7;
  const hour = weekHourIndex % 24;
  return weekday < 5 && hour >= 7 && hour < 16 ? PRIOR_DUTY : PRIOR_OUTSIDE;
}

/** Local time, s, at a moment. */
export function localTimeS(state: HabitState, timeZone: string | undefined, t: number): number {
  const hour = Math.floor(t / 3600);
  if (state.offsetHour !== hour) {
    state.offsetS = zoneOffsetS(timeZone, t);
    state.offsetHour = hour;
  }
  return t + state.offsetS;
}

/** Counts an observed stretch of `dtS` that ends at local time `localS`. */
export function observe(state: HabitState, localS: number, dtS: number, on: boolean): void {
  const hour = Math.floor(localS / 3600);
  if (state.hour !== null && hour !== state.hour) closeHour(state);
  state.hour = hour;
  const day = Math.floor(localS / 86_400);
  if (state.day !== null && day !== state.day) closeDay(state);
  state.day = day;
  const seconds = Math.min(dtS, 900);
  state.observedS += seconds;
  state.dayObservedS += seconds;
  if (on) {
    state.gasOnS += seconds;
    state.dayGasOnS += seconds;
  }
}

function closeHour(state: HabitState): void {
  weeks.delete(state);
  if (state.hour !== null && state.observedS > 900) {
    const k = weekHour(state.hour);
    const share = Math.min(1, state.gasOnS / state.observedS);
    const seen = state.seen[Math.floor(k / 24)]!;
    const old = state.share[k]! / 255;
    // A running mean that forgets beyond about ten weeks.
    const mean = old + (share - old) / Math.min(seen + 1, 10);
    state.share[k] = Math.round(255 * mean);
  }
  state.observedS = 0;
  state.gasOnS = 0;
}

function closeDay(state: HabitState): void {
  weeks.delete(state);
  if (state.day !== null && state.dayObservedS > 4 * 3600) {
    const weekday = ((state.day % 7) + 7) % 7;
    state.seen[weekday] = Math.min(state.seen[weekday]! + 1, 200);
  }
  // A day that used gas counts as a working day.
  if (state.dayObservedS > 4 * 3600 && state.dayGasOnS > 60) {
    state.days = Math.min(state.days + 1, 60);
    const weight = 1 / Math.min(state.days, 20);
    state.dayMeanS += weight * (state.dayGasOnS - state.dayMeanS);
    state.daySquare += weight * (state.dayGasOnS ** 2 - state.daySquare);
  }
  state.dayGasOnS = 0;
  state.dayObservedS = 0;
}

/** Expected gas-on share of an hour of the week: what was seen, on the prior and the same hour of other days. */
function dutyOf(state: HabitState, k: number): number {
  const weekday = (Math.floor(k / 24) + 3) % 7;
  const hour = k % 24;
  let sum = 0;
  let weight = 0;
  for (let day = 0; day < 7; day++) {
    const other = (day - 3 + 7) % 7;
    const j = other * 24 + hour;
    const alike = weekday < 5 === day < 5;
    if (day === weekday || !alike || state.seen[other] === 0) continue;
    sum += state.share[j]! / 255;
    weight++;
  }
  const prior =
    (priorShare(k) * PRIOR_WEIGHT + sum * Math.min(1, weight)) /
    (PRIOR_WEIGHT + weight * Math.min(1, weight));
  const seen = state.seen[Math.floor(k / 24)]!;
  return (prior * PRIOR_WEIGHT + (state.share[k]! / 255) * seen) / (PRIOR_WEIGHT + seen);
}

/** Reckoned once between the ends of two hours: lines ask often. */
interface Week {
  /** Shares of all hours of the week. */
  duties: Float64Array;
  /** By how busy it is: gas-on seconds from the week's start to that of each hour, and of all of it. */
  used: Map<number, Float64Array>;
}

const weeks = new WeakMap<HabitState, Week>();

function weekOf(state: HabitState): Week {
  let week = weeks.get(state);
  if (week === undefined) {
    week = {
      duties: Float64Array.from({ length: WEEK_H }, (_, k) => dutyOf(state, k)),
      used: new Map(),
    };
    weeks.set(state, week);
  }
  return week;
}

function usedOf({ duties, used }: Week, factor: number): Float64Array {
  let table = used.get(factor);
  if (table === undefined) {
    table = new Float64Array(WEEK_H + 1);
    for (let k = 0; k < WEEK_H; k++) {
      table[k + 1] = table[k]! + 3600 * Math.min(1, duties[k]! * factor);
    }
    used.set(factor, table);
  }
  return table;
}

/** Expected gas-on share at local time `localS`. */
export function dutyAt(state: HabitState, localS: number): number {
  return weekOf(state).duties[weekHour(Math.floor(localS / 3600))]!;
}

/** So often must a day of the week have been seen before its hours count as quiet. */
const QUIET_SEEN = 3;

/** Whether nobody has used gas at this hour of the week, nor in the hours beside it, where that is known. */
export function isQuietHour(state: HabitState, localS: number): boolean {
  const hour = Math.floor(localS / 3600);
  for (const k of [weekHour(hour - 1), weekHour(hour), weekHour(hour + 1)]) {
    if (state.seen[Math.floor(k / 24)]! < QUIET_SEEN || state.share[k]! > 0) return false;
  }
  return true;
}

/** Whether it is more than this likely that gas flows unseen, the interval of an idle flow says so. */
const UNSEEN_SHARE = 0.025;

/**
 * Without a line sensor gas-on shows only after `delayS`: whether the habit of this hour makes it
 * likely enough that gas is on at a moment that looks idle.
 *
 * @param spellS usual length of a spell, s; shorter ones pass unseen altogether
 */
export function mayFlowUnseen(
  state: HabitState,
  localS: number,
  spellS: number,
  delayS: number,
): boolean {
  return dutyAt(state, localS) * Math.min(1, delayS / Math.max(spellS, 1)) > UNSEEN_SHARE;
}

/**
 * Minutes by the clock until `gasOnMinutes` of gas are used, from local time `localS`.
 *
 * @param factor how much busier than usual (above 1) or quieter (below 1)
 * @returns minutes, at most eight weeks; null beyond
 */
export function clockMinutes(
  state: HabitState,
  localS: number,
  gasOnMinutes: number,
  factor: number,
  gasIsOn: boolean,
): number | null {
  if (gasOnMinutes <= 0) return 0;
  const week = weekOf(state);
  const used = usedOf(week, factor);
  const hour = Math.floor(localS / 3600);
  const first = weekHour(hour);
  const span = (hour + 1) * 3600 - localS;
  let duty = Math.min(1, week.duties[first]! * factor);
  // Gas that flows now goes on for a while, whatever the hour usually sees.
  if (gasIsOn) duty = Math.max(duty, 0.5 * Math.min(1, factor));
  let left = gasOnMinutes * 60;
  if (duty * span >= left) return left / duty / 60;
  left -= duty * span;
  const whole = used[WEEK_H]!;
  if (left > whole * MOST_WEEKS) return null;
  const passed = Math.floor(left / whole);
  // From here on counted from the start of a week.
  const from = (first + 1) % WEEK_H;
  left += used[from]! - passed * whole;
  const over = left > whole ? 1 : 0;
  left -= over * whole;
  let k = over === 1 ? 0 : from;
  while (used[k + 1]! < left && k + 1 < WEEK_H) k++;
  const hours = (passed + over) * WEEK_H + k - from;
  const perHour = used[k + 1]! - used[k]!;
  const rest = perHour > 0 ? (3600 * (left - used[k]!)) / perHour : 0;
  const elapsed = span + 3600 * hours + rest;
  return elapsed > MOST_WEEKS * WEEK_H * 3600 ? null : elapsed / 60;
}

/** Mean gas-on seconds of a working day; null until three were seen. */
export function meanDayS(state: HabitState): number | null {
  return state.days >= 3 ? state.dayMeanS : null;
}

/** Relative spread between working days (1 sigma of the log), within reason. */
export function daySpread(state: HabitState): number {
  if (state.days < 4 || !(state.dayMeanS > 0)) return 0.5;
  const variance = Math.max(0, state.daySquare - state.dayMeanS ** 2);
  return Math.min(0.8, Math.max(0.15, Math.sqrt(variance) / state.dayMeanS));
}
