import { PhysicsError, type Result } from "@leeward/shared-core/errors.ts";
import { type Composition, isGasSymbol, isPure } from "@leeward/shared-core/gases/composition.ts";
import { compositionOf, designationOf } from "@leeward/shared-core/gases/designations.ts";
import { coldLimitK, dewPointK, gasPhase } from "@leeward/shared-core/gases/dew-point.ts";
import { createMixture, type GasState, type Mixture } from "@leeward/shared-core/gases/mixture.ts";
import { viscosityPaS, viscosityRange } from "@leeward/shared-core/gases/viscosity.ts";
import { atmosphericPressurePa } from "@leeward/shared-core/units/atmosphere.ts";
import { CELSIUS_ZERO_K, CUBIC_FOOT_M3, PSI_PA } from "@leeward/shared-core/units/factors.ts";
import {
  referenceConditions,
  referenceNames,
  standardDensityMolPerM3,
} from "@leeward/shared-core/units/reference-conditions.ts";
import { decimal } from "./decimal.ts";
import { pointsTable } from "./gas-points.ts";

/** Where the command reads and writes; the shell passes files and streams. */
export type GasIo = Readonly<{
  write(text: string): void;
  writeError(text: string): void;
  readFile(path: string): string;
}>;

export const gasHelp = `leeward gas: real-gas properties of a shielding gas (GERG-2008, ISO 20765-2)

Usage
  leeward gas (--composition LIST | --gas NAME) PRESSURE TEMPERATURE [--litres N] [--json]
  leeward gas --points FILE

Gas
  --composition LIST  mole fractions that add up to 1: Ar=0.75,CO2=0.25
                      gases: Ar, CO2, He, N2, O2, H2
  --gas NAME          an ISO 14175 designation instead: M21-ArC-18, I3-ArHe-25

Pressure (one of)
  --bar N             gauge pressure in bar
  --psi N             gauge pressure in psi
  --kpa-abs N         absolute pressure in kPa
  --altitude N        metres above sea level, for gauge pressures (0 when left out)

Temperature (one of)
  --c N, --f N, --k N degrees Celsius, degrees Fahrenheit, kelvin

More
  --litres N          water volume of a cylinder, for its content
  --json              one JSON object, SI units, instead of the table
  --points FILE       a table with the columns x_Ar,x_CO2,x_He,x_N2,x_O2,x_H2,T_K,P_kPa (absolute
                      pressure; other columns are ignored, lines that start with # are skipped).
                      Writes these columns and Z,density_mol_per_L,h_J_per_mol,cp_J_per_mol_K,
                      cv_J_per_mol_K,JT_K_per_kPa,speed_of_sound_m_s, a row for each row, in order.
                      A row that cannot be computed keeps its place with empty values, its reason
                      goes to the error output, and the command ends with 1.
  --help              this text

Enthalpy is counted from the pure ideal gases at 298.15 K and 101.325 kPa. The equation makes no
statement about phase; the table says where a gas with CO2 may condense.

Examples
  leeward gas --composition Ar=0.75,CO2=0.25 --bar 150 --c 20
  leeward gas --gas I1-Ar --psi 2640 --f 70 --litres 49
  leeward gas --points states.csv > properties.csv

Ends with 0, with 1 where the physics has no answer, with 2 for wrong usage.
`;

const valueOptions = [
  "composition",
  "gas",
  "bar",
  "psi",
  "kpa-abs",
  "altitude",
  "c",
  "f",
  "k",
  "litres",
  "points",
] as const;
type ValueOption = (typeof valueOptions)[number];

/** A wrong command line: the text says what to do. */
class UsageError extends Error {}

/**
 * The command `leeward gas`.
 *
 * @param args what follows `gas` on the command line
 * @returns the exit code: 0, 1 (no physical answer) or 2 (wrong usage)
 */
