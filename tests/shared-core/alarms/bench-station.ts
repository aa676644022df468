import type { StationSnapshot } from "@leeward/shared-core/alarms/condition.ts";
import { createAlarmEvaluator } from "@leeward/shared-core/alarms/evaluator.ts";
import { stationSchema } from "@leeward/shared-core/documents/station.ts";
import type { ActiveAlarm } from "@leeward/shared-core/estimation/estimate.ts";

/** A pipe-shop bay in good order: TIG on stainless, argon, a float tube set to 8 L/min. */
export const station = stationSchema.parse({
  schema: 1,
  station: "pipe-bay-2",
  site: "boatyard",
  node: "n-02",
  cylinder: {
    gas: "I1-Ar",
    composition: { Ar: 1 },
    waterVolumeL: 50,
    filledBar: 200,
    filledC: 15,
    residualBar: 10,
  },
  regulator: { stages: 1, adjust: "screw", deliveryBar: 3.45, maxLineBar: 8 },
  flowDevice: {
    kind: "variable-area",
    scaleGas: { Ar: 1 },
    scaleBar: 3.45,
    valve: "after-tube",
    readingUnit: "L/min",
    reading: 8,
  },
  lineTap: "regulator-outlet",
  hose: { lengthM: 4, boreMm: 6 },
  sensors: {
    cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 },
    line: { rangeBar: 10, accuracyPercentFs: 0.5 },
  },
  procedure: {
    process: "GTAW",
    material: "stainless",
    cup: 7,
    minimumLpm: 6,
    targetLpm: 8,
    maximumLpm: 10,
  },
  changeover: { minutes: 10 },
});

export const start = 1_764_057_600;

/** Everything in order, idle, with the changes of one test on top. */
export function snapshot(change: Partial<StationSnapshot> = {}): StationSnapshot {
  return {
    t: start,
    station,
    supply: null,
    localHour: 10,
    mode: "idle",
    gasOnSince: null,
    gasOffSince: start - 3600,
    flow: { meanLpm: 0, sigmaLpm: 0 },
    expectedFlow: { meanLpm: 8, sigmaLpm: 0.2 },
    demand: { minimumLpm: 6, targetLpm: 8, maximumLpm: 10 },
    content: { meanL: 6000, sigmaL: 60, usableL: 5500, fullL: 10_700, liquid: false },
    remainingMinutes: { median: 690, sigma: 30 },
    usePerDayL: 900,
    cylinderPa: 115e5,
    linePa: 3.6e5,
    cylinderK: 293,
    regulatorK: 292,
    ambientK: 293,
    arc: null,
    arcSince: null,
    idleLine: {
      since: start - 3600,
      trendPaPerS: 0,
      trendSigmaPaPerS: 2,
      heatPaPerS: 3,
      thawing: false,
      forecastPa: 3.9e5,
    },
    expectedLinePa: null,
    bodyForecastK: null,
    leak: { meanLpm: 0, sigmaLpm: 0.005, side: null },
    lastReDial: null,
    lastSwap: null,
    faults: [],
    usualSpellS: { p99: 180, count: 300 },
    purge: null,
    job: null,
    supplyVoltage: 5,
    node: { silentSince: null, clockWrong: false, configError: null },
    ...change,
  };
}

/** The same station with gas on at the target flow. */
export function flowing(change: Partial<StationSnapshot> = {}): StationSnapshot {
  return snapshot({
    mode: "flowing",
    gasOnSince: start,
    gasOffSince: null,
    flow: { meanLpm: 8, sigmaLpm: 0.2 },
    expectedFlow: null,
    linePa: 3.45e5,
    expectedLinePa: 3.45e5,
    idleLine: null,
    bodyForecastK: 288,
    ...change,
  });
}

/** Runs one evaluator over moments `stepS` apart; `moment` gives the change at each. */
export function run(
  seconds: number,
  moment: (elapsedS: number, t: number) => StationSnapshot,
  stepS = 1,
  evaluator = createAlarmEvaluator(),
): { evaluator: ReturnType<typeof createAlarmEvaluator>; log: ActiveAlarm[][] } {
  const log: ActiveAlarm[][] = [];
  for (let elapsed = 0; elapsed <= seconds; elapsed += stepS) {
    log.push(evaluator.step({ ...moment(elapsed, start + elapsed), t: start + elapsed }));
  }
  return { evaluator, log };
}

/** Seconds (in steps of 1 s) until a condition first shows; null if never. */
export function firstShown(log: readonly ActiveAlarm[][], condition: string): number | null {
  const at = log.findIndex((alarms) => alarms.some((alarm) => alarm.condition === condition));
  return at < 0 ? null : at;
}

/** The alarm of this condition at the last moment. */
export function lastOf(log: readonly ActiveAlarm[][], condition: string): ActiveAlarm | undefined {
  return log[log.length - 1].find((alarm) => alarm.condition === condition);
}

/** Ids active at the last moment. */
export function idsAtEnd(log: readonly ActiveAlarm[][]): string[] {
  return log[log.length - 1].map((alarm) => alarm.condition);
}
