import type { StationDocument, SupplyDocument } from "../documents/station.ts";
import type { Estimate, Priority } from "../estimation/estimate.ts";

/**
 * What an alarm condition may look at: the estimate of this moment and the numbers behind it.
 * The estimator fills it at each sample time; conditions are pure and cheap.
 */
export interface StationSnapshot {
  /** Unix seconds. */
  t: number;
  station: StationDocument;
  supply: SupplyDocument | null;
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
  purge: {
    since: number;
    volumes: number | null;
    volumesPassed: number | null;
    targetVolumes: number | null;
  } | null;
  job: { plannedArcMinutes: number | null; gasless: boolean; since: number } | null;
  supplyVoltage: number | null;
  node: {
    silentSince: number | null;
    clockWrong: boolean;
    configError: string | null;
  };
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
}

/** What a condition says of one moment. `null`: it cannot be judged now (data missing), which is never "normal". */
export type Verdict = {
  active: boolean;
  priority?: Priority;
  title?: string;
  advice?: string;
  onDelayS?: number;
} | null;

/** One alarm condition: its rationalization and its pure test. `active` is its present state, for the deadband. */
export interface AlarmCondition extends Rationalization {
  evaluate(snapshot: StationSnapshot, active: boolean): Verdict;
}
