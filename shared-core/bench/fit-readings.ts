import { PhysicsError } from "../errors.ts";
import { molarFlowMolPerS } from "../flow/restriction.ts";
import { BAR_PA } from "../units/factors.ts";
import { chiSquaredSurvival } from "./chi-squared.ts";
import {
  type BenchDevice,
  type DeviceState,
  type Operating,
  type ParameterName,
  type Surroundings,
  setsPressure,
} from "./device-model.ts";
import { flowAtReading, operate, readingAt, throttlingDropK } from "./device-operation.ts";
import { type LeastSquaresAnswer, leastSquares } from "./least-squares.ts";
import type { BenchReading } from "./readings.ts";

/** Gas temperature where a row notes none, K. */
export const ROOM_K = 293.15;

/** What the fitted device would show in one row. */
export interface RowPrediction {
  reading: BenchReading;
  operating: Operating;
  /** Which setting of the device the row belongs to. */
  setting: number;
  /** Observed over predicted, minus 1; null where not observed. */
  indicatedResidual: number | null;
  trueResidual: number | null;
  /** Observed minus predicted, Pa. */
  lineResidualPa: number | null;
  /** The row's part of chi-squared. */
  chiSquared: number;
}

/** A device fitted to rows. `vector` holds the priors' parameters first, then one for each setting. */
export interface ReadingsFit {
  vector: number[];
  covariance: number[][];
  chiSquared: number;
  /** Observations less settings: the degrees of freedom, each prior being an observation too. */
  degrees: number;
  /** Chance of so large a chi-squared for a device like this. */
  probability: number;
  rows: RowPrediction[];
  settings: Setting[];
}

/** One position of the valve or screw. */
export interface Setting {
  /** Cylinder pressure and flow when it was made. */
  setAtPa: number;
  setMolPerS: number;
  /** Its first row. */
  reading: BenchReading;
}

export type ReadingsAnswer = { ok: true; value: ReadingsFit } | { ok: false; why: string };

/** Surroundings of a row. */
export function surroundingsOf(device: BenchDevice, reading: BenchReading): Surroundings {
  const temperatureK = reading.ambientK ?? ROOM_K;
  return {
    cylinderPa: reading.cylinderPa,
    temperatureK,
    atmospherePa: reading.atmospherePa ?? device.atmospherePa,
    meterDropPa: reading.meterDropPa,
    throttlingDropK: throttlingDropK(device.mixture, reading.cylinderPa, temperatureK),
  };
}

/** The device in the state that a parameter vector and a setting mean. */
export function stateOf(
  device: BenchDevice,
  vector: readonly number[],
  settings: readonly Setting[],
  setting: number,
): DeviceState {
  const values: Record<ParameterName, number> = {
    "scale-pressure": 0,
    "scale-error": 0,
    "delivery-pressure": 0,
    "supply-pressure-effect": 0,
    droop: 0,
    "critical-ratio": 0.42,
    "back-pressure": 0,
    "gas-cooling": 0,
    "line-gauge-offset": 0,
    "meter-shared": 0,
  };
  device.priors.forEach((prior, k) => {
    values[prior.name] = vector[k]!;
  });
  const own = settings[setting]!;
  return {
    values,
    setting: vector[device.priors.length + setting]!,
    setAtPa: own.setAtPa,
    setMolPerS: own.setMolPerS,
  };
}

/**
 * Fits the device to rows by least squares: every observation over its sigma, and every prior over
 * its own. `left` rows share the setting of the row before them.
 *
 * @param effort `quick` gives up early: for suppositions, most of which fit badly
 */
export function fitReadings(
  device: BenchDevice,
  readings: readonly BenchReading[],
  effort: "full" | "quick" = "full",
): ReadingsAnswer {
  if (readings.length === 0) return { ok: false, why: "there is no row to fit" };
  const { settings, settingOf } = settingsOf(device, readings);
  const around = readings.map((reading) => surroundingsOf(device, reading));
  const predict = (vector: readonly number[]) =>
    readings.map((reading, k) => {
      const state = stateOf(device, vector, settings, settingOf[k]!);
      return predictRow(device, reading, state, settingOf[k]!, around[k]!);
    });
  const residuals = (vector: readonly number[]): number[] => {
    try {
      return [
        ...predict(vector).flatMap((row) => standardised(device, row)),
        ...device.priors.map((prior, k) => (vector[k]! - prior.mean) / prior.sigma),
      ];
    } catch (error) {
      // A search step out of the gas equation's range: no value there, the search turns back.
      if (error instanceof PhysicsError) return [Number.NaN, Number.NaN];
      throw error;
    }
  };
  const answer = fromBestStart(residuals, startsOf(device, readings), effort);
  if (!answer.ok) return answer;
  const { parameters, covariance, chiSquared } = answer.value;
  const rows = predict(parameters);
  const observations = rows.flatMap((row) => standardised(device, row)).length;
  const degrees = observations - settings.length;
  return {
    ok: true,
    value: {
      vector: parameters,
      covariance,
      chiSquared,
      degrees,
      probability: degrees > 0 ? chiSquaredSurvival(chiSquared, degrees) : 1,
      rows,
      settings,
    },
  };
}