export function runGas(args: string[], io: GasIo): number {
  try {
    const { values, flags } = readOptions(args);
    if (flags.has("help") || args.length === 0) {
      io.write(gasHelp);
      return args.length === 0 ? 2 : 0;
    }
    const points = values.get("points");
    if (points !== undefined) {
      if (values.size > 1 || flags.size > 0) {
        throw new UsageError("--points stands alone; leave the other options out.");
      }
      return pointsTable(readText(io, points), points, io);
    }
    const question = readQuestion(values);
    io.write(flags.has("json") ? asJson(question) : asTable(question));
    return 0;
  } catch (error) {
    if (error instanceof UsageError) {
      io.writeError(`leeward gas: ${error.message}\nTry: leeward gas --help\n`);
      return 2;
    }
    if (error instanceof PhysicsError) {
      io.writeError(`leeward gas: ${error.message}\n`);
      return 1;
    }
    throw error;
  }
}

function readOptions(args: string[]): { values: Map<ValueOption, string>; flags: Set<string> } {
  const values = new Map<ValueOption, string>();
  const flags = new Set<string>();
  for (let k = 0; k < args.length; k++) {
    const [name = "", ...rest] = (args[k] ?? "").replace(/^--/, "").split("=");
    if (!(args[k] ?? "").startsWith("--")) {
      throw new UsageError(`"${args[k]}" is not an option; options start with --.`);
    }
    if (name === "json" || name === "help") {
      flags.add(name);
      continue;
    }
    const option = valueOptions.find((candidate) => candidate === name);
    if (option === undefined) {
      throw new UsageError(`--${name} is not an option of this command.`);
    }
    if (values.has(option)) {
      throw new UsageError(`--${name} is given twice.`);
    }
    const value = rest.length > 0 ? rest.join("=") : args[++k];
    if (value === undefined || value === "") {
      throw new UsageError(`--${name} needs a value.`);
    }
    values.set(option, value);
  }
  return { values, flags };
}

function readText(io: GasIo, path: string): string {
  try {
    return io.readFile(path);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new UsageError(`cannot read ${path} (${reason}). Check the path.`);
  }
}

type Question = Readonly<{
  mixture: Mixture;
  state: GasState;
  gaugePa: number;
  atmospherePa: number;
  litres: number | null;
}>;

function readQuestion(values: ReadonlyMap<ValueOption, string>): Question {
  const mixture = createMixture(readComposition(values));
  const altitudeM = values.has("altitude") ? readNumber(values, "altitude") : 0;
  const atmospherePa = atmosphericPressurePa(altitudeM);
  const pressure = onlyOne(values, ["bar", "psi", "kpa-abs"], "a pressure");
  const number = readNumber(values, pressure);
  const pressurePa =
    pressure === "kpa-abs"
      ? number * 1000
      : number * (pressure === "bar" ? 1e5 : PSI_PA) + atmospherePa;
  const scale = onlyOne(values, ["c", "f", "k"], "a temperature");
  const degrees = readNumber(values, scale);
  const temperatureK =
    scale === "k" ? degrees : (scale === "c" ? degrees : (degrees - 32) / 1.8) + CELSIUS_ZERO_K;
  const litres = values.has("litres") ? readNumber(values, "litres") : null;
  if (litres !== null && !(litres > 0)) {
    throw new UsageError(`--litres is ${litres}; a cylinder holds more than 0 L of water.`);
  }
  const state = mixture.state(pressurePa, temperatureK);
  if (!state.ok) {
    throw state.error;
  }
  return { mixture, state: state.value, gaugePa: pressurePa - atmospherePa, atmospherePa, litres };
}

function readComposition(values: ReadonlyMap<ValueOption, string>): Composition {
  const option = onlyOne(values, ["composition", "gas"], "a gas");
  const text = values.get(option) ?? "";
  if (option === "gas") {
    return compositionOf(text);
  }
  const fractions: Record<string, number> = {};
  for (const part of text.split(",")) {
    const [symbol = "", number = "", ...more] = part.split("=").map((piece) => piece.trim());
    if (!isGasSymbol(symbol)) {
      throw new UsageError(
        `"${symbol}" in --composition is not a gas; write Ar, CO2, He, N2, O2 or H2, as Ar=0.75.`,
      );
    }
    if (symbol in fractions) {
      throw new UsageError(`${symbol} stands twice in --composition.`);
    }
    if (more.length > 0 || Number.isNaN(decimal(number))) {
      throw new UsageError(`${symbol} in --composition needs a mole fraction, as ${symbol}=0.25.`);
    }
    fractions[symbol] = decimal(number);
  }
  return fractions;
}

