import { PhysicsError, type Result, toResult } from "../errors.ts";
import { type QuantityKind, type Unit, units } from "./factors.ts";

/** A number with its unit, as a person wrote it. */
export type Quantity = Readonly<{ value: number; unit: Unit }>;

/** Decimal digits that are kept when a number in SI goes back to the user's unit. */
const DIGITS = 12;

/**
 * Reads `35 CFH`, `16.5 L/min`, `2200 psi`, `-10 °C`, `1,200 psi`.
 *
 * @param kind what is expected; a unit of another kind is refused, and so is a missing unit
 * @param text number, then unit. A comma is taken as a thousands separator only where three
 *   digits follow it (`2,200`); `16,5` is ambiguous and refused.
 */
export function parseQuantity(kind: QuantityKind, text: string): Result<Quantity> {
  return toResult(() => {
    const match = /^([+\-−]?(?:\d{1,3}(?:,\d{3})+|\d+)?(?:\.\d+)?(?:[eE][+-]?\d+)?)\s*(.*)$/.exec(
      text.trim(),
    );
    const [, digits = "", spelling = ""] = match ?? [];
    const value = digits === "" ? Number.NaN : Number(digits.replace(/,/g, "").replace("−", "-"));
    if (!Number.isFinite(value)) {
      throw new PhysicsError("UNIT_PARSE", kind, text, `write ${example(kind)}.`);
    }
    const unit = unitOf(kind, spelling);
    if (kind === "temperature" && toSi(value, unit) < -1e-9) {
      throw new PhysicsError("UNIT_PARSE", kind, text, "it lies below absolute zero.");
    }
    return { value, unit };
  });
}

/** The unit with this symbol or spelling. @throws PhysicsError `UNIT_PARSE` */
export function unitOf(kind: QuantityKind, spelling: string): Unit {
  const ofKind: readonly Unit[] = units.filter((unit) => unit.kind === lookupKind(kind));
  const found = ofKind.find((unit) => unit.spellings.includes(spelling));
  if (found === undefined) {
    const symbols = ofKind.map((unit) => unit.symbol).join(", ");
    throw new PhysicsError("UNIT_PARSE", `unit of ${kind}`, spelling, `use one of ${symbols}.`);
  }
  return found;
}

/** Reads a quantity and gives it in SI (Pa, K, m³/s, m³, kg, m). Gauge stays gauge. */
export function parseToSi(kind: QuantityKind, text: string): Result<number> {
  const parsed = parseQuantity(kind, text);
  return parsed.ok ? { ok: true, value: toSi(parsed.value.value, parsed.value.unit) } : parsed;
}

/** A number in `unit` as SI. */
export function toSi(value: number, unit: Unit): number {
  return value * unit.factor + unit.offset;
}

/** An SI value in `unit`, rounded to 12 digits so that 35 CFH comes back as 35. */
export function fromSi(si: number, unit: Unit): number {
  return Number(((si - unit.offset) / unit.factor).toPrecision(DIGITS));
}

/**
 * An SI value as text with its unit.
 *
 * @param decimals fixed number of decimals; when left out all digits are written, so that
 *   parsing the text gives the value back
 * @returns `no value` for what is no finite number, which parse refuses; never a minus zero
 */
export function formatQuantity(si: number, unit: Unit, decimals?: number): string {
  const value = fromSi(si, unit);
  if (!Number.isFinite(value)) {
    return "no value";
  }
  const number =
    decimals === undefined
      ? String(value)
      : value.toFixed(decimals).replace(/^-(0(?:\.0*)?)$/, "$1");
  return `${number} ${unit.symbol}`;
}

/** A pressure difference has the units of pressure; only its meaning differs. */
function lookupKind(kind: QuantityKind): QuantityKind {
  return kind === "pressure-difference" ? "pressure" : kind;
}

function example(kind: QuantityKind): string {
  switch (kind) {
    case "pressure":
    case "pressure-difference":
      return "a number and a unit, such as 2200 psi or 150 bar";
    case "temperature":
      return "a number and a unit, such as 70 °F or 20 °C";
    case "flow":
      return "a number and a unit, such as 35 CFH or 16.5 L/min";
    case "volume":
      return "a number and a unit, such as 50 L or 1.77 ft³";
    case "mass":
      return "a number and a unit, such as 20 lb or 10 kg";
    case "length":
      return "a number and a unit, such as 0.5 mm or 0.02 in";
  }
}
