import type { StationDocument, SupplyDocument } from "../documents/station.ts";
import type { Estimate, Priority, ScaleReading } from "../estimation/estimate.ts";
import type { Language } from "./language/languages.ts";
import type { SaidAlarm } from "./language/said.ts";
import type { WarmDelivery } from "./warm-delivery.ts";

/**
 * What an alarm condition may look at: the estimate of this moment and the numbers behind it.
 * The estimator fills it at each sample time; conditions are pure and cheap.
 *
 * Fields marked optional sharpen a condition or its text and may be left out: a condition that
 * needs one then says that it cannot tell (`cannotTell`) or words its advice without the number.
 */
export interface StationSnapshot {
  /** Unix seconds. */
  t: number;
  station: StationDocument;
  supply: SupplyDocument | null;
  /** Places of the other stations that draw from the same supply. */
  otherPlaces?: ReadonlyArray<{ name: string; place: StationDocument["place"] }>;
  /** Local hour of the day, 0 to 24, by the site's time zone offset as last known; null if unknown. */
  localHour: number | null;
  mode: Estimate["mode"];
  /** Since when gas is on (start of the present gas-on spell), Unix s; null while off. */
  gasOnSince: number | null;
  gasOffSince: number | null;
  /** True flow now, `metric20` L/min: mean and 1 sigma; null when unknown. */
  flow: { meanLpm: number; sigmaLpm: number } | null;
  /** Idle: flow of the next gas-on. */
  expectedFlow: { meanLpm: number; sigmaLpm: number } | null;
  demand: { minimumLpm: number | null; targetLpm: number | null; maximumLpm: number | null } | null;
  /** Content, `metric20` L: mean and 1 sigma, what is usable, and what a full one holds. */
  content: {
    meanL: number;
    sigmaL: number;
    usableL: number;
    fullL: number;
    /** Liquid CO2 may be present: pressure says nothing about content. */
    liquid: boolean;
  } | null;
  /** Smaller of gas-on minutes at the present and at the target flow: median and 1 sigma. */
  remainingMinutes: { median: number; sigma: number } | null;
  /** Mean use of a day at this station, L; null until learnt. */
  usePerDayL: number | null;
  /** Gauge Pa and K as measured now; null where not fitted, stale or in fault. */
  cylinderPa: number | null;
  linePa: number | null;
  cylinderK: number | null;
  regulatorK: number | null;
  ambientK: number | null;
  arc: boolean | null;
  arcSince: number | null;
  /** Idle line pressure: trend over the last minutes, Pa/s with 1 sigma, and the share that heat explains. */
  idleLine: {
    /** Since when the line has been idle and under pressure, Unix s. */
    since: number;
    trendPaPerS: number;
    trendSigmaPaPerS: number;
    /** Greatest trend that P/T of the trapped gas explains from the measured temperatures, Pa/s. */
    heatPaPerS: number;
    /** Body below ambient after a cold run: what drives the pressure is unknown while it thaws. */
    thawing: boolean;
    /**
     * While thawing: greatest trend if all the trapped gas followed the warming body, Pa/s. A rise
     * above this and `heatPaPerS` is no thaw. Left out: nothing is concluded while it thaws.
     */
    thawPaPerS?: number;
    /** Forecast of the line at the day's hottest by heat alone, gauge Pa. */
    forecastPa: number;
  } | null;
  /** Delivery (line) pressure while flowing, expected from the learnt regulator, gauge Pa. */
  expectedLinePa: number | null;
  /** Predicted lowest body temperature over the next minutes at the present flow, K. */
  bodyForecastK: number | null;
  leak: { meanLpm: number; sigmaLpm: number; side: Estimate["leak"]["side"] } | null;
  /** Latest re-dial: ratio and time. */
  lastReDial: { t: number; ratio: number } | null;
  lastSwap: { t: number } | null;
  /** Channels in fault and since when. */
  faults: ReadonlyArray<{ channel: string; fault: string; since: number }>;
  /** Usual length of a gas-on spell here, s: the 99th percentile of the habit, with its count. */
  usualSpellS: { p99: number; count: number } | null;
  /** Nobody welds here at this hour of the week, as far as it was ever seen. */
  quietHour?: boolean;
  purge: {
    since: number;
    volumes: number | null;
    volumesPassed: number | null;
    targetVolumes: number | null;
    /** Time that was declared, min; null where none was. */
    minutes?: number | null;
    /** Seconds of gas-on since it was declared; the time since then where left out. */
    gasOnS?: number;
  } | null;
  job: {
    plannedArcMinutes: number | null;
    gasless: boolean;
    since: number;
    /** Gas-on minutes spent on this job so far; 0 where left out. */
    gasOnMinutesDone?: number;
  } | null;
  supplyVoltage: number | null;
  node: {
    silentSince: number | null;
    clockWrong: boolean;
    configError: string | null;
    /** Silent by plan (main switch at night): no alarm. */
    plannedOff?: boolean;
  };