function onlyOne<Name extends ValueOption>(
  values: ReadonlyMap<ValueOption, string>,
  names: readonly Name[],
  what: string,
): Name {
  const given = names.filter((name) => values.has(name));
  const [name] = given;
  if (name === undefined || given.length > 1) {
    const list = names.map((option) => `--${option}`).join(", ");
    throw new UsageError(`give ${what} with exactly one of ${list}.`);
  }
  return name;
}

function readNumber(values: ReadonlyMap<ValueOption, string>, option: ValueOption): number {
  const text = values.get(option) ?? "";
  const number = decimal(text);
  if (!Number.isFinite(number)) {
    throw new UsageError(`--${option} is "${text}"; give a number with a point, as 16.5.`);
  }
  return number;
}

/** Where the numbers need a caution; empty when there is none. */
function cautions({ mixture, state }: Question): string[] {
  const notes: string[] = [];
  if (!state.withinPublishedRange) {
    notes.push("Outside the equation's range of normal use (90 to 450 K, 35 MPa): less certain.");
  }
  const phase = gasPhase(mixture, state.pressurePa, state.temperatureK);
  if (isPure(mixture.composition, "CO2") && phase.ok && phase.value === "may-condense") {
    notes.push(
      "This is the vapour pressure of CO2: a cylinder may hold liquid, and then its pressure says nothing about its content. Weigh it. The values hold for the vapour.",
    );
  } else if (!phase.ok || phase.value === "may-condense") {
    notes.push("This gas may condense here; the values hold for the gas alone.");
  }
  return notes;
}

/** Viscosity at low pressure, Pa s; null where the correlations do not hold. */
function viscosity({ mixture, state }: Question): number | null {
  const { lowK, highK } = viscosityRange;
  return state.temperatureK >= lowK && state.temperatureK <= highK
    ? viscosityPaS(mixture.composition, state.temperatureK)
    : null;
}

/** A dew point as text. */
function degrees(point: Result<number | null>, what: string): string {
  if (!point.ok) {
    return point.error.message;
  }
  return point.value === null
    ? "none above -83 °C"
    : `${(point.value - CELSIUS_ZERO_K).toFixed(1)} °C: ${what}`;
}

function asJson(question: Question): string {
  const { mixture, state, gaugePa, atmospherePa, litres } = question;
  const dew = dewPointK(mixture, state.pressurePa);
  const cold = coldLimitK(mixture, state.pressurePa, state.temperatureK);
  return `${JSON.stringify(
    {
      composition: mixture.composition,
      designation: designationOf(mixture.composition),
      equation: "GERG-2008",
      molarMassKgPerMol: mixture.molarMassKgPerMol,
      gaugePressurePa: gaugePa,
      atmosphericPressurePa: atmospherePa,
      ...state,
      viscosityAtLowPressurePaS: viscosity(question),
      dewPointK: dew.ok ? dew.value : null,
      coldLimitK: cold.ok ? cold.value : null,
      standardDensityMolPerM3: Object.fromEntries(
        referenceNames.map((name) => [name, standardDensityMolPerM3(mixture, name)]),
      ),
      content:
        litres === null
          ? null
          : {
              waterVolumeM3: litres / 1000,
              mol: (state.densityMolPerM3 * litres) / 1000,
              kg: (state.densityKgPerM3 * litres) / 1000,
            },
      cautions: cautions(question),
    },
    null,
    2,
  )}\n`;
}