/** What the device would do in a row that took no part in the fit. */
export function predictRow(
  device: BenchDevice,
  reading: BenchReading,
  state: DeviceState,
  setting: number,
  at: Surroundings = surroundingsOf(device, reading),
): RowPrediction {
  const operating = operate(device, state, at);
  const trueM3PerS =
    (operating.molPerS / device.standardMolPerM3) *
    (1 + reading.trueSharedSigma * state.values["meter-shared"]);
  const tapPa = device.lineTap === "hose" ? operating.hosePa : operating.deliveryPa;
  const atmosphere = reading.atmospherePa ?? device.atmospherePa;
  const linePa = tapPa - atmosphere + state.values["line-gauge-offset"];
  const row: RowPrediction = {
    reading,
    operating,
    setting,
    indicatedResidual:
      reading.indicatedM3PerS === null
        ? null
        : reading.indicatedM3PerS / operating.indicatedM3PerS - 1,
    trueResidual: reading.trueM3PerS === null ? null : reading.trueM3PerS / trueM3PerS - 1,
    lineResidualPa: reading.linePa === null ? null : reading.linePa - linePa,
    chiSquared: 0,
  };
  row.chiSquared = standardised(device, row).reduce((sum, value) => sum + value * value, 0);
  return row;
}

/** What should pass at a row's own reading; null where it has none or the device cannot show it. */
export function predictAtReading(
  device: BenchDevice,
  reading: BenchReading,
  state: DeviceState,
  setting: number,
): RowPrediction | null {
  const shown = reading.indicatedM3PerS;
  if (shown === null || reading.trueM3PerS === null) return null;
  const at = surroundingsOf(device, reading);
  const molPerS = flowAtReading(device, state, at, shown);
  if (molPerS === null) return null;
  return {
    reading,
    operating: { molPerS, ...readingAt(device, state, at, molPerS), indicatedM3PerS: shown },
    setting,
    indicatedResidual: null,
    trueResidual: reading.trueM3PerS / (molPerS / device.standardMolPerM3) - 1,
    lineResidualPa: null,
    chiSquared: 0,
  };
}

/** Residuals of a row, each over its sigma. Logarithms: a float at half its place is no small thing. */
function standardised(device: BenchDevice, row: RowPrediction): number[] {
  const { reading } = row;
  const values: number[] = [];
  if (row.indicatedResidual !== null) {
    values.push(Math.log1p(row.indicatedResidual) / reading.indicatedSigma);
  }
  if (row.trueResidual !== null) values.push(Math.log1p(row.trueResidual) / reading.trueSigma);
  if (row.lineResidualPa !== null) values.push(row.lineResidualPa / device.lineSigmaPa);
  return values;
}

function settingsOf(
  device: BenchDevice,
  readings: readonly BenchReading[],
): { settings: Setting[]; settingOf: number[] } {
  const settings: Setting[] = [];
  const settingOf: number[] = [];
  for (const reading of readings) {
    if (settings.length === 0 || reading.action !== "left") {
      const observed = reading.trueM3PerS ?? reading.indicatedM3PerS ?? 1e-4;
      settings.push({
        setAtPa: reading.cylinderPa,
        setMolPerS: observed * device.standardMolPerM3,
        reading,
      });
    }
    settingOf.push(settings.length - 1);
  }
  return { settings, settingOf };
}

/** Supply-pressure effects to start from, in sigmas: near-empty behaviour is far from straight. */
const START_SIGMAS = [0, -1, 1, -2, 2] as const;

function startsOf(device: BenchDevice, readings: readonly BenchReading[]): number[][] {
  const { settings } = settingsOf(device, readings);
  return START_SIGMAS.map((sigmas) => {
    const priors = device.priors.map((prior) =>
      prior.name === "supply-pressure-effect" ? prior.mean + sigmas * prior.sigma : prior.mean,
    );
    return [...priors, ...settings.map((setting) => startOfSetting(device, setting, priors))];
  });
}

const EFFORT = { full: { tries: 4, rounds: 30 }, quick: { tries: 1, rounds: 8 } } as const;

/** Tries the starts from the best on; a search that fails gives way to the next. */
function fromBestStart(
  residuals: (vector: readonly number[]) => number[],
  starts: readonly number[][],
  effort: "full" | "quick",
): LeastSquaresAnswer {
  const ranked = starts
    .map((start) => ({ start, sum: residuals(start).reduce((sum, r) => sum + r * r, 0) }))
    .filter(({ sum }) => Number.isFinite(sum))
    .sort((a, b) => a.sum - b.sum);
  let answer: LeastSquaresAnswer = { ok: false, why: "the model has no value for these rows" };
  const { tries, rounds } = EFFORT[effort];
  for (const { start } of ranked.slice(0, tries)) {
    answer = leastSquares(residuals, start, rounds);
    if (answer.ok) return answer;
  }
  return answer;
}

/** Valve or screw as if the setting's first row were right and everything else as supposed. */
function startOfSetting(device: BenchDevice, setting: Setting, priors: readonly number[]): number {
  const at = surroundingsOf(device, setting.reading);
  const molPerS = setting.setMolPerS;
  const sonicMolPerSPa = (conductance: number) =>
    molarFlowMolPerS(
      { law: "iso-6358", criticalRatio: 0.5, sonicConductanceM3PerSPa: conductance },
      1,
      0,
      at.temperatureK,
    );
  if (setsPressure(device)) {
    const perPa = sonicMolPerSPa(device.dialConductance ?? 1e-9);
    return Math.max(molPerS / perPa - at.atmospherePa, 0.3 * BAR_PA);
  }
  const state = stateOf(device, [...priors, 0], [setting], 0);
  const { deliveryPa } = readingAt(device, state, at, molPerS);
  return Math.log(molPerS / (sonicMolPerSPa(1) * Math.max(deliveryPa, 1.3 * BAR_PA)));
}