  /** An idle line whose newest reading fell, or has not come half-way from flow to rest: the next ones settle whether gas is off. */
  lineUnsettled?: boolean;
  /** Hose tap: gas is on and none leaves the torch, by the hose's latest readings. */
  hoseLetsNoneOut?: boolean;
  /** As in the estimate, in the unit printed on the device. */
  indicated?: ScaleReading;
  dialTo?: ScaleReading;
  /** True flow as last told while gas was on, for texts after gas-off; null before. */
  lastFlow?: { meanLpm: number; sigmaLpm: number } | null;
  /** Cylinder below the pressure where the regulator, wide open, holds 90 % of the target flow. */
  belowHoldPressure?: boolean | undefined;
  /** Since when the arc is off, Unix s; null while it burns or was never seen. */
  arcOffSince?: number | null;
  /** Reserve side of a supply feeds now, since (Unix s); null while the main side does. */
  reserveInUseSince?: number | null;
  /** Hose tap: line pressure over what is usual at this flow, with 1 sigma. Only while flowing. */
  backPressure?: { ratio: number; sigma: number } | null;
  /** Chance (0 to 1) that the gas is not what the label says, and what it behaves like. */
  gasDoubt?: { probability: number; looksLike: string | null } | null;
  /** Chance (0 to 1) that delivery falls by 5 % through cold within `withinS` at the present flow. */
  icing?: { probability: number; withinS: number } | null;
  /** When the oldest calibration of this station runs out, Unix s. */
  calibrationDueT?: number | null;
  /** Filled by the gateway: since when no contact of the site can be reached, Unix s. */
  nobodyReachableSince?: number | null;
  /** Units of the site for texts; without it the device's unit decides (CFH goes with psi). */
  units?: { pressure?: "bar" | "psi" | "kPa"; temperature?: "C" | "F" } | undefined;
  /** Language of the site for texts; English where left out. */
  language?: Language | undefined;
}

/** Why an alarm exists and how it behaves (rationalization after IEC 62682 / ISA-18.2). */
export interface Rationalization {
  /** Id of the condition, such as `under-shielding`. */
  condition: string;
  /** Short, in a welder's words. */
  title: string;
  cause: string;
  consequence: string;
  operatorAction: string;
  timeToRespond: string;
  priority: Priority;
  /** In words with unit. */
  deadband: string;
  onDelayS: number;
  offDelayS: number;
  delayReason: string;
  /** Conditions that this one explains and therefore suppresses by design. */
  suppresses: readonly string[];
  /** Set point in words with unit and confidence. */
  limit: string;
  /** `safety` rings in quiet hours too; `weld` is about the work at hand, `gas` about supply and cost. */
  alarmClass: "safety" | "weld" | "gas" | "equipment";
  /** Whether a person must look and acknowledge before it may go back to normal. */
  latched: boolean;
  /** What one occurrence belongs to; drops of one supply share a `supply` occurrence. */
  scope: "station" | "supply" | "site";
}

/** What a condition says of one moment. `null`: it cannot be judged now (data missing), which is never "normal". */
export type Verdict = {
  active: boolean;
  priority?: Priority;
  onDelayS?: number;
  offDelayS?: number;
  /** When it became true, where the condition itself knows, Unix s. */
  since?: number;
  /** It has no meaning just now (gas is off): keep what stands for the condition's `holdS`, stop its delays. */
  hold?: boolean;
  /** Data are here but do not decide; treated as null, with this reason shown. */
  cannotTell?: string;
} | null;

/** What is known of an occurrence when its text is made. */
export interface Occasion {
  since: number;
  priority: Priority;
  /** Ids of the active conditions that this one hides. */
  hidden: readonly string[];
}

/** What the evaluator remembers of the moments before, for conditions that look at a trend. */
export interface RecentPast {
  /** When the mode last went from `valve-closed` or `unknown` to `idle` or `flowing`, Unix s; null: not seen. */
  openedT: number | null;
  /** What the regulator delivered with its body above freezing; null: not seen with this cylinder and setting. */
  warm: WarmDelivery | null;
  /** Warmest body, K, at which this regulator was ever seen to deliver less for its cold; null: never seen. */
  fellK: number | null;
}

/** One alarm condition: its rationalization and its pure test. `active` is its present state, for the deadband. */
export interface AlarmCondition extends Rationalization {
  evaluate(snapshot: StationSnapshot, active: boolean, past: RecentPast): Verdict;
  /** What an active occurrence says, made only when it is shown. Any part of the snapshot may be missing then. */
  describe(snapshot: StationSnapshot, occasion: Occasion): SaidAlarm;
  /** How long a `hold` keeps what stands, s; afterwards it counts as normal. */
  holdS?: number;
  /** Why it cannot tell, where data are missing or do not decide: what its verdicts say. */
  untold?: string;
  /** Judged while the node is silent too; the others cannot be judged then. */
  judgedWhenSilent?: boolean;
  /** Takes the highest priority of what it hides. */
  inheritsPriority?: boolean;
}
