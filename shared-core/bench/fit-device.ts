import { demandWindow } from "../demand/index.ts";
import type { DeviceFit } from "../documents/hardware.ts";
import type { StationDocument } from "../documents/station.ts";
import { PhysicsError } from "../errors.ts";
import type { Composition } from "../gases/composition.ts";
import { BAR_PA } from "../units/factors.ts";
import { type BenchWords, benchWords } from "./bench-words.ts";
import { cardPressuresPa } from "./card-pressures.ts";
import { type CurvePoint, deviceCurve } from "./device-curve.ts";
import { type BenchDevice, benchDevice } from "./device-model.ts";
import { type CardEntry, dialCard } from "./dial-card.ts";
import { fitWithVerdict, type LackOfFit } from "./lack-of-fit.ts";
import {
  type DerivedParameter,
  deviceFit,
  type FitParameter,
  fitParameters,
} from "./parameters.ts";
import { impossibleBecause } from "./physical-limits.ts";
import type { BenchReading, BenchTest } from "./readings.ts";
import { type RowVerdict, rowVerdicts, rowWithout, verdictWhy } from "./row-verdicts.ts";

/** What a bench test found about a device. */
export interface BenchResult {
  schema: 1;
  device: { kind: string; unit: "CFH" | "L/min"; gas: string };
  parameters: FitParameter[];
  derived: DerivedParameter[];
  rows: RowVerdict[];
  /** False where the rows cannot come from one device, null where they cannot tell. */
  consistent: boolean | null;
  why: string;
  target: { lpm: number | null; reading: number | null; why?: string };
  card: CardEntry[];
  /** How the device errs against cylinder pressure; empty where nothing may rest on the rows. */
  curve: CurvePoint[];
  questions: string[];
  /** Goes into the station as `flowDevice.fit`; null where nothing may rest on it. */
  fit: DeviceFit | null;
  /** Null where nothing was fitted. */
  probability: number | null;
}

export interface FitOptions {
  /** True flow wanted, `metric20` L/min; from the station's procedure where absent. */
  targetLpm?: number;
  /** Gas of the supply, where the station has no cylinder of its own. */
  composition?: Composition;
  date?: string;
  meter?: string;
}

export type FitAnswer = { ok: true; value: BenchResult } | { ok: false; why: string };

/** Rows and pressure span from which a supply-pressure effect can be judged at all. */
const LEAST_ROWS = 3;
const LEAST_SPAN = 0.2;

/**
 * Fits a station's regulator and flow device to a bench test, says which rows disagree and what
 * would explain them, and gives the dial card. Never throws on data; `ok: false` only where
 * nothing can be fitted.
 */
export function fitDevice(
  station: StationDocument,
  test: BenchTest,
  options: FitOptions = {},
): FitAnswer {
  const document = station.flowDevice;
  if (!document) {
    return { ok: false, why: "flowDevice is missing in the station: describe the device tested" };
  }
  const gas = options.composition ?? station.cylinder?.composition;
  if (!gas) {
    return { ok: false, why: "the station has no cylinder: give the gas, such as --gas Ar=1" };
  }
  try {
    const words = benchWords(document);
    const all = benchDevice(station, document, gas, test.readings);
    const refused = test.refused.map(({ row, why }) => ({ row, why }));
    const usable: BenchReading[] = [];
    for (const reading of test.readings) {
      const why = impossibleBecause(all, station, reading);
      if (why === null) usable.push(reading);
      else refused.push({ row: reading.row, why });
    }
    if (usable.length === 0) {
      return {
        ok: false,
        why: `no row can be used. ${refused.map(({ row, why }) => `Row ${row}: ${why}`).join(" ")}`,
      };
    }
    const device = benchDevice(station, document, gas, usable);
    const answer = fitWithVerdict(device, usable, words);
    const context = { station, gas, device, words, usable, refused, test, options };
    return {
      ok: true,
      value: answer.ok ? result(context, answer.value) : unfitted(context, answer.why),
    };
  } catch (error) {
    if (error instanceof PhysicsError) return { ok: false, why: error.message };
    throw error;
  }
}

interface Context {
  station: StationDocument;
  gas: Composition;
  device: BenchDevice;
  words: BenchWords;
  usable: BenchReading[];
  refused: { row: number; why: string }[];
  test: BenchTest;
  options: FitOptions;
}

function result(context: Context, lack: LackOfFit): BenchResult {
  const { device, words, usable, refused, test, options } = context;
  const inflation = inflationOf(lack);
  const rows = rowVerdicts({ device, words, usable, refused, lack });
  const verdict = consistency(context, lack);
  const target = targetOf(context);
  return {
    schema: 1,
    device: deviceOf(context),
    ...fitParameters(device, lack.fit, inflation),
    rows,
    ...verdict,
    target,
    card: card(context, lack, target, pressuresOf(context), inflation),
    curve: mayRest(context, lack, target)
      ? deviceCurve({
          device,
          fit: lack.fit,
          targetLpm: target.lpm,
          pressuresPa: pressuresOf(context),
          inflation,
        })
      : [],
    questions: [
      ...test.questions,
      ...lack.fileFitsIf.map((text) => `all rows fit if ${text}: is that so?`),
    ],
    fit: lack.resolved
      ? deviceFit(device, lack.fit, inflation, { ...options, reading: lastReading(context, lack) })
      : null,
    probability: lack.fit.degrees > 0 ? lack.fit.probability : null,
  };
}

