import { toMetric20Lpm } from "../demand/flow-units.ts";
import type { Composition } from "../gases/composition.ts";
import { gasSymbols, isGasSymbol } from "../gases/composition.ts";
import { BAR_PA, CELSIUS_ZERO_K, LITRE_PER_MINUTE_M3_PER_S, PSI_PA } from "../units/factors.ts";
import { type ReferenceName, referenceConditions } from "../units/reference-conditions.ts";
import type { BenchAction, BenchReading, BenchTest } from "./readings.ts";

/** Columns that a bench test may have; the first six are the usual ones. */
export const benchColumns = {
  cylinder_bar: "cylinder pressure, gauge bar (or cylinder_psi)",
  line_bar: "line pressure, gauge bar, empty if unknown (or line_psi)",
  indicated: "what the scale showed, L/min (or indicated_cfh)",
  true_lpm: "true flow by a calibrated meter, L/min (or true_cfh)",
  true_u_percent: "standard uncertainty of the meter, 1 sigma, percent",
  action: "set, left or redialled",
  true_reference: "reference conditions of the meter: us, trade, iso, normal or metric20",
  meter_gas: "gas the meter is calibrated for, such as Ar or Ar=0.75 CO2=0.25",
  ambient_c: "gas temperature, °C",
  baro_kpa: "barometer, kPa absolute",
  meter_drop_bar: "pressure drop of the meter, bar",
  cylinder_psi: "cylinder pressure, gauge psi",
  line_psi: "line pressure, gauge psi",
  indicated_cfh: "what the scale showed, CFH (us)",
  true_cfh: "true flow, CFH (us)",
} as const;

type Column = keyof typeof benchColumns;

/** Meter uncertainty where the row states none, percent (own estimate, no source). */
const DEFAULT_U_PERCENT = 3;
/** No cylinder regulator is made for more, gauge bar: ISO 2503 ends at 300. */
const HIGHEST_CYLINDER_BAR = 330;
const HIGHEST_LINE_BAR = 30;
/** A float is read to about this part of the reading (common practice, no source). */
const READING_SIGMA = 0.005;
const LARGEST_ROUNDING_SIGMA = 0.01;
/** 0 °C against 20 °C is 7.3 % of flow; anything between is equally likely: over sqrt(12). */
const UNKNOWN_REFERENCE_SIGMA = 0.073 / Math.sqrt(12);

export type CsvAnswer = { ok: true; value: BenchTest } | { ok: false; faults: string[] };

/**
 * Reads the rows of a bench test. Refuses the file only where no row can be read; single bad rows
 * are listed in `refused` and the rest is kept. Never throws.
 *
 * @param gas gas that flows, to compare with the meter's
 */
export function parseBenchCsv(text: string, gas: Composition | null): CsvAnswer {
  const lines = text.replace(/^\uFEFF/, "").split(/\r?\n/);
  const used = lines
    .map((content, index) => ({ content: content.trim(), line: index + 1 }))
    .filter(({ content }) => content !== "" && !content.startsWith("#"));
  const head = used.shift();
  if (!head) return { ok: false, faults: ["the file is empty: give a heading and rows"] };
  const heading = head.content.split(",").map((name) => name.trim().toLowerCase());
  const faults = headingFaults(head.content, heading);
  if (faults.length > 0) return { ok: false, faults };
  const test: BenchTest = {
    readings: [],
    refused: [],
    questions: heading
      .filter((name) => !(name in benchColumns))
      .map((name) => `column ${name} is not known and was not used`),
    references: heading.includes("true_reference") ? [] : null,
    referenceMissing: false,
    otherMeterGas: false,
  };
  const rounding = roundings(used, heading);
  used.forEach(({ content, line }, index) => {
    const cells = content.split(",").map((cell) => cell.trim());
    const row = index + 1;
    const read = readRow({ row, cells, heading, rounding, gas, test });
    if (typeof read === "string") test.refused.push({ row, line, why: read });
    else test.readings.push(read);
  });
  if (test.readings.length === 0) {
    const why = test.refused.map(
      ({ row, line, why: text }) => `row ${row} (line ${line}): ${text}`,
    );
    return { ok: false, faults: why.length > 0 ? why : ["there are no rows under the heading"] };
  }
  if (!heading.includes("action")) {
    test.questions.push(
      "there is no column action: every row after the first counts as left alone. Was any re-dialled?",
    );
  }
  askOnce(test);
  return { ok: true, value: test };
}

function headingFaults(text: string, heading: string[]): string[] {
  if (!text.includes(",") && /[;\t]/.test(text)) {
    return ["columns must be separated by commas, and decimals written with a point"];
  }
  const faults: string[] = [];
  const one = (a: Column, b: Column) => {
    if (!heading.includes(a) && !heading.includes(b)) {
      faults.push(`column ${a} (or ${b}) is missing: ${benchColumns[a]}`);
    }
    if (heading.includes(a) && heading.includes(b)) {
      faults.push(`columns ${a} and ${b} say the same thing: keep one`);
    }
  };
  one("cylinder_bar", "cylinder_psi");
  one("indicated", "indicated_cfh");
  one("true_lpm", "true_cfh");
  if (heading.includes("line_bar") && heading.includes("line_psi")) {
    faults.push("columns line_bar and line_psi say the same thing: keep one");
  }
  if (new Set(heading).size !== heading.length) faults.push("a column is named twice");
  return faults;
}

