import type { DeviceFit } from "../documents/hardware.ts";
import { molarFlowMolPerS } from "../flow/restriction.ts";
import { ATMOSPHERE_PA, BAR_PA } from "../units/factors.ts";
import { type BenchDevice, COVERAGE_95, type ParameterName, setsPressure } from "./device-model.ts";
import { restrictionOf } from "./device-operation.ts";
import { type ReadingsFit, ROOM_K, stateOf } from "./fit-readings.ts";

/** A parameter of the device with its 95 % interval. */
export interface FitParameter {
  name: string;
  value: number;
  low: number;
  high: number;
  unit: string;
  /** `rows` where the test narrowed it, `usual` where it is only what such devices usually have. */
  from: "rows" | "usual";
  about: string;
}

/** Follows from the parameters, and is often known far better than each of them. */
export type DerivedParameter = Omit<FitParameter, "from">;

/** The posterior must be this much narrower than the prior to count as found by the rows. */
const NARROWER = 0.7;

interface Shown {
  name: string;
  unit: string;
  about: string;
  /** Position in the vector. */
  index: number;
  /** From the fitted figure to the shown one; rising. */
  show(internal: number): number;
}

/** Parameters and derived figures of a fit; the last setting is the device as it stands. */
export function fitParameters(
  device: BenchDevice,
  fit: ReadingsFit,
  inflation: number,
): { parameters: FitParameter[]; derived: DerivedParameter[] } {
  const parameters = shownParameters(device, fit).map((one): FitParameter => {
    const center = fit.vector[one.index]!;
    const half = COVERAGE_95 * inflation * Math.sqrt(fit.covariance[one.index]![one.index]!);
    const prior = device.priors[one.index];
    const narrowed =
      prior === undefined || half / COVERAGE_95 < NARROWER * prior.sigma ? "rows" : "usual";
    return {
      name: one.name,
      value: one.show(center),
      low: one.show(center - half),
      high: one.show(center + half),
      unit: one.unit,
      from: narrowed,
      about: one.about,
    };
  });
  return { parameters, derived: derived(device, fit, inflation) };
}

/** Exponential of a logarithm that rows which contradict each other may leave without a limit: stays finite. */
function finiteExp(x: number): number {
  return Math.exp(Math.min(x, 300));
}

/** The fit as a station carries it: values, sigmas and covariance in the shown units. */
export function deviceFit(
  device: BenchDevice,
  fit: ReadingsFit,
  inflation: number,
  origin: { date?: string; meter?: string; reading?: number | null },
): DeviceFit {
  const shown = shownParameters(device, fit);
  const slopes = shown.map((one) => {
    const step = 1e-4 * Math.sqrt(fit.covariance[one.index]![one.index]!) || 1e-9;
    const center = fit.vector[one.index]!;
    return (one.show(center + step) - one.show(center - step)) / (2 * step);
  });
  const covariance = shown.map((a, i) =>
    shown.map(
      (b, j) => inflation ** 2 * slopes[i]! * slopes[j]! * fit.covariance[a.index]![b.index]!,
    ),
  );
  return {
    parameters: shown.map((one, i) => ({
      name: one.name,
      value: one.show(fit.vector[one.index]!),
      sigma: Math.sqrt(covariance[i]![i]!),
      unit: one.unit,
    })),
    covariance,
    ...(origin.reading == null ? {} : { reading: origin.reading }),
    ...(origin.date === undefined ? {} : { date: origin.date }),
    ...(origin.meter === undefined ? {} : { meter: origin.meter }),
  };
}

function shownParameters(device: BenchDevice, fit: ReadingsFit): Shown[] {
  const droopPerLpm = device.standardMolPerM3 / 60_000 / BAR_PA;
  const known: Record<string, Omit<Shown, "index" | "name">> = {
    "scale-pressure": {
      unit: "bar",
      about: "gauge pressure in the tube at which its scale is true",
      show: (x) => (finiteExp(x) - ATMOSPHERE_PA) / BAR_PA,
    },
    "scale-error": {
      unit: "%",
      about: "true flow above what the scale means at its own gas and pressure",
      show: (x) => x * 100,
    },
    "delivery-pressure": {
      unit: "bar",
      about: "gauge line pressure at full cylinder and the first row's flow",
      show: (x) => (finiteExp(x) - device.atmospherePa) / BAR_PA,
    },
    "supply-pressure-effect": {
      unit: "bar/bar",
      about: "rise of the line for each bar that the cylinder falls; negative: it sags",
      show: (x) => x,
    },
    droop: {
      unit: "bar/(L/min)",
      about: "fall of the line for each L/min more",
      show: (x) => x * droopPerLpm,
    },
  };
  const shown = device.priors.flatMap(({ name }, index): Shown[] => {
    const one = known[name satisfies ParameterName];
    return one ? [{ ...one, name, index }] : [];
  });
  const last = device.priors.length + fit.settings.length - 1;
  if (setsPressure(device)) {
    shown.push({
      name: "delivery-pressure",
      unit: "bar",
      about: "gauge line pressure at the last setting",
      index: last,
      show: (x) => x / BAR_PA,
    });
  } else {
    shown.push({
      name: "restriction-conductance",
      unit: "L/min/bar",
      about: "choked flow for each bar of absolute line pressure at 20 °C, last setting",
      index: last,
      show: (x) => lpmPerBar(device, finiteExp(x)),
    });
  }
  return shown;
}

function lpmPerBar(device: BenchDevice, conductance: number): number {
  const molPerS = molarFlowMolPerS(
    { law: "iso-6358", criticalRatio: 0.5, sonicConductanceM3PerSPa: conductance },
    BAR_PA,
    0,
    ROOM_K,
  );
  return (molPerS / device.standardMolPerM3) * 60_000;
}

function derived(device: BenchDevice, fit: ReadingsFit, inflation: number): DerivedParameter[] {
  const names = device.priors.map((prior) => prior.name);
  const scale = names.indexOf("scale-pressure");
  const delivery = names.indexOf("delivery-pressure");
  if (scale >= 0 && delivery >= 0 && device.valve === "after-tube") {
    const value = fit.vector[delivery]! - fit.vector[scale]!;
    const variance =
      fit.covariance[delivery]![delivery]! +
      fit.covariance[scale]![scale]! -
      2 * fit.covariance[delivery]![scale]!;
    const half = COVERAGE_95 * inflation * Math.sqrt(Math.max(0, variance));
    return [
      {
        name: "tube-over-scale-pressure",
        value: finiteExp(value),
        low: finiteExp(value - half),
        high: finiteExp(value + half),
        unit: "1",
        about: "absolute pressure in the tube over that of its scale, full cylinder",
      },
    ];
  }
  if (setsPressure(device)) {
    const state = stateOf(device, fit.vector, fit.settings, fit.settings.length - 1);
    const index = names.indexOf("scale-error");
    const half = COVERAGE_95 * inflation * Math.sqrt(fit.covariance[index]![index]!);
    const conductance = restrictionOf(device, state).sonicConductanceM3PerSPa;
    const per = (error: number) =>
      lpmPerBar(device, (conductance * (1 + error)) / (1 + fit.vector[index]!));
    return [
      {
        name: "restriction-conductance",
        value: per(fit.vector[index]!),
        low: per(fit.vector[index]! - half),
        high: per(fit.vector[index]! + half),
        unit: "L/min/bar",
        about: "choked flow of the orifice for each bar of absolute line pressure at 20 °C",
      },
    ];
  }
  return [];
}