/** What the scale showed when the last setting was made, in its own unit; null where nobody read it. */
function lastReading({ words }: Context, lack: LackOfFit): number | null {
  const indicated = lack.fit.settings.at(-1)?.reading.indicatedM3PerS ?? null;
  return indicated === null ? null : Number(words.reading(indicated).toPrecision(4));
}

/** Rows that no device comes near: what was wrong with them, and no figure at all. */
function unfitted(context: Context, reason: string): BenchResult {
  const { usable, refused, test } = context;
  const why = `the rows contradict each other so much that no device comes near them (${reason}): check units, columns and whether anything was turned`;
  const rows = [
    ...usable.map(({ row, cylinderPa, action }) =>
      rowWithout(row, cylinderPa / BAR_PA, action, "disagrees", why),
    ),
    ...refused.map((one) => rowWithout(one.row, null, null, "unusable", one.why)),
  ].sort((a, b) => a.row - b.row);
  const target = targetOf(context);
  return {
    schema: 1,
    device: deviceOf(context),
    parameters: [],
    derived: [],
    rows,
    consistent: false,
    why,
    target,
    card: pressuresOf(context).map((pressure) => ({
      cylinderBar: pressure / BAR_PA,
      dialTo: null,
      unit: context.words.flowUnit,
      why: "the rows contradict each other: test again",
    })),
    curve: [],
    questions: test.questions,
    fit: null,
    probability: null,
  };
}

function deviceOf({ station, gas }: Context): BenchResult["device"] {
  const document = station.flowDevice!;
  return {
    kind: document.kind,
    unit: document.readingUnit,
    gas: station.cylinder?.gas ?? Object.keys(gas).join("+"),
  };
}

function pressuresOf({ station, device, words }: Context): number[] {
  return cardPressuresPa({
    fullPa: device.fullPa,
    residualPa: (station.cylinder?.residualBar ?? 10) * BAR_PA,
    unit: words.pressureUnit,
  });
}

/** Scatter beyond what the stated uncertainties allow widens everything (Birge ratio). */
function inflationOf(lack: LackOfFit): number {
  if (lack.resolved || lack.fit.degrees < 1) return 1;
  return Math.max(1, Math.sqrt(lack.fit.chiSquared / lack.fit.degrees));
}

function consistency(
  { usable, refused, words }: Context,
  lack: LackOfFit,
): { consistent: boolean | null; why: string } {
  if (lack.suspects.length > 0 || !lack.resolved || refused.length > 0) {
    return { consistent: false, why: verdictWhy(lack, refused) };
  }
  const missing: string[] = [];
  const pressures = usable.map((reading) => reading.cylinderPa);
  const highest = Math.max(...pressures);
  if (usable.length < LEAST_ROWS) {
    missing.push(
      `only ${usable.length} row${usable.length === 1 ? "" : "s"}: at least ${LEAST_ROWS} are needed`,
    );
  }
  if (highest - Math.min(...pressures) < LEAST_SPAN * highest) {
    missing.push(
      `all rows are at about one cylinder pressure (${words.pressure(highest)}): test at a nearly empty cylinder too, since regulators change there`,
    );
  }
  if (!usable.some((reading) => reading.trueM3PerS !== null)) {
    missing.push("no row has a true flow: a calibrated meter is needed");
  }
  if (!usable.some((reading) => reading.indicatedM3PerS !== null)) {
    missing.push("no row has a reading of the device");
  }
  if (lack.fit.degrees < 2) missing.push("no row checks another");
  return missing.length > 0
    ? { consistent: null, why: `cannot tell yet: ${missing.join("; ")}` }
    : { consistent: true, why: "the rows can all come from one device within their uncertainties" };
}

function targetOf({ station, gas, words, options }: Context): BenchResult["target"] {
  if (options.targetLpm !== undefined) {
    return { lpm: options.targetLpm, reading: words.reading(options.targetLpm / 60_000) };
  }
  const window = demandWindow(station, gas);
  if (window.targetLpm === null) {
    return {
      lpm: null,
      reading: null,
      why: `no target flow: ${window.why ?? "the procedure gives none"}; or give --target`,
    };
  }
  return { lpm: window.targetLpm, reading: words.reading(window.targetLpm / 60_000) };
}

/** Whether the rows carry figures for the target at all. */
function mayRest(
  { usable }: Context,
  lack: LackOfFit,
  target: BenchResult["target"],
): target is BenchResult["target"] & { lpm: number } {
  return target.lpm !== null && lack.resolved && usable.some((one) => one.trueM3PerS !== null);
}

function card(
  { device, words, usable }: Context,
  lack: LackOfFit,
  target: BenchResult["target"],
  pressuresPa: number[],
  inflation: number,
): CardEntry[] {
  const none = (why: string) =>
    pressuresPa.map((pressure) => ({
      cylinderBar: pressure / BAR_PA,
      dialTo: null,
      unit: words.flowUnit,
      why,
    }));
  if (target.lpm === null) return none(target.why ?? "no target flow");
  if (!lack.resolved) return none("the rows contradict each other: test again");
  if (!usable.some((one) => one.trueM3PerS !== null)) {
    return none("no true flow was measured: a reading alone says nothing of what passes");
  }
  return dialCard({
    device,
    fit: lack.fit,
    words,
    targetLpm: target.lpm,
    pressuresPa,
    inflation,
  });
}
