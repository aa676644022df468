import { type Composition, isGasSymbol } from "@leeward/shared-core/gases/composition.ts";
import { compositionOf } from "@leeward/shared-core/gases/designations.ts";
import { CFH_M3_PER_S, LITRE_PER_MINUTE_M3_PER_S } from "@leeward/shared-core/units/factors.ts";
import { parseQuantity } from "@leeward/shared-core/units/quantity.ts";
import { referenceConditions } from "@leeward/shared-core/units/reference-conditions.ts";

/** A wrong command line: the text says what to do. */
export class UsageError extends Error {}

export const fitHelp = `leeward fit: what a regulator and flow device really give, from a bench test

Usage
  leeward fit --readings rows.csv --station station.json [--json]
              [--target FLOW] [--gas GAS] [--card card.pdf] [--save station.json]
              [--serial TEXT] [--meter TEXT] [--date YYYY-MM-DD] [--station-url URL]

Rows (CSV with a heading, commas, decimals with a point; lines that start with # are skipped)
  cylinder_bar    cylinder pressure, gauge bar          or cylinder_psi
  line_bar        line pressure, gauge bar, may be empty or line_psi
  indicated       what the scale showed, L/min (20 °C, 101.325 kPa)      or indicated_cfh
  true_lpm        what a calibrated meter showed, L/min (same), may be empty   or true_cfh
  true_u_percent  standard uncertainty of the meter (1 sigma), percent; half of an expanded (k = 2) one
  action          set: dialled for this row; left: nothing was touched; redialled: turned again
  CFH refers to 70 °F, 14.696 psia. Optional:
  true_reference  reference conditions of the meter: us, trade, iso, normal (0 °C), metric20
  meter_gas       gas the meter is calibrated for: Ar, or Ar=0.75 CO2=0.25
  ambient_c       gas temperature, °C         baro_kpa   barometer, kPa
  meter_drop_bar  pressure drop of the meter, bar

Options
  --target FLOW      true flow wanted, such as "8 L/min" or "18 CFH"; else from the procedure
  --gas GAS          Ar=0.75,CO2=0.25 or M21-ArC-25, for a station without a cylinder of its own
  --json             one JSON object instead of the tables
  --card FILE        a one-page PDF for the station: what to dial at each cylinder pressure
  --station-url URL  address behind the card's QR code
  --serial, --meter, --date   for the card and the saved fit
  --save FILE        the station with the fit in flowDevice.fit
  --help             this text

How to test: gas on, a calibrated meter at the torch (or in its place), one row at a full cylinder
set to the usual reading, then rows "left" as the cylinder empties and "redialled" when it is set
again; at least one row near empty. Shielding gas displaces air: ventilate, and keep out of
confined spaces. Local rules come first.

Ends with 0; with 1 where nothing could be fitted; with 2 for wrong usage or documents.
`;

const valueOptions = [
  "readings",
  "station",
  "target",
  "gas",
  "card",
  "save",
  "serial",
  "meter",
  "date",
  "station-url",
] as const;
export type FitOption = (typeof valueOptions)[number];

export interface FitArguments {
  values: ReadonlyMap<FitOption, string>;
  json: boolean;
  help: boolean;
}

/** @throws UsageError with what to do */
export function readFitArguments(args: readonly string[]): FitArguments {
  const values = new Map<FitOption, string>();
  let json = false;
  let help = false;
  for (let k = 0; k < args.length; k++) {
    const written = args[k] ?? "";
    if (!written.startsWith("--")) {
      throw new UsageError(`"${written}" is not an option; options start with --.`);
    }
    const [name = "", ...rest] = written.slice(2).split("=");
    if (name === "json" || name === "help") {
      json ||= name === "json";
      help ||= name === "help";
      continue;
    }
    const option = valueOptions.find((candidate) => candidate === name);
    if (option === undefined) throw new UsageError(`--${name} is not an option of this command.`);
    if (values.has(option)) throw new UsageError(`--${name} is given twice.`);
    const value = rest.length > 0 ? rest.join("=") : args[++k];
    if (value === undefined || value === "" || (rest.length === 0 && value.startsWith("--"))) {
      throw new UsageError(`--${name} needs a value.`);
    }
    values.set(option, value);
  }
  return { values, json, help };
}

/** A flow with its unit as `metric20` L/min. @throws UsageError */
export function targetLpm(text: string): number {
  const parsed = parseQuantity("flow", text);
  if (!parsed.ok) throw new UsageError(`--target: ${parsed.error.message}`);
  const m3PerS = parsed.value.value * parsed.value.unit.factor;
  const { us, metric20 } = referenceConditions;
  const imperial = parsed.value.unit.factor === CFH_M3_PER_S;
  const reference = imperial
    ? (us.pressurePa / metric20.pressurePa) * (metric20.temperatureK / us.temperatureK)
    : 1;
  const lpm = (m3PerS * reference) / LITRE_PER_MINUTE_M3_PER_S;
  if (!(lpm >= 0.5 && lpm <= 200)) {
    throw new UsageError(
      `--target is ${text}; a shielding gas flow lies between 0.5 and 200 L/min.`,
    );
  }
  return lpm;
}

/** Mole fractions or a designation. @throws UsageError */
export function gasOption(text: string): Composition {
  if (!text.includes("=")) {
    if (isGasSymbol(text)) return { [text]: 1 };
    try {
      return compositionOf(text);
    } catch (error) {
      throw new UsageError(`--gas: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  const fractions: Record<string, number> = {};
  for (const part of text.split(",")) {
    const [symbol = "", share = ""] = part.split("=").map((piece) => piece.trim());
    const fraction = Number(share);
    if (!isGasSymbol(symbol) || share === "" || !(fraction > 0 && fraction <= 1)) {
      throw new UsageError(`--gas is "${text}"; write Ar=0.75,CO2=0.25 or M21-ArC-25.`);
    }
    fractions[symbol] = fraction;
  }
  return fractions;
}

/** A date as written on the card. @throws UsageError */
export function dateOption(text: string): string {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text) || Number.isNaN(Date.parse(text))) {
    throw new UsageError(`--date is "${text}"; write it as 2026-11-25.`);
  }
  return text;
}