/** One unit of the last written decimal, by column: what a reading was rounded to. */
function roundings(rows: { content: string }[], heading: string[]): Map<string, number> {
  const found = new Map<string, number>();
  heading.forEach((name, index) => {
    const decimals = rows.map(({ content }) => {
      const cell = content.split(",")[index]?.trim() ?? "";
      return /^\d+\.(\d+)$/.exec(cell)?.[1]?.length ?? 0;
    });
    found.set(name, 10 ** -Math.max(0, ...decimals));
  });
  return found;
}

interface RowInput {
  row: number;
  cells: string[];
  heading: string[];
  rounding: Map<string, number>;
  gas: Composition | null;
  test: BenchTest;
}

function readRow(input: RowInput): BenchReading | string {
  const { cells, heading, rounding, row } = input;
  if (cells.length > heading.length) {
    return `has ${cells.length} cells under ${heading.length} headings; write decimals with a point`;
  }
  const problems: string[] = [];
  const cell = (name: Column): string => cells[heading.indexOf(name)] ?? "";
  const number = (name: Column, low: number, high: number): number | null => {
    const written = cell(name);
    if (written === "") return null;
    const value = Number(written);
    if (!Number.isFinite(value)) {
      problems.push(`${name} is "${written}", which is no number`);
    } else if (value <= 0 && low > 0) {
      problems.push(`${name} is ${written}: where nothing flows there is nothing to compare`);
    } else if (value < low || value > high) {
      problems.push(`${name} is ${written}; it must lie between ${low} and ${high}`);
    } else {
      return value;
    }
    return null;
  };
  const cylinderBar = pressure("cylinder", HIGHEST_CYLINDER_BAR);
  const lineBar = pressure("line", HIGHEST_LINE_BAR);
  const indicated = flow("indicated", "indicated_cfh");
  const trueFlow = flow("true_lpm", "true_cfh");
  const uPercent = number("true_u_percent", 0.01, 50);
  const ambientC = number("ambient_c", -40, 60);
  const baroKpa = number("baro_kpa", 50, 110);
  const dropBar = number("meter_drop_bar", 0, 5);
  const action = readAction(cell("action"), row, problems);
  const reference = readReference(cell("true_reference"), problems);
  const meterGas = readGas(cell("meter_gas"), problems);
  if (cylinderBar === null && problems.length === 0) problems.push("has no cylinder pressure");
  if (indicated === null && trueFlow === null && problems.length === 0) {
    problems.push("has neither a reading nor a true flow");
  }
  if (problems.length > 0 || cylinderBar === null) return problems.join("; ");
  if (lineBar !== null && lineBar >= cylinderBar) {
    return `line pressure ${lineBar.toFixed(1)} bar is not below cylinder pressure ${cylinderBar.toFixed(1)} bar`;
  }
  const shared = sharedSigma(input, reference, meterGas, trueFlow !== null);
  const indicatedName = heading.includes("indicated_cfh") ? "indicated_cfh" : "indicated";
  return {
    row,
    cylinderPa: cylinderBar * BAR_PA,
    linePa: lineBar === null ? null : lineBar * BAR_PA,
    indicatedM3PerS: indicated === null ? null : indicated.lpm * LITRE_PER_MINUTE_M3_PER_S,
    indicatedSigma: indicated === null ? 0 : readingSigma(indicated.written, indicatedName),
    trueM3PerS:
      trueFlow === null
        ? null
        : trueFlow.lpm * toMetric20Factor(reference) * LITRE_PER_MINUTE_M3_PER_S,
    trueSigma: (uPercent ?? DEFAULT_U_PERCENT) / 100,
    trueSharedSigma: shared,
    action,
    ambientK: ambientC === null ? null : ambientC + CELSIUS_ZERO_K,
    atmospherePa: baroKpa === null ? null : baroKpa * 1000,
    meterDropPa: (dropBar ?? 0) * BAR_PA,
  };

  function pressure(side: "cylinder" | "line", highestBar: number): number | null {
    const psi = number(`${side}_psi`, -15, 1e9);
    const bar = number(`${side}_bar`, -1, 1e9) ?? (psi === null ? null : (psi * PSI_PA) / BAR_PA);
    if (bar !== null && bar > highestBar) {
      const hint = psi === null ? `: if it is psi, head the column ${side}_psi` : "";
      problems.push(`${side} pressure ${Math.round(bar)} bar is beyond ${highestBar} bar${hint}`);
      return null;
    }
    return bar;
  }

  function flow(metric: Column, imperial: Column): { lpm: number; written: number } | null {
    const lpm = number(metric, 0.05, 500);
    if (lpm !== null) return { lpm, written: lpm };
    const cfh = number(imperial, 0.1, 1000);
    return cfh === null ? null : { lpm: toMetric20Lpm(cfh, "CFH"), written: cfh };
  }

  function readingSigma(written: number, name: string): number {
    const rounded = (rounding.get(name) ?? 0) / Math.sqrt(12) / written;
    return Math.hypot(READING_SIGMA, Math.min(rounded, LARGEST_ROUNDING_SIGMA));
  }

  /** A column in CFH is at `us` conditions and was changed with its unit already. */
  function toMetric20Factor(named: ReferenceName | null): number {
    const target = referenceConditions.metric20;
    const own = named ?? (heading.includes("true_cfh") ? "us" : "metric20");
    const from = referenceConditions[own];
    const factor =
      (from.pressurePa / target.pressurePa) * (target.temperatureK / from.temperatureK);
    return heading.includes("true_cfh") ? factor / toMetric20OfUs() : factor;
  }
}

