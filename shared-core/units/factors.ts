/**
 * Exact conversion factors: SI value = number × factor (+ offset for temperatures).
 * Source of all: NIST SP 811 (key `nist-sp-811`); exact by definition unless said otherwise.
 */
export const factorsSource = "nist-sp-811";

const FOOT_M = 0.3048;
const INCH_M = 0.0254;
const POUND_KG = 0.453_592_37;
/** Standard acceleration of gravity, m/s². */
const GRAVITY = 9.806_65;

export const CUBIC_FOOT_M3 = FOOT_M ** 3;
/** Pound-force per square inch, Pa: 6894.757293... */
export const PSI_PA = (POUND_KG * GRAVITY) / INCH_M ** 2;
export const BAR_PA = 1e5;
export const ATMOSPHERE_PA = 101_325;
/** Conventional inch of mercury at 0 °C, Pa (13 595.1 kg/m³, given to 7 digits). */
export const INCH_OF_MERCURY_PA = 3386.389;
export const CELSIUS_ZERO_K = 273.15;
export const FAHRENHEIT_ZERO_K = CELSIUS_ZERO_K - 32 / 1.8;
/** Standard cubic feet per hour, m³/s (of gas at a reference that must be named). */
export const CFH_M3_PER_S = CUBIC_FOOT_M3 / 3600;
export const LITRE_PER_MINUTE_M3_PER_S = 1e-3 / 60;

export type QuantityKind =
  | "pressure"
  | "pressure-difference"
  | "temperature"
  | "flow"
  | "volume"
  | "mass"
  | "length";

/** A unit: its symbol as written, the spellings that parse accepts, and the way to SI. */
export type Unit = Readonly<{
  symbol: string;
  kind: QuantityKind;
  spellings: readonly string[];
  factor: number;
  /** SI value of the unit's zero; only temperatures have one. */
  offset: number;
  /** For pressures: what zero means. `either` where the unit itself does not say. */
  pressureType?: "gauge" | "absolute" | "either";
}>;

function unit(
  kind: QuantityKind,
  symbol: string,
  factor: number,
  spellings: readonly string[] = [],
  more: { offset?: number; pressureType?: "gauge" | "absolute" | "either" } = {},
): Unit {
  return { symbol, kind, spellings: [symbol, ...spellings], factor, offset: 0, ...more };
}

/** Every unit that can be read or written; symbols and spellings are unique within a kind. */
export const units = [
  unit("pressure", "Pa", 1, [], { pressureType: "either" }),
  unit("pressure", "kPa", 1e3, [], { pressureType: "either" }),
  unit("pressure", "MPa", 1e6, [], { pressureType: "either" }),
  unit("pressure", "bar", BAR_PA, ["Bar", "BAR"], { pressureType: "either" }),
  unit("pressure", "mbar", 100, ["hPa"], { pressureType: "either" }),
  unit("pressure", "barg", BAR_PA, ["bar(g)", "bar g"], { pressureType: "gauge" }),
  unit("pressure", "bara", BAR_PA, ["bar(a)", "bar abs", "bar a"], { pressureType: "absolute" }),
  unit("pressure", "psi", PSI_PA, ["PSI", "lbf/in²", "lbf/in2"], { pressureType: "either" }),
  unit("pressure", "psig", PSI_PA, ["PSIG", "psi(g)"], { pressureType: "gauge" }),
  unit("pressure", "psia", PSI_PA, ["PSIA", "psi(a)"], { pressureType: "absolute" }),
  unit("pressure", "atm", ATMOSPHERE_PA, [], { pressureType: "absolute" }),
  unit("pressure", "inHg", INCH_OF_MERCURY_PA, [], { pressureType: "either" }),
  unit("temperature", "K", 1),
  unit("temperature", "°C", 1, ["C", "degC", "℃"], { offset: CELSIUS_ZERO_K }),
  unit("temperature", "°F", 1 / 1.8, ["F", "degF", "℉"], { offset: FAHRENHEIT_ZERO_K }),
  unit("flow", "CFH", CFH_M3_PER_S, ["ft³/h", "ft3/h", "SCFH", "scfh", "cfh"]),
  unit("flow", "L/min", LITRE_PER_MINUTE_M3_PER_S, ["l/min", "lpm", "LPM"]),
  unit("flow", "L/h", 1e-3 / 3600, ["l/h"]),
  unit("flow", "m³/h", 1 / 3600, ["m3/h"]),
  unit("flow", "m³/s", 1, ["m3/s"]),
  unit("flow", "cm³/min", 1e-6 / 60, ["cm3/min", "mL/min", "ml/min"]),
  unit("volume", "ft³", CUBIC_FOOT_M3, ["ft3", "cu ft", "CF", "cf"]),
  unit("volume", "L", 1e-3, ["l", "litre", "liter"]),
  unit("volume", "mL", 1e-6, ["ml", "cm³", "cm3"]),
  unit("volume", "m³", 1, ["m3"]),
  unit("mass", "kg", 1),
  unit("mass", "g", 1e-3),
  unit("mass", "lb", POUND_KG, ["lbs"]),
  unit("length", "m", 1),
  unit("length", "mm", 1e-3),
  unit("length", "cm", 1e-2),
  unit("length", "in", INCH_M, ['"', "inch"]),
  unit("length", "ft", FOOT_M, ["'", "foot", "feet"]),
] as const satisfies readonly Unit[];
