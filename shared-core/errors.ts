/**
 * Errors of the physics in `shared-core`: gases, cylinders, flow, regulators, nozzle, units.
 *
 * Public functions that answer a question of a user return a `Result`; fast numeric paths throw
 * the same `PhysicsError`. Each error names the quantity, its value, the limit and the way out.
 */

/** All codes. A new one needs a row in docs/physics.md, "Errors". */
export const physicsErrorCodes = [
  /** A gas symbol the library does not know. */
  "GAS_UNKNOWN",
  /** A mole fraction that is negative, above 1 or not a number. */
  "GAS_FRACTION_RANGE",
  /** Mole fractions that do not add up to 1. */
  "GAS_FRACTION_SUM",
  /** A gas designation that does not follow ISO 14175. */
  "GAS_DESIGNATION",
  /** Temperature outside the range of the equation. */
  "GAS_TEMPERATURE_RANGE",
  /** Pressure outside the range of the equation. */
  "GAS_PRESSURE_RANGE",
  /** Density outside the range of the equation. */
  "GAS_DENSITY_RANGE",
  /** There is no vapour at this pressure and temperature: the fluid is liquid or two-phase. */
  "GAS_NOT_VAPOUR",
  /** The solver gave up within its bounded number of steps. */
  "GAS_NO_CONVERGENCE",
  /** Saturation asked for below the triple point or above the critical point. */
  "GAS_NO_SATURATION",
  /** A quantity of a cylinder, restriction, scale, regulator or room outside its limits. */
  "PHYSICS_RANGE",
  /** A text that cannot be read as a quantity with its unit. */
  "UNIT_PARSE",
] as const;

export type PhysicsErrorCode = (typeof physicsErrorCodes)[number];

/** What failed, where, and what to do. `message` is a full sentence that starts with the code. */
export class PhysicsError extends Error {
  readonly code: PhysicsErrorCode;
  /** Name of the offending quantity with its unit, e.g. `temperatureK`. */
  readonly quantity: string;
  /** The value as given. */
  readonly value: number | string;

  constructor(code: PhysicsErrorCode, quantity: string, value: number | string, remedy: string) {
    super(`${code}: ${quantity} is ${typeof value === "string" ? `"${value}"` : value}; ${remedy}`);
    this.name = "PhysicsError";
    this.code = code;
    this.quantity = quantity;
    this.value = value;
  }
}

/** An answer or the reason why there is none. */
export type Result<T> =
  | Readonly<{ ok: true; value: T }>
  | Readonly<{ ok: false; error: PhysicsError }>;

/** Runs `compute` and turns a thrown `PhysicsError` into a failed result; others pass through. */
export function toResult<T>(compute: () => T): Result<T> {
  try {
    return { ok: true, value: compute() };
  } catch (error) {
    if (error instanceof PhysicsError) {
      return { ok: false, error };
    }
    throw error;
  }
}

/** Throws `PHYSICS_RANGE` unless `low <= value <= high`; NaN never passes. Returns the value. */
export function requireWithin(quantity: string, value: number, low: number, high: number): number {
  if (!(value >= low && value <= high)) {
    throw new PhysicsError(
      "PHYSICS_RANGE",
      quantity,
      value,
      `it must lie between ${low} and ${high}.`,
    );
  }
  return value;
}