function toMetric20OfUs(): number {
  const { us, metric20 } = referenceConditions;
  return (us.pressurePa / metric20.pressurePa) * (metric20.temperatureK / us.temperatureK);
}

function readAction(written: string, row: number, problems: string[]): BenchAction {
  const word = written.toLowerCase().replace(/[-\s]/g, "");
  if (word === "set" || word === "left" || word === "redialled") return word;
  if (word === "redialed") return "redialled";
  if (word === "") return row === 1 ? "set" : "left";
  problems.push(`action is "${written}"; use set, left or redialled`);
  return "set";
}

function readReference(written: string, problems: string[]): ReferenceName | null {
  if (written === "") return null;
  const name = written.toLowerCase();
  if (name in referenceConditions) return name as ReferenceName;
  const names = Object.keys(referenceConditions).join(", ");
  problems.push(`true_reference is "${written}"; use one of ${names}`);
  return null;
}

function readGas(written: string, problems: string[]): Composition | null {
  if (written === "") return null;
  const fractions: Partial<Record<(typeof gasSymbols)[number], number>> = {};
  for (const part of written.split(/[\s+]+/)) {
    const [symbol = "", amount] = part.split("=");
    const fraction = amount === undefined ? 1 : Number(amount);
    if (!isGasSymbol(symbol) || !(fraction > 0 && fraction <= 1)) {
      problems.push(`meter_gas is "${written}"; write Ar, or Ar=0.75 CO2=0.25`);
      return null;
    }
    fractions[symbol] = fraction;
  }
  return fractions;
}

/** What an unknown reference or another gas in the meter adds, relative, the same for all rows. */
function sharedSigma(
  { test, gas }: RowInput,
  reference: ReferenceName | null,
  meterGas: Composition | null,
  hasTrue: boolean,
): number {
  if (!hasTrue) return 0;
  let variance = 0;
  if (test.references !== null) {
    if (reference === null) {
      variance += UNKNOWN_REFERENCE_SIGMA ** 2;
      test.referenceMissing = true;
    } else if (!test.references.includes(reference)) {
      test.references.push(reference);
    }
  }
  if (meterGas !== null) {
    const sameGas =
      gas !== null &&
      gasSymbols.every((one) => Math.abs((meterGas[one] ?? 0) - (gas[one] ?? 0)) < 0.005);
    if (!sameGas && gas !== null) {
      test.otherMeterGas = true;
      variance += Math.log(Math.sqrt(relativeMass(meterGas) / relativeMass(gas))) ** 2;
    }
  }
  return Math.sqrt(variance);
}

/** Relative molar mass, for the size of a meter's error on another gas only. */
function relativeMass(composition: Composition): number {
  const mass = { Ar: 39.9, CO2: 44, He: 4, N2: 28, O2: 32, H2: 2 } as const;
  return gasSymbols.reduce((sum, gas) => sum + (composition[gas] ?? 0) * mass[gas], 0);
}

function askOnce(test: BenchTest): void {
  const withTrue = test.readings.filter((reading) => reading.trueM3PerS !== null);
  if (withTrue.length === 0) {
    test.questions.push("no row has a true flow: measure it with a calibrated meter");
  } else if (test.references === null) {
    test.questions.push(
      "to which reference conditions does the meter refer? Taken as the column's own (L/min: 20 °C, 101.325 kPa; CFH: 70 °F, 14.696 psia); a meter for 0 °C reads 7 % less. Add a column true_reference.",
    );
  } else if (test.references.length === 0 || test.referenceMissing) {
    test.questions.push(
      "a row's meter has no reference conditions: 0 °C against 20 °C is 7 %, and the doubt is in the intervals. State them to narrow these.",
    );
  }
  if (test.otherMeterGas) {
    test.questions.push(
      "the meter is calibrated for another gas than the one that flows: its error is not known and is in the intervals. Give its reading converted, with meter_gas as the gas that flows.",
    );
  }
  if (test.references !== null && test.references.length > 1) {
    test.questions.push(
      `the meter's reference changes from row to row (${test.references.join(", ")}): is that right?`,
    );
  }
}