function asTable(question: Question): string {
  const { mixture, state, gaugePa, atmospherePa, litres } = question;
  const percent = (x: number): string => `${Number((100 * x).toPrecision(6))} %`;
  const gases = Object.entries(mixture.composition).map(([name, x]) => `${name} ${percent(x)}`);
  const perKg = 1 / mixture.molarMassKgPerMol;
  const thickness = viscosity(question);
  const rows: [string, string][] = [
    ["Gas", `${designationOf(mixture.composition)} (${gases.join(", ")})`],
    ["Pressure, gauge", `${(gaugePa / 1e5).toFixed(3)} bar = ${(gaugePa / PSI_PA).toFixed(1)} psi`],
    [
      "Pressure, absolute",
      `${(state.pressurePa / 1e5).toFixed(3)} bar (atmosphere ${(atmospherePa / 1e5).toFixed(5)} bar)`,
    ],
    [
      "Temperature",
      `${(state.temperatureK - CELSIUS_ZERO_K).toFixed(2)} °C = ${((state.temperatureK - CELSIUS_ZERO_K) * 1.8 + 32).toFixed(2)} °F`,
    ],
    ["Compressibility Z", state.compressibility.toFixed(6)],
    [
      "Density",
      `${state.densityKgPerM3.toPrecision(7)} kg/m³ = ${(state.densityMolPerM3 / 1000).toPrecision(7)} mol/L`,
    ],
    ["  its model uncertainty", `${(100 * state.densityRelativeSigma).toFixed(2)} % (1 sigma)`],
    ["Molar mass", `${(1000 * mixture.molarMassKgPerMol).toFixed(4)} g/mol`],
    ["Enthalpy", `${state.enthalpyJPerMol.toFixed(2)} J/mol`],
    ["Entropy", `${state.entropyJPerMolK.toFixed(4)} J/(mol K)`],
    [
      "cp",
      `${state.cpJPerMolK.toFixed(4)} J/(mol K) = ${(state.cpJPerMolK * perKg).toFixed(1)} J/(kg K)`,
    ],
    [
      "cv",
      `${state.cvJPerMolK.toFixed(4)} J/(mol K) = ${(state.cvJPerMolK * perKg).toFixed(1)} J/(kg K)`,
    ],
    ["Speed of sound", `${state.speedOfSoundMPerS.toFixed(2)} m/s`],
    ["Joule-Thomson", `${(state.jouleThomsonKPerPa * 1e5).toFixed(4)} K/bar`],
    [
      "Viscosity, low pressure",
      thickness === null
        ? `known from ${viscosityRange.lowK} to ${viscosityRange.highK} K only`
        : `${(thickness * 1e6).toFixed(2)} µPa s`,
    ],
    ["Dew point", degrees(dewPointK(mixture, state.pressurePa), "at this pressure")],
    [
      "  cooled in a closed cylinder",
      degrees(coldLimitK(mixture, state.pressurePa, state.temperatureK), "liquid may appear"),
    ],
    ...referenceNames.map((name): [string, string] => [
      `1 L in the cylinder holds`,
      `${(state.densityMolPerM3 / standardDensityMolPerM3(mixture, name)).toFixed(3)} L at ${referenceConditions[name].text} (${name})`,
    ]),
  ];
  if (litres !== null) {
    rows.push([
      `Content of ${litres} L`,
      `${((state.densityKgPerM3 * litres) / 1000).toFixed(3)} kg = ${((state.densityMolPerM3 / standardDensityMolPerM3(mixture, "trade")) * (litres / 1000)).toFixed(3)} m³ at ${referenceConditions.trade.text} = ${((state.densityMolPerM3 / standardDensityMolPerM3(mixture, "us")) * (litres / 1000 / CUBIC_FOOT_M3)).toFixed(1)} ft³ at ${referenceConditions.us.text}`,
    ]);
  }
  const width = Math.max(...rows.map(([label]) => label.length));
  const lines = rows.map(([label, value]) => `${label.padEnd(width)}  ${value}`);
  const notes = cautions(question).map((note) => `\nCaution: ${note}`);
  return `${lines.join("\n")}\n${notes.join("")}${notes.length > 0 ? "\n" : ""}`;
}
